"""Gestures of the grid that are more than one edit: repeat what was just written, fill, write into
several parts, lengths over a span.

Conventions are those of ``edits.selection`` and ``edits.notes``.
"""

from __future__ import annotations

from bisect import bisect_right
from fractions import Fraction

from msgspec.structs import replace

from chalkfret.edits.bars import insert
from chalkfret.edits.draft import same_where_equal
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import set_fret, set_length, sound_length
from chalkfret.edits.place import Moment, Span, Spot, check_bars, check_span
from chalkfret.edits.selection import bars_span, copy, paste, sounds
from chalkfret.model import Lesson, Where


def write_into(lesson: Lesson, spots: tuple[Spot, ...], fret: int, length: int) -> Lesson:
    """Write the same fret at several cells: a chord over strings, or into several parts at once."""
    after = lesson
    for spot in spots:
        after = set_fret(after, spot, fret, length)
    return same_where_equal(lesson, after)


def beat_span(lesson: Lesson, section: int, bar: int, tick: int, parts: tuple[int, ...]) -> Span:
    """The span of the beat in which a tick lies."""
    check_bars(lesson, section, bar, 1)
    head = lesson.sections[section].bars[bar].head
    starts = head.beat_starts
    index = max(0, bisect_right(starts, tick) - 1)
    start = starts[index]
    return Span(Moment(section, bar, start), Moment(section, bar, start + head.beats[index]), parts)


def repeat_span(
    lesson: Lesson, span: Span, times: int = 1, frets: int = 0, *, grow: bool = True
) -> Lesson:
    """Write a span again right behind itself, also shifted along the neck.

    The span must lie in one section; at the section's end it gets the bars it needs.
    """
    if span.start.section != span.end.section:
        raise refuse("no_such_place")
    clip = copy(lesson, span)
    section, end = span.start.section, span.end
    run = lesson.sections[section].bars
    if end.bar < len(run) and end.tick == run[end.bar].head.ticks:
        end = Moment(section, end.bar + 1, 0)
    after = lesson
    if end.bar == len(run):
        if not grow:
            raise refuse("beyond_section", Where(lesson.sections[section].head.letter, len(run)),
                         ticks=clip.length * times)  # fmt: skip
        after = insert(after, section, len(run))
    for part, taken in zip(span.parts, clip.parts, strict=True):
        spot = Spot(section, end.bar, part, end.tick, 1)
        one = replace(clip, parts=(taken,))
        after = paste(after, spot, one, times, frets, grow=grow)
    return same_where_equal(lesson, after)


def repeat_bar(
    lesson: Lesson, section: int, bar: int, parts: tuple[int, ...], count: int = 1, frets: int = 0
) -> Lesson:
    """Write the ``count`` bars that end with ``bar`` again into the next ones."""
    check_bars(lesson, section, bar - count + 1, count)
    return repeat_span(lesson, bars_span(lesson, section, bar - count + 1, count, parts),
                       frets=frets)  # fmt: skip


def fill(lesson: Lesson, span: Span) -> Lesson:
    """Write a span again and again up to the end of the bar in which it ends.

    What no longer fits whole is cut at the bar line.
    """
    if span.start.section != span.end.section or not span.end.tick:
        return lesson
    section, bar, tick = span.end.section, span.end.bar, span.end.tick
    left = lesson.sections[section].bars[bar].head.ticks - tick
    clip = copy(lesson, span)
    after = lesson
    while left > 0:
        size = min(left, clip.length)
        for part, taken in zip(span.parts, clip.parts, strict=True):
            notes = tuple(
                replace(n, note=replace(n.note, length=min(n.note.length, size - n.at)))
                for n in taken.notes
                if n.at < size
            )
            piece = replace(clip, length=size, parts=(replace(taken, notes=notes),))
            after = paste(after, Spot(section, bar, part, tick, 1), piece)
        tick += size
        left -= size
    return same_where_equal(lesson, after)


def scale_lengths(lesson: Lesson, span: Span, factor: Fraction) -> Lesson:
    """Make the sounds struck in a span so many times as long (2: double, 1/2: half).

    Where they start stays; a longer one stops at the next note on its string, and a length is
    never below one tick.
    """
    if factor <= 0:
        raise refuse("length_range", length=0)
    check_span(lesson, span)
    after = lesson
    for part, stretch, phrase in sounds(lesson, span):
        note = phrase[0][1]
        spot = Spot(stretch.section, stretch.bar, part, note.onset, note.course)
        length = sound_length(after, spot)
        after = set_length(after, spot, max(1, int(length * factor)))
    return same_where_equal(lesson, after)
