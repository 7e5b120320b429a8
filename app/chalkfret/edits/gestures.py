"""Gestures of the grid that are more than one edit: repeat what was just written, fill, write into
several parts, lengths over a span.

Conventions are those of ``edits.selection`` and ``edits.notes``.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec.structs import replace

from chalkfret.edits.bars import insert, set_steps
from chalkfret.edits.draft import Draft, same_where_equal
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import note_at, set_fret, set_length, set_voice, sound_length
from chalkfret.edits.place import Moment, Span, Spot, check_bars, check_span
from chalkfret.edits.selection import bars_span, copy, paste, sounds
from chalkfret.model import BarHead, Lesson, Where


def write_chord(lesson: Lesson, frets: Mapping[Spot, int], length: int, voice: int = 0) -> Lesson:
    """Write frets at several cells: a chord over strings, or the same into several parts at once.

    A note that already starts in a cell keeps its length and voice.
    """
    after = lesson
    for spot, fret in frets.items():
        is_new = bool(voice) and note_at(after, spot) is None
        after = set_fret(after, spot, fret, length)
        if is_new:
            after = set_voice(after, spot, voice)
    return same_where_equal(lesson, after)


def cut_beat(lesson: Lesson, section: int, bar: int, beat: int, count: int) -> Lesson:
    """Cut a beat into so many steps.

    Where its notes follow one another from its beginning, a step each, do not fill it and would
    stand off the new steps, each gets the new step of its number; else notes stay as they are.
    """
    after = set_steps(lesson, section, bar, count, beat=beat)
    was, now = (one.sections[section].bars[bar] for one in (lesson, after))
    if now is was:
        return lesson
    start, length = was.head.beat_starts[beat], was.head.beats[beat]
    old = [span for span in was.head.step_spans if start <= span[0] < start + length]
    new = [span for span in now.head.step_spans if start <= span[0] < start + length]
    if len(new) % len(old) == 0:
        return after  # every note keeps its place on a step
    draft = Draft(after)
    for part, notes in enumerate(was.notes):
        inside = [note for note in notes if note.onset < start + length and note.end > start]
        onsets = [onset for onset, _ in old[: len({note.onset for note in inside})]]
        begun = sorted({note.onset for note in inside}) == onsets and len(onsets) < len(old)
        fits = len(onsets) <= len(new)
        if not (begun and fits) or any((n.onset, n.length) not in old for n in inside):
            continue
        moved = {(onset, step): new[at] for at, (onset, step) in enumerate(old[: len(onsets)])}
        draft.put(section, bar, part, tuple(
            note if note not in inside else replace(
                note, onset=moved[note.onset, note.length][0],
                length=moved[note.onset, note.length][1])
            for note in notes
        ))  # fmt: skip
    return draft.done()


def on_new_steps(before: BarHead, after: BarHead, onsets: Sequence[int]) -> list[int]:
    """Where ``cut_beat`` put what stood at these onsets on steps of a bar."""
    if len(before.step_spans) == len(after.step_spans):
        return list(onsets)
    found = []
    for onset in onsets:
        beat = max(at for at, start in enumerate(before.beat_starts) if start <= onset)
        start, end = before.beat_starts[beat], before.beat_starts[beat] + before.beats[beat]
        old = [tick for tick, _ in before.step_spans if start <= tick < end]
        new = [tick for tick, _ in after.step_spans if start <= tick < end]
        fits = len(new) % len(old) == 0 or onset not in old or old.index(onset) >= len(new)
        found.append(onset if fits else new[old.index(onset)])
    return found


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
