"""Edits of sections: add, split, join, reorder, delete, duplicate, and what is said of them.

Conventions
-----------
- New ids and letters are the first free ones, so that the same edit gives the same lesson.
- The performed order and edited talking points follow: an entry for a section that goes, goes.
- ``join`` undoes ``split``: a gradual change of tempo is cut where the split falls, counted in
  written ticks, and is joined again where both halves make one line.
"""

from __future__ import annotations

from math import isclose, sqrt
from typing import Any

from msgspec.structs import replace

from chalkfret.edits import names
from chalkfret.edits.cue_places import moved, with_cues
from chalkfret.edits.draft import settled
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import check_section
from chalkfret.edits.repeats import repeats_of
from chalkfret.edits.replacing import updated, with_section
from chalkfret.edits.values import checked, fresh, obey, with_fields
from chalkfret.model import (
    Bar,
    BarHead,
    Bars,
    Cue,
    Lesson,
    LessonHead,
    Performed,
    Place,
    Section,
    SectionHead,
    Tempo,
    TempoShape,
    Where,
)
from chalkfret.model.limits import SECTIONS_MAX
from chalkfret.model.start import empty_bar


def add(
    lesson: Lesson, at: int | None = None, head: SectionHead | None = None, bars: int = 4
) -> Lesson:
    """A new section of empty bars before section ``at`` (None: at the end).

    Without a head it has the next letter, and the tempo, swing, key and meter of the section
    before it.
    """
    at = len(lesson.sections) if at is None else at
    if not 0 <= at <= len(lesson.sections) or bars < 1:
        raise refuse("no_such_place")
    beside = lesson.sections[max(0, at - 1)]
    if head is None:
        head = SectionHead(names.letter(lesson), "", _flat(beside.head.tempo),
                           swing=beside.head.swing, key=beside.head.key)  # fmt: skip
    old = beside.bars[len(beside.bars) - 1].head
    bar = empty_bar(len(lesson.parts), BarHead(meter=old.meter, grouping=old.grouping))
    new = Section(names.section_id(lesson), fresh(head, SectionHead), Bars.of([bar] * bars))
    return obey(_put(lesson, at, new))


def _flat(tempo: Tempo) -> Tempo:
    """A steady tempo that goes on from where another ends."""
    return tempo if tempo.end is None else replace(tempo, start=tempo.end, end=None)


def _put(lesson: Lesson, at: int, section: Section) -> Lesson:
    if len(lesson.sections) >= SECTIONS_MAX:
        raise refuse("sections_max", most=SECTIONS_MAX)
    sections = (*lesson.sections[:at], section, *lesson.sections[at:])
    return settled(replace(lesson, sections=sections), at, at + 1)


def duplicate(lesson: Lesson, section: int) -> Lesson:
    """A copy of a section right behind it, with its own id, letter and cue ids."""
    check_section(lesson, section)
    found = lesson.sections[section]
    ids = names.cue_ids(lesson)
    cues = (replace(cue, id=next(ids)) for cue in found.head.cues)
    head = with_cues(replace(found.head, letter=names.letter(lesson)), cues)
    copy = replace(found, id=names.section_id(lesson), head=head)
    return _put(lesson, section + 1, copy)


def delete(lesson: Lesson, section: int) -> Lesson:
    """Take a section out; the last one stays."""
    check_section(lesson, section)
    if len(lesson.sections) == 1:
        raise refuse("last_section", Where(lesson.sections[section].head.letter))
    gone = lesson.sections[section].id
    head = lesson.head
    order = tuple(entry for entry in head.order if entry.section != gone)
    points = tuple(point for point in head.talking_points if point.section != gone)
    if (order, points) != (head.order, head.talking_points):
        head = replace(head, order=order, talking_points=points)
    sections = (*lesson.sections[:section], *lesson.sections[section + 1 :])
    return settled(replace(lesson, head=head, sections=sections), section)


def reorder(lesson: Lesson, section: int, to: int) -> Lesson:
    """Move a section to another place; letters and the performed order stay with it."""
    check_section(lesson, section)
    check_section(lesson, to)
    if section == to:
        return lesson
    order = [s for index, s in enumerate(lesson.sections) if index != section]
    order.insert(to, lesson.sections[section])
    low, high = sorted((section, to))
    return settled(replace(lesson, sections=tuple(order)), low, low + 1, high, high + 1)


def set_head(lesson: Lesson, section: int, **fields: Any) -> Lesson:
    """Set any fields of a section's head but its cues: ``set_head(lesson, 0, times=2)``."""
    check_section(lesson, section)
    found = lesson.sections[section]
    where = Where(found.head.letter)
    if "cues" in fields:
        raise refuse("value_refused", where, field="cues", value="")
    head = with_fields(found.head, fields, SectionHead, where)
    if head is found.head:
        return lesson
    after = obey(with_section(lesson, section, replace(found, head=head)))
    return settled(after, section) if head.times != found.head.times else after


# Split


def split(lesson: Lesson, section: int, bar: int) -> Lesson:
    """Let a new section begin at a bar; both halves keep what is said of the section.

    The first keeps id, letter and the teacher's notes, the second takes over the pause. A cue that
    sounds across is cut in two. In the performed order the halves follow one another.
    """
    check_section(lesson, section)
    found = lesson.sections[section]
    bars = found.bars
    if not 0 < bar < len(bars):
        raise refuse("no_such_place", Where(found.head.letter))
    if len(lesson.sections) >= SECTIONS_MAX:
        raise refuse("sections_max", most=SECTIONS_MAX)
    for repeat in repeats_of(bars):
        if repeat.first < bar <= repeat.end:
            raise refuse("split_in_repeat", Where(found.head.letter, bar + 1),
                         first=repeat.first + 1, last=repeat.end + 1)  # fmt: skip
    head = found.head
    tempos = _split_tempo(head.tempo, _share(bars, bar))
    mine, theirs = _split_cues(lesson, head.cues, bar)
    first = updated(head, tempo=tempos[0], cues=mine, pause_s=0.0)
    second = replace(head, letter=names.letter(lesson), tempo=tempos[1], cues=theirs, notes="")
    behind = Section(names.section_id(lesson), second, Bars.of(bars.slice(bar, len(bars))))
    before = replace(found, head=first, bars=bars.splice(bar, len(bars), ()))
    sections = (*lesson.sections[:section], before, behind, *lesson.sections[section + 1 :])
    head_now = _split_order(lesson.head, found.id, behind.id)
    after = replace(lesson, head=head_now, sections=sections)
    return settled(after, section, section + 1)


def _share(bars: Bars, bar: int) -> float:
    """How much of a section's written time lies before a bar, 0 to 1."""
    ticks = [b.head.ticks for b in bars]
    return sum(ticks[:bar]) / sum(ticks)


def _split_tempo(tempo: Tempo, share: float) -> tuple[Tempo, Tempo]:
    """The tempo before and behind a place that lies at a share of the section's time."""
    if tempo.end is None:
        return tempo, tempo
    middle = _tempo_at(tempo, tempo.end, share)
    return replace(tempo, end=middle), replace(tempo, start=middle)


def _tempo_at(tempo: Tempo, end: float, share: float) -> float:
    """The tempo at a share of the beats of a gradual change to ``end``.

    Over the beats it runs in a straight line; over time its square does, since the beats gone by
    are the integral of a tempo that rises evenly with the clock.
    """
    if tempo.shape is TempoShape.OVER_TIME:
        return sqrt(tempo.start**2 + (end**2 - tempo.start**2) * share)
    return tempo.start + (end - tempo.start) * share


def _split_cues(
    lesson: Lesson, cues: tuple[Cue, ...], bar: int
) -> tuple[tuple[Cue, ...], tuple[Cue, ...]]:
    ids = names.cue_ids(lesson)
    line = Place(bar, 0)
    mine, theirs = [], []
    for cue in cues:
        end = cue.end
        if cue.start >= line:
            after = None if end is None else _back_by(end, bar)
            theirs.append(moved(cue, _back_by(cue.start, bar), after))
        elif end is not None and end <= line:
            mine.append(cue)
        else:
            mine.append(replace(cue, end=None))
            rest = None if end is None else _back_by(end, bar)
            theirs.append(replace(cue, id=next(ids), start=Place(0, 0), end=rest))
    return tuple(mine), tuple(theirs)


def _back_by(place: Place, bars: int) -> Place:
    return Place(place.bar - bars, place.tick)


def _split_order(head: LessonHead, old: str, new: str) -> LessonHead:
    """Each entry for the section becomes one for both halves; its times alternate."""
    order: list[Performed] = []
    for entry in head.order:
        if entry.section != old:
            order.append(entry)
            continue
        for time in range(entry.times):
            talk = entry.talk_s if time == 0 else 0.0
            order += [Performed(old, 1, talk), Performed(new, 1)]
    return with_fields(head, {"order": tuple(order)}, LessonHead)


# Join


def join(lesson: Lesson, section: int, *, keep_first: bool = False) -> Lesson:
    """Make a section and the next one a single section, with the first one's id and letter.

    Refused where they differ in what a section has one of (tempo, swing, key, retunings, times, a
    pause between them); with ``keep_first`` the first one's hold for both.
    """
    check_section(lesson, section)
    if section + 1 == len(lesson.sections):
        raise refuse("no_section_after", Where(lesson.sections[section].head.letter))
    one, two = lesson.sections[section], lesson.sections[section + 1]
    share = _share(Bars.of((*one.bars, *two.bars)), len(one.bars))
    tempo = _joined_tempo(one.head.tempo, two.head.tempo, share)
    if not keep_first:
        _refuse_differences(one, two, tempo)
    notes = "\n\n".join(text for text in (one.head.notes, two.head.notes) if text)
    head = updated(
        one.head,
        tempo=tempo or one.head.tempo,
        pause_s=two.head.pause_s,
        notes=notes,
        cues=_joined_cues(one, two),
        name=one.head.name or two.head.name,
    )
    checked(head, SectionHead, Where(one.head.letter))
    bars = one.bars.splice(len(one.bars), len(one.bars), _with_open(two.bars))
    joined = replace(one, head=head, bars=bars)
    sections = (*lesson.sections[:section], joined, *lesson.sections[section + 2 :])
    after = replace(lesson, head=_joined_order(lesson.head, one.id, two.id), sections=sections)
    return settled(after, section)


def _refuse_differences(one: Section, two: Section, tempo: Tempo | None) -> None:
    a, b = one.head, two.head
    same = {
        "tempo": tempo is not None,
        "swing": a.swing == b.swing,
        "times": a.times == b.times == 1,
        "pause": a.pause_s == 0,
        "key": a.key == b.key,
        "shape_key": a.shape_key == b.shape_key,
        "retunes": set(a.retunes) == set(b.retunes),
    }
    for what, equal in same.items():
        if not equal:
            raise refuse("join_differs", Where(b.letter), what=what)


def _joined_tempo(one: Tempo, two: Tempo, share: float) -> Tempo | None:
    """The one tempo of both, or None where they make no single line."""
    if (one.end is None) != (two.end is None) or one.unit != two.unit:
        return None
    if one.end is None or two.end is None:
        return one if one.start == two.start else None
    whole = replace(one, end=two.end)
    middle = _tempo_at(whole, two.end, share)
    on_the_line = isclose(one.end, middle, rel_tol=1e-9) and isclose(
        two.start, middle, rel_tol=1e-9
    )
    return whole if one.shape is two.shape and on_the_line else None


def _joined_cues(one: Section, two: Section) -> tuple[Cue, ...]:
    """The cues of both; one that only went on over the line is whole again."""
    at = len(one.bars)
    behind = [
        replace(
            cue,
            start=_back_by(cue.start, -at),
            end=None if cue.end is None else _back_by(cue.end, -at),
        )
        for cue in two.head.cues
    ]
    line = Place(at, 0)
    cues = []
    for cue in one.head.cues:
        if cue.end is None:
            rest = next((c for c in behind if c.start == line and _same_effect(c, cue)), None)
            if rest is not None:
                behind.remove(rest)
            cue = replace(cue, end=line if rest is None else rest.end)
        cues.append(cue)
    return (*cues, *behind)


def _same_effect(one: Cue, two: Cue) -> bool:
    return (one.label, one.kind, one.part, one.settings) == (
        two.label, two.kind, two.part, two.settings,
    )  # fmt: skip


def _with_open(bars: Bars) -> tuple[Bar, ...]:
    """A section's bars, a repeat from its start written with its open sign."""
    run = tuple(bars)
    if any(repeat.first == 0 for repeat in repeats_of(bars)) and not run[0].head.repeat_open:
        run = (replace(run[0], head=replace(run[0].head, repeat_open=True)), *run[1:])
    return run


def _joined_order(head: LessonHead, one: str, two: str) -> LessonHead:
    """Entries for the second section become the first's, but right behind the first's own."""
    order: list[Performed] = []
    partner: Performed | None = None  # an entry for the first section that waits for its second
    for entry in head.order:
        if entry.section == two and partner is not None and partner.times == entry.times:
            partner = None
            continue
        partner = entry if entry.section == one else None
        order.append(replace(entry, section=one) if entry.section == two else entry)
    points = tuple(
        replace(point, section=one) if point.section == two else point
        for point in head.talking_points
    )
    if tuple(order) == head.order and points == head.talking_points:
        return head
    return replace(head, order=tuple(order), talking_points=points)
