"""Edits of cues: effects that go on and off at their beat."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from chalkfret.edits import names
from chalkfret.edits.cue_places import with_cues
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import check_section
from chalkfret.edits.replacing import with_section
from chalkfret.edits.values import checked, fresh, obey, with_fields
from chalkfret.model import Cue, CueKind, Lesson, Place, SectionHead, Setting, Where
from chalkfret.model.knobs import knob_of


def cue_of(lesson: Lesson, cue_id: str) -> tuple[int, Cue]:
    """The section in which a cue stands, and the cue; CannotEdit where there is none."""
    for index, section in enumerate(lesson.sections):
        for cue in section.head.cues:
            if cue.id == cue_id:
                return index, cue
    raise refuse("no_such_cue", id=cue_id)


def add(
    lesson: Lesson,
    section: int,
    label: str,
    kind: CueKind,
    start: Place,
    end: Place | None = None,
    *,
    part: str | None = None,
    settings: tuple[Setting, ...] = (),
) -> Lesson:
    """A new cue from ``start`` to ``end`` (None: the section's end), for a part's id or all."""
    check_section(lesson, section)
    cue_id = next(names.cue_ids(lesson))
    cue = fresh(Cue(cue_id, label, kind, start, end, part, settings), Cue, _where(lesson, section))
    return _placed(lesson, section, cue)


def change(lesson: Lesson, cue_id: str, **fields: Any) -> Lesson:
    """Set fields of a cue: ``label``, ``kind``, ``start``, ``end``, ``part``, ``settings``.

    Another kind keeps the settings of knobs that it has too, in the same unit and bounds.
    """
    section, cue = cue_of(lesson, cue_id)
    kind = fields.get("kind", cue.kind)
    if kind != cue.kind and "settings" not in fields:
        fields["settings"] = tuple(s for s in cue.settings if _carries_over(s, cue.kind, kind))
    if "id" in fields:
        raise refuse("value_refused", _where(lesson, section), field="id", value=str(fields["id"]))
    new = with_fields(cue, fields, Cue, _where(lesson, section))
    return lesson if new is cue else _placed(lesson, section, new)


def move(lesson: Lesson, cue_id: str, start: Place, section: int | None = None) -> Lesson:
    """Move a cue to another start, maybe in another section; it stays as many bars and ticks long.

    An end that would lie beyond the section becomes the section's end.
    """
    home, cue = cue_of(lesson, cue_id)
    to = home if section is None else section
    check_section(lesson, to)
    end = cue.end
    if end is not None:
        bars = lesson.sections[to].bars
        index = start.bar + end.bar - cue.start.bar
        tick = start.tick + end.tick - cue.start.tick
        while tick < 0 and 0 < index <= len(bars):
            index -= 1
            tick += bars[index].head.ticks
        while 0 <= index < len(bars) and tick > bars[index].head.ticks:
            tick -= bars[index].head.ticks
            index += 1
        end = None if index >= len(bars) else Place(index, max(0, tick))
    new = replace(cue, start=start, end=end)
    if new == cue and to == home:
        return lesson
    taken = lesson if to == home else remove(lesson, cue_id)
    return _placed(taken, to, new)


def remove(lesson: Lesson, cue_id: str) -> Lesson:
    """Take a cue away."""
    section, cue = cue_of(lesson, cue_id)
    found = lesson.sections[section]
    head = with_cues(found.head, (c for c in found.head.cues if c is not cue))
    return with_section(lesson, section, replace(found, head=head))


def _placed(lesson: Lesson, section: int, cue: Cue) -> Lesson:
    """The lesson with the cue in its section, in the place of one with its id, or as the last."""
    found = lesson.sections[section]
    bars = len(found.bars)
    for place in (cue.start, cue.end):
        if place is not None and not _lies_in(lesson, section, place):
            raise refuse("cue_beyond_section", _where(lesson, section), bars=bars)
    cues = found.head.cues
    if any(c.id == cue.id for c in cues):
        cues = tuple(cue if c.id == cue.id else c for c in cues)
    else:
        cues = (*cues, cue)
    head = checked(replace(found.head, cues=cues), SectionHead, _where(lesson, section))
    return obey(with_section(lesson, section, replace(found, head=head)))


def _carries_over(setting: Setting, old: CueKind, new: CueKind) -> bool:
    before, after = knob_of(old, setting.name), knob_of(new, setting.name)
    if before is None or after is None or before.unit is not after.unit:
        return False
    return after.low <= setting.value <= after.high


def _lies_in(lesson: Lesson, section: int, place: Place) -> bool:
    bars = lesson.sections[section].bars
    if place.bar == len(bars):
        return place.tick == 0
    return 0 <= place.bar < len(bars) and 0 <= place.tick <= bars[place.bar].head.ticks


def _where(lesson: Lesson, section: int) -> Where:
    return Where(lesson.sections[section].head.letter)
