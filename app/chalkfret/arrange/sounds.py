"""What a part plays, sound by sound, in the order in which it is written.

Conventions
-----------
- A *run* is the bars of some sections in a row, as written: repeats are not unrolled. ``bar``
  counts in the run, ticks and seconds count from its beginning; a bar lasts as long as when it is
  first played, and one that is never played as long as its ticks at the section's first tempo.
- A sound is a note with the tied notes that go on from it on its string.
- ``pitch`` is the whole MIDI number by which the *fret* is named, capo included; of a natural
  harmonic that which sounds; None of a dead note.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from chalkfret.model.bars import Note
from chalkfret.model.lesson import Lesson, setup_in
from chalkfret.model.marks import Mark, NaturalHarmonic, Sign, Slide, SlideWay
from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_fretted, named_pitch
from chalkfret.timeline.clock import SectionClock, section_clock

_MINUTE_S: Final = 60.0


class Piece(NamedTuple):
    """A note of a sound, in its bar of the run."""

    bar: int
    note: Note


class Sound(NamedTuple):
    """One sound.

    ``root`` is the number of the one that it is hammered, pulled or slid from: the one before it on
    its string, where that sounds until it begins.
    """

    pieces: tuple[Piece, ...]
    tick: int
    end: int  # tick to which it is held; let ring: until its string is struck, within its bar
    pitch: int | None
    setup: Setup
    root: int | None

    @property
    def note(self) -> Note:
        """The note that is struck."""
        return self.pieces[0].note


class Run(NamedTuple):
    """Bars in a row and the sounds in them, by their beginning, then by course."""

    bars: tuple[tuple[int, int], ...]  # section and bar
    starts: tuple[int, ...]  # tick of each bar line, and of the end
    sounds: tuple[Sound, ...]
    seconds: tuple[float, ...]  # when each sound begins


class _Bar(NamedTuple):
    section: int
    bar: int
    start: int
    ticks: int
    start_s: float
    tick_s: float  # of the section's first tempo
    clock: SectionClock
    played: int  # as the clock counts bars; -1: never


def links(mark: Mark) -> bool:
    """Whether a mark joins its note to the one before it on the string, a tie apart."""
    if isinstance(mark, Slide):
        return mark.way is SlideWay.FROM_NOTE
    return mark in (Sign.HAMMER_ON, Sign.PULL_OFF)


def run_of(lesson: Lesson, part: int, sections: Sequence[int]) -> Run:
    """The run of these sections of a part."""
    bars: list[_Bar] = []
    tick, second = 0, 0.0
    for index in sections:
        section = lesson.sections[index]
        clock = section_clock(section)
        played = _first_played(clock)
        tempo = section.head.tempo
        tick_s = _MINUTE_S / (tempo.start * tempo.unit.ticks)
        for at, bar in enumerate(section.bars):
            ticks, first = bar.head.ticks, played.get(at, -1)
            bars.append(_Bar(index, at, tick, ticks, second, tick_s, clock, first))
            tick += ticks
            lasts = clock.bar_s[first + 1] - clock.bar_s[first] if first >= 0 else ticks * tick_s
            second += lasts
    sounds = _sounds(lesson, part, bars)
    seconds = tuple(_second(sound, bars[sound.pieces[0].bar]) for sound in sounds)
    starts = (*(bar.start for bar in bars), tick)
    return Run(tuple((bar.section, bar.bar) for bar in bars), starts, sounds, seconds)


def _first_played(clock: SectionClock) -> dict[int, int]:
    """When each bar is first played, as the clock counts the bars."""
    first: dict[int, int] = {}
    for at, (bar, _pass) in enumerate(clock.bars):
        first.setdefault(bar, at)
    return first


def _second(sound: Sound, bar: _Bar) -> float:
    onset, clock = sound.tick - bar.start, bar.clock
    if bar.played < 0:
        return bar.start_s + onset * bar.tick_s
    return bar.start_s + clock.onset_s(bar.played, onset) - clock.bar_s[bar.played]


def _sounds(lesson: Lesson, part: int, bars: Sequence[_Bar]) -> tuple[Sound, ...]:
    found: list[list[Piece]] = []
    setups: list[Setup] = []
    roots: list[int | None] = []
    last: dict[int, int] = {}  # by course, the sound struck on it last
    after: dict[int, int] = {}  # by sound, where its string is struck again
    ends: list[int] = []
    for index, bar in enumerate(bars):
        section = lesson.sections[bar.section]
        setup = setup_in(section, lesson.parts[part])
        for note in section.bars[bar.bar].notes[part]:
            tick = bar.start + note.onset
            before = last.get(note.course)
            if before is not None and Sign.TIE in note.marks:
                held = found[before][-1].note
                if ends[before] == tick and held.fret == note.fret and setups[before] == setup:
                    found[before].append(Piece(index, note))
                    ends[before] = tick + note.length
                    continue
            if before is not None:
                after[before] = tick
            last[note.course] = len(found)
            found.append([Piece(index, note)])
            setups.append(setup)
            ends.append(tick + note.length)
            reached = before is not None and _reaches(found[before][0].note, ends[before], tick)
            roots.append(before if reached and any(map(links, note.marks)) else None)
    return tuple(
        _sound(pieces, bars, setups[at], roots[at], (ends[at], after.get(at)))
        for at, pieces in enumerate(found)
    )


def _reaches(note: Note, end: int, tick: int) -> bool:
    """Whether a note still sounds where the next one on its string begins."""
    return end >= tick or note.has(Sign.LET_RING)


def _sound(
    pieces: list[Piece],
    bars: Sequence[_Bar],
    setup: Setup,
    root: int | None,
    until: tuple[int, int | None],
) -> Sound:
    note, (end, struck) = pieces[0].note, until
    if note.has(Sign.LET_RING):
        last = bars[pieces[-1].bar]
        line = last.start + last.ticks
        end = max(end, line if struck is None else min(line, struck))
    tick = bars[pieces[0].bar].start + note.onset
    return Sound(tuple(pieces), tick, end, _pitch(setup, note), setup, root)


def _pitch(setup: Setup, note: Note) -> int | None:
    if note.has(Sign.DEAD):
        return None
    if note.mark(NaturalHarmonic) is not None:
        return named_pitch(setup, note)
    return named_fretted(setup, note.course, note.fret)
