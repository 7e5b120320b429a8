"""What one part does otherwise than another, bar by bar.

Conventions
-----------
- ``one`` is the part that is held against, ``two`` the part that is spoken of; both are indices
  from 0. Bars count from 0 within their section.
- A *sound* is a note with the tied notes that follow it in the bar. One that was struck in an
  earlier bar is *held*: it counts at its place, but not as an attack.
- Sounds are compared by the pitch by which they are named on the setup that holds in the section
  (capo, harmonics and pre-bends included, the cents of a string not): what is heard decides, not
  the fret. A dead note has no pitch and is the same as any other dead note.
- Of several differences in a bar the weightiest is told, in the order of ``Kind``:

  silent    one plays, two does not
  alone     two plays, one does not
  rhythm    their attacks (or what is held) do not stand at the same ticks
  parallel  as many sounds at the same ticks, all the same interval away: ``semitones``; or, where
            those vary, the same number of scale ``steps`` by the names of the notes in the key
  notes     the same ticks, other pitches
  marks     the same pitches, other marks (a trill counts by its interval)
  lengths   the same pitches, held for longer or shorter
  places    the same sounds on other strings or frets
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum
from functools import lru_cache
from operator import attrgetter

from msgspec import Struct

from chalkfret.model.bars import Bar, Note, Notes
from chalkfret.model.lesson import Part, setup_in
from chalkfret.model.marks import Mark, Sign, Trill, mark_name
from chalkfret.model.pitch import LETTERS, letter_of, octave_of
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_pitch
from chalkfret.theory.spelling import spell


class Kind(StrEnum):
    """What is otherwise; the weightiest first, and last that nothing is."""

    SILENT = "silent"
    ALONE = "alone"
    RHYTHM = "rhythm"
    PARALLEL = "parallel"
    NOTES = "notes"
    MARKS = "marks"
    LENGTHS = "lengths"
    PLACES = "places"
    SAME = "same"


class Difference(Struct, frozen=True):
    """What two does otherwise; of parallel parts how far it lies above one.

    ``semitones`` is 0 where the interval varies; then ``steps`` counts steps of the scale.
    """

    kind: Kind
    semitones: int = 0
    steps: int = 0


class BarDifference(Struct, frozen=True):
    """The difference in one bar, and the notes of two that make it."""

    what: Difference
    notes: Notes = ()


class DifferentBars(Struct, frozen=True):
    """Bars in a row, ``first`` to ``last`` with both, that differ in the same way."""

    first: int
    last: int
    what: Difference


class _Sound(Struct, frozen=True):
    onset: int
    end: int
    held: bool
    pitch: int | None
    step: int  # letters counted up from C0, by its name in the key
    place: tuple[int, int]  # course and fret
    marks: frozenset[str | tuple[str, int] | Mark]
    notes: Notes

    @property
    def start(self) -> tuple[int, bool]:
        """When it is heard from, and whether it is held over from before."""
        return self.onset, self.held


_SAME = Difference(Kind.SAME)


@lru_cache(maxsize=256)
def section_differences(
    section: Section, parts: tuple[Part, ...], one: int, two: int
) -> tuple[DifferentBars, ...]:
    """The bars of a section in which two does not do as one does, repeats of a difference merged.

    ``parts`` are the lesson's.
    """
    return tuple(_merged(section, parts, one, two))


def _merged(
    section: Section, parts: tuple[Part, ...], one: int, two: int
) -> Iterator[DifferentBars]:
    first, last = 0, _SAME
    for index, bar in enumerate(section.bars):
        what = difference_in(section, bar, parts, one, two).what
        if what != last:
            if last != _SAME:
                yield DifferentBars(first, index - 1, last)
            first, last = index, what
    if last != _SAME:
        yield DifferentBars(first, len(section.bars) - 1, last)


def difference_in(
    section: Section, bar: Bar, parts: tuple[Part, ...], one: int, two: int
) -> BarDifference:
    """What two does otherwise in a bar of a section."""
    setups = setup_in(section, parts[one]), setup_in(section, parts[two])
    return bar_difference(bar, (one, two), setups, section.head.key)


@lru_cache(maxsize=4096)
def bar_difference(
    bar: Bar, parts: tuple[int, int], setups: tuple[Setup, Setup], key: Key | None
) -> BarDifference:
    """What the second of two parts does otherwise than the first in a bar, each on its setup."""
    first, second = (bar.notes[part] for part in parts)
    if first == second and setups[0] is setups[1]:
        return BarDifference(_SAME)
    if not second:
        return BarDifference(_SAME if not first else Difference(Kind.SILENT))
    if not first:
        return BarDifference(Difference(Kind.ALONE), second)
    return _compared(_sounds(first, setups[0], key), _sounds(second, setups[1], key))


def _sounds(notes: Notes, setup: Setup, key: Key | None) -> list[_Sound]:
    """The sounds of a bar by their starts, low to high where they start together."""
    phrases: dict[int, list[list[Note]]] = {}
    for note in notes:
        on_course = phrases.setdefault(note.course, [])
        goes_on = note.has(Sign.TIE) and on_course and on_course[-1][-1].end == note.onset
        if goes_on:
            on_course[-1].append(note)
        else:
            on_course.append([note])
    found = [_sound(tuple(phrase), setup, key) for course in phrases.values() for phrase in course]
    return sorted(found, key=lambda one: (one.start, one.pitch is None, one.pitch or 0, one.place))


def _sound(phrase: Notes, setup: Setup, key: Key | None) -> _Sound:
    note = phrase[0]
    pitch = None if note.has(Sign.DEAD) else named_pitch(setup, note)
    return _Sound(
        onset=note.onset,
        end=phrase[-1].end,
        held=note.has(Sign.TIE),
        pitch=pitch,
        step=0 if pitch is None else _step(pitch, key, note.spelling),
        place=(note.course, note.fret),
        marks=frozenset(_mark(mark, one) for one in phrase for mark in one.marks) - {Sign.TIE},
        notes=phrase,
    )


def _step(pitch: int, key: Key | None, wish: str | None) -> int:
    if key is None:
        return 0  # without a scale there are no steps of it
    name = spell(pitch, key, wish)
    return 7 * octave_of(pitch, name) + LETTERS.index(letter_of(name))


def _mark(mark: Mark, note: Note) -> str | tuple[str, int] | Mark:
    """A mark as it is heard: a trill by its interval."""
    return (mark_name(mark), mark.fret - note.fret) if isinstance(mark, Trill) else mark


def _compared(one: list[_Sound], two: list[_Sound]) -> BarDifference:
    heard = [(sound.start, sound.pitch) for sound in one]
    others = _notes(sound for sound in two if (sound.start, sound.pitch) not in heard)
    if {sound.start for sound in one} != {sound.start for sound in two}:
        return BarDifference(Difference(Kind.RHYTHM), others)
    if heard != [(sound.start, sound.pitch) for sound in two]:
        parallel = _parallel(one, two)
        if parallel is not None:
            return BarDifference(parallel, _notes(two))
        return BarDifference(Difference(Kind.NOTES), others)
    pairs = list(zip(one, two, strict=True))
    for kind, of in (
        (Kind.MARKS, attrgetter("marks")),
        (Kind.LENGTHS, attrgetter("end")),
        (Kind.PLACES, attrgetter("place")),
    ):
        notes = _notes(second for first, second in pairs if of(first) != of(second))
        if notes:
            return BarDifference(Difference(kind), notes)
    return BarDifference(_SAME)


def _notes(sounds: Iterable[_Sound]) -> Notes:
    return tuple(note for sound in sounds for note in sound.notes)


def _parallel(one: list[_Sound], two: list[_Sound]) -> Difference | None:
    """The interval by which all of two's sounds lie above one's; None where there is no such."""
    if [sound.start for sound in one] != [sound.start for sound in two]:
        return None  # not as many at a time
    semitones, steps = set(), set()
    for first, second in zip(one, two, strict=True):
        if (first.pitch is None) != (second.pitch is None):
            return None
        if first.pitch is not None and second.pitch is not None:
            semitones.add(second.pitch - first.pitch)
            steps.add(second.step - first.step)
    if len(semitones) == 1:
        return Difference(Kind.PARALLEL, semitones=semitones.pop())
    if len(steps) == 1 and steps != {0}:
        return Difference(Kind.PARALLEL, steps=steps.pop())
    return None
