"""Edits of bars: insert, delete, duplicate, their steps, wishes and pauses.

Conventions
-----------
- Bars are indices from 0 within their section. Cues keep their music. Where bars come or go, a tie
  that lost the note it came from is taken off, and the note is struck anew.
- Meter, pickup and grouping are in ``edits.meters``, repeats and endings in ``edits.repeats``.
"""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from chalkfret.edits import cue_places, repeats
from chalkfret.edits.draft import settled
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import check_bars, check_section
from chalkfret.edits.replacing import with_section
from chalkfret.edits.values import obey_bar
from chalkfret.model import Bar, BarHead, Lesson, Pause, Where
from chalkfret.model.meter import usual_steps
from chalkfret.model.start import empty_bar


def insert(lesson: Lesson, section: int, at: int, count: int = 1) -> Lesson:
    """Put empty bars before bar ``at`` (the number of bars: at the end), like their neighbours.

    They have the meter and steps of the bar before; inside an ending they belong to it.
    """
    check_section(lesson, section)
    bars = lesson.sections[section].bars
    if count < 1 or not 0 <= at <= len(bars):
        raise refuse("no_such_place", Where(lesson.sections[section].head.letter))
    beside = bars[max(0, at - 1)].head
    inside = 0 < at < len(bars) and bars[at].head.passes == beside.passes
    head = _plain(beside, beside.passes if inside else ())
    return put_bars(lesson, section, at, (empty_bar(len(lesson.parts), head),) * count)


def append_empty(lesson: Lesson, section: int, ticks: int) -> Lesson:
    """Add empty bars at the section's end until they hold so many ticks."""
    bars = lesson.sections[section].bars
    head = _plain(bars[len(bars) - 1].head)
    return insert(lesson, section, len(bars), -(-ticks // head.ticks))


def _plain(head: BarHead, passes: tuple[int, ...] = ()) -> BarHead:
    """The head of an empty bar beside one with ``head``."""
    whole = BarHead(meter=head.meter, grouping=head.grouping, passes=passes)
    return replace(whole, steps=head.steps) if head.beats == whole.beats else whole


def put_bars(lesson: Lesson, section: int, at: int, bars: tuple[Bar, ...]) -> Lesson:
    """Put bars before bar ``at``; cues move on, ties at the seams are looked after."""
    found = lesson.sections[section]
    head = cue_places.after_insert(found.head, at, len(bars))
    run = found.bars.splice(at, at, bars)
    return settled(with_section(lesson, section, replace(found, head=head, bars=run)), section)


def delete(lesson: Lesson, section: int, start: int, count: int = 1) -> Lesson:
    """Take bars out. Repeat signs that lose their bar move to the one beside it."""
    check_bars(lesson, section, start, count)
    found = lesson.sections[section]
    left = len(found.bars) - count
    if not left:
        raise refuse("last_bars", Where(found.head.letter))
    kept = repeats.without(found.bars, start, count)
    head = cue_places.after_delete(found.head, start, count, left)
    run = kept.splice(start, start + count, ())
    after = with_section(lesson, section, replace(found, head=head, bars=run))
    return settled(after, section)


def set_count(lesson: Lesson, section: int, count: int) -> Lesson:
    """Give a section so many bars: empty ones come at its end, or go from there.

    A bar that holds notes, or in which a cue starts, never goes: CannotEdit names it.
    """
    check_section(lesson, section)
    found = lesson.sections[section]
    have = len(found.bars)
    if count >= have:
        return insert(lesson, section, have, count - have) if count > have else lesson
    letter = found.head.letter
    for index in reversed(range(max(0, count), have)):
        if any(found.bars[index].notes):
            raise refuse("bar_holds_notes", Where(letter, index + 1))
        for cue in found.head.cues:
            if cue.start.bar == index:
                raise refuse("bar_holds_cue", Where(letter, index + 1), label=cue.label)
    return delete(lesson, section, max(0, count), have - max(0, count))


def duplicate(lesson: Lesson, section: int, start: int, count: int = 1, times: int = 1) -> Lesson:
    """Put copies of bars right behind them. Repeats and endings come along only when whole."""
    check_bars(lesson, section, start, count)
    if times < 1:
        return lesson
    bars = repeats.whole(lesson.sections[section].bars, start, count)
    return put_bars(lesson, section, start + count, bars * times)


def set_head(lesson: Lesson, section: int, start: int, count: int = 1, **fields: Any) -> Lesson:
    """Set fields of bars' heads that touch no note: ``grouping``, ``steps``, ``pauses``,
    ``simile``, ``join_rests``, ``break_after``.
    """
    check_bars(lesson, section, start, count)
    where = Where(lesson.sections[section].head.letter, start + 1)
    for name, value in fields.items():
        if name not in _FREE_FIELDS:
            raise refuse("value_refused", where, field=name, value=str(value)[:60])
    if "pauses" in fields:
        fields = {**fields, "pauses": tuple(sorted(fields["pauses"], key=pause_tick))}
    changed = {}
    for index in range(start, start + count):
        bar = lesson.sections[section].bars[index]
        head = replace(bar.head, **fields)
        if head.grouping != bar.head.grouping and "steps" not in fields:
            head = replace(head, steps=())  # they were cut for other beats
        if head != bar.head:
            changed[index] = replace(bar, head=obey_bar(lesson, section, index, head))
    found = lesson.sections[section]
    return with_section(lesson, section, replace(found, bars=found.bars.with_bars(changed)))


_FREE_FIELDS = ("grouping", "steps", "pauses", "simile", "join_rests", "break_after")


def pause_tick(pause: Pause) -> int:
    """Where a pause stands, to sort by."""
    return pause.tick


def set_steps(
    lesson: Lesson, section: int, bar: int, steps: int, *, beat: int | None = None, count: int = 1
) -> Lesson:
    """Cut a beat of a bar (None: all beats) into so many steps; notes never change.

    With ``count`` the same beat of so many bars.
    """
    check_bars(lesson, section, bar, count)
    letter = lesson.sections[section].head.letter
    changed = {}
    for index in range(bar, bar + count):
        found = lesson.sections[section].bars[index]
        beats = found.head.beats
        if beat is not None and not 0 <= beat < len(beats):
            raise refuse("no_such_place", Where(letter, index + 1))
        now = list(found.head.steps or map(usual_steps, beats))
        for at in range(len(beats)) if beat is None else (beat,):
            now[at] = steps
        new = () if now == [usual_steps(length) for length in beats] else tuple(now)
        if new != found.head.steps:
            head = obey_bar(lesson, section, index, replace(found.head, steps=new))
            changed[index] = replace(found, head=head)
    now_section = lesson.sections[section]
    new_bars = now_section.bars.with_bars(changed)
    return with_section(lesson, section, replace(now_section, bars=new_bars))
