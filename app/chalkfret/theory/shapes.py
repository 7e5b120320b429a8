"""What sounds together on a guitar at a moment: names, intervals, chord, fingers, habit.

Conventions
-----------
- At a tick sound the notes of the bar that were struck at it or before and have not ended; dead
  notes have no pitch. Ringing on beyond a note's length is not counted.
- ``standard`` is the standard tuning from which the setup is reckoned, as pitch names low to high:
  what the very same fingers would give there, without capo, is the shape by habit.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from chalkfret.model.bars import Bar, Note
from chalkfret.model.lesson import Part, setup_in
from chalkfret.model.marks import NaturalHarmonic, Sign
from chalkfret.model.pitch import midi_of, octave_of
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.chords import Named, chord, fingers
from chalkfret.theory.intervals import Interval, interval
from chalkfret.theory.names import Between, bar_degrees
from chalkfret.theory.scales import degree_semitones
from chalkfret.theory.sounding import named_fretted, named_pitch
from chalkfret.theory.spelling import name_of


class Sounding(Struct, frozen=True):
    """One note of what sounds: its pitch name, its degree ("" without a key), and its interval
    above the lowest note sounding.
    """

    note: Note
    midi: int
    name: str
    degree: str
    above: Interval


class Shape(Struct, frozen=True):
    """What sounds together, low to high; what it is; and how it is held."""

    sounds: tuple[Sounding, ...]
    chord: Named
    fingers: int
    by_habit: Named  # the same fingers in standard tuning

    def name_of_class(self, pitch_class_: int) -> str:
        """The note name by which one of its pitch classes is called here."""
        one = next(one for one in self.sounds if one.midi % 12 == pitch_class_)
        return one.name.rstrip("-0123456789")


@lru_cache(maxsize=64)
def shape_at(
    notes: Between, tick: int, setup: Setup, key: Key | None, standard: tuple[str, ...]
) -> Shape | None:
    """What sounds at a tick of a bar between its neighbours; None for silence."""
    found = [
        (named_pitch(setup, note), note, degree)
        for note, degree in zip(notes[1], bar_degrees(notes, setup, key), strict=True)
        if degree is not None and note.onset <= tick < note.end
    ]
    if not found:
        return None
    found.sort(key=lambda one: (one[0], -one[1].course))
    names = [_pitch(midi, degree, key, note) for midi, note, degree in found]
    named = chord(midi for midi, _note, _degree in found)
    habit = chord(midi - _shift(setup, note.course, standard) for midi, note, _degree in found)
    assert named is not None  # something sounds
    assert habit is not None
    return Shape(
        sounds=tuple(
            Sounding(note, midi, name, degree, interval(names[0], name))
            for (midi, note, degree), name in zip(found, names, strict=True)
        ),
        chord=named,
        fingers=fingers(tuple((note.course, _held(note)) for _midi, note, _degree in found)),
        by_habit=habit,
    )


def _pitch(midi: int, degree: str, key: Key | None, note: Note) -> str:
    name = name_of(midi, degree, key, note.spelling)
    return f"{name}{octave_of(midi, name)}"


def _held(note: Note) -> int:
    """The fret that a finger holds; a natural harmonic is only touched."""
    return 0 if note.mark(NaturalHarmonic) is not None else note.fret


def _shift(setup: Setup, course: int, standard: tuple[str, ...]) -> int:
    """Semitones by which an open string, capo included, lies above its standard."""
    return named_fretted(setup, course) - midi_of(standard[-course])


class Used(Struct, frozen=True, order=True):
    """A degree that a part plays in a section, its semitones above the tonic, and how often."""

    semitones: int
    degree: str
    times: int


def degrees_used(section: Section, part: Part, index: int) -> tuple[Used, ...]:
    """The degrees that a part strikes in a section, rising; empty for one without a tonic.

    ``index`` is the part's place in the lesson.
    """
    if section.head.key is None:
        return ()
    setup, times = setup_in(section, part), dict[str, int]()
    chunks = section.bars.chunks
    for at, bars in enumerate(chunks):
        before = chunks[at - 1][-1] if at else None
        after = chunks[at + 1][0] if at + 1 < len(chunks) else None
        for degree, count in _used(before, bars, after, index, setup, section.head.key):
            times[degree] = times.get(degree, 0) + count
    return tuple(sorted(Used(degree_semitones(one), one, count) for one, count in times.items()))


@lru_cache(maxsize=256)
def _used(
    before: Bar | None,
    bars: tuple[Bar, ...],
    after: Bar | None,
    index: int,
    setup: Setup,
    key: Key,
) -> tuple[tuple[str, int], ...]:
    """The degrees struck in a run of bars between two others, and how often."""
    times: dict[str, int] = {}
    sides = (before, *bars, after)
    for at, bar in enumerate(bars):
        for degree in _struck(sides[at], bar, sides[at + 2], index, setup, key):
            times[degree] = times.get(degree, 0) + 1
    return tuple(times.items())


# A lesson's length of bars: an edit looks anew at three bars of the run that it touches.
@lru_cache(maxsize=4096)
def _struck(
    before: Bar | None, bar: Bar, after: Bar | None, index: int, setup: Setup, key: Key
) -> tuple[str, ...]:
    """The degrees struck in a bar between two others."""
    notes = tuple(() if one is None else one.notes[index] for one in (before, bar, after))
    degrees = bar_degrees((notes[0], notes[1], notes[2]), setup, key)
    named = zip(notes[1], degrees, strict=True)
    return tuple(degree for note, degree in named if degree is not None and not note.has(Sign.TIE))
