"""Scales: the degrees of every mode, and the notes they are in a key.

Conventions
-----------
- A degree is written against the major scale of the tonic: ``b3`` lies a semitone below the
  major third whatever the mode. Degrees are strings in ASCII, ``1`` to ``7`` with accidentals
  before the digit.
- Note names are the model's (ASCII, no octave); a letter is never altered by more than two
  semitones, and a note that would need more takes its plainest other name.
- The degrees of the modes are common practice.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from chalkfret.model.pitch import (
    LETTER_SEMITONES,
    LETTERS,
    accidentals,
    alteration_of,
    letter_of,
    pitch_class,
)
from chalkfret.model.section import Key, Mode

_DEGREES: Final[dict[Mode, str]] = {
    Mode.MAJOR: "1 2 3 4 5 6 7",
    Mode.DORIAN: "1 2 b3 4 5 6 b7",
    Mode.PHRYGIAN: "1 b2 b3 4 5 b6 b7",
    Mode.LYDIAN: "1 2 3 #4 5 6 7",
    Mode.MIXOLYDIAN: "1 2 3 4 5 6 b7",
    Mode.MINOR: "1 2 b3 4 5 b6 b7",
    Mode.LOCRIAN: "1 b2 b3 4 b5 b6 b7",
    Mode.HARMONIC_MINOR: "1 2 b3 4 5 b6 7",
    Mode.MELODIC_MINOR: "1 2 b3 4 5 6 7",
    Mode.DORIAN_FLAT_2: "1 b2 b3 4 5 6 b7",
    Mode.LYDIAN_AUGMENTED: "1 2 3 #4 #5 6 7",
    Mode.LYDIAN_DOMINANT: "1 2 3 #4 5 6 b7",
    Mode.MIXOLYDIAN_FLAT_6: "1 2 3 4 5 b6 b7",
    Mode.LOCRIAN_NATURAL_2: "1 2 b3 4 b5 b6 b7",
    Mode.ALTERED: "1 b2 b3 b4 b5 b6 b7",
    Mode.LOCRIAN_NATURAL_6: "1 b2 b3 4 b5 6 b7",
    Mode.IONIAN_AUGMENTED: "1 2 3 4 #5 6 7",
    Mode.DORIAN_SHARP_4: "1 2 b3 #4 5 6 b7",
    Mode.PHRYGIAN_DOMINANT: "1 b2 3 4 5 b6 b7",
    Mode.LYDIAN_SHARP_2: "1 #2 3 #4 5 6 7",
    Mode.MAJOR_PENTATONIC: "1 2 3 5 6",
    Mode.MINOR_PENTATONIC: "1 b3 4 5 b7",
    Mode.BLUES: "1 b3 4 b5 5 b7",
    Mode.MAJOR_BLUES: "1 2 b3 3 5 6",
    Mode.WHOLE_TONE: "1 2 3 #4 #5 b7",
    Mode.DIMINISHED_WHOLE_HALF: "1 2 b3 4 b5 b6 6 7",
    Mode.DIMINISHED_HALF_WHOLE: "1 b2 b3 3 #4 5 6 b7",
    Mode.DOUBLE_HARMONIC: "1 b2 3 4 5 b6 7",
}
_MODE_DEGREES: Final = {mode: tuple(text.split()) for mode, text in _DEGREES.items()}
_MAJOR_SEMITONES: Final = (0, 2, 4, 5, 7, 9, 11)
_PLAIN: Final = ("C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B")


def plain_name(pitch_class: int) -> str:
    """The name players use most for a pitch class where no key says otherwise."""
    return _PLAIN[pitch_class % 12]


def degrees_of(key: Key) -> tuple[str, ...]:
    """The degrees of a key's scale, ``("1", "2", "b3", ...)``; a tonic alone has only ``"1"``."""
    if key.degrees:
        return key.degrees
    return ("1",) if key.mode is None else _MODE_DEGREES[key.mode]


def degree_semitones(degree: str) -> int:
    """Semitones of a degree above the tonic, 0 to 11: ``degree_semitones("b3") == 3``."""
    shift = degree.count("#") - degree.count("b")
    return (_MAJOR_SEMITONES[int(degree[-1]) - 1] + shift) % 12


def mode_intervals(mode: Mode) -> tuple[int, ...]:
    """Semitones of each note of a mode above its tonic, rising from 0."""
    return tuple(degree_semitones(degree) for degree in _MODE_DEGREES[mode])


@lru_cache(maxsize=4096)
def note_of_degree(tonic: str, degree: str) -> str:
    """The name of a degree above a tonic: ``note_of_degree("F#", "#4") == "B#"``."""
    at = LETTERS.index(letter_of(tonic)) + int(degree[-1]) - 1
    letter = LETTERS[at % 7]
    sounds = pitch_class(tonic) + degree_semitones(degree)
    shift = (sounds - LETTER_SEMITONES[letter] + 6) % 12 - 6
    return letter + accidentals(shift) if abs(shift) <= 2 else _plainest(sounds, shift)


def _plainest(sounds: int, shift: int) -> str:
    """A name without a third accidental, that goes on to the side the accidentals point to."""
    for fewer in (0, 1 if shift > 0 else -1):
        for letter in LETTERS:
            if (LETTER_SEMITONES[letter] + fewer - sounds) % 12 == 0:
                return letter + accidentals(fewer)
    raise AssertionError("every pitch class has a letter or one beside it")


@lru_cache(maxsize=1024)
def scale_notes(key: Key) -> tuple[str, ...]:
    """The notes of a key's scale by name, in the order of its degrees."""
    return tuple(note_of_degree(key.tonic, degree) for degree in degrees_of(key))


@lru_cache(maxsize=1024)
def degree_at(key: Key) -> tuple[str | None, ...]:
    """The scale's degree at each of the twelve semitones above the tonic; None: not of the scale.

    Where a typed scale names one pitch twice, the first of its names counts.
    """
    found: list[str | None] = [None] * 12
    for degree in degrees_of(key):
        semitones = degree_semitones(degree)
        if found[semitones] is None:
            found[semitones] = degree
    return tuple(found)


def is_simple(name: str) -> bool:
    """Whether a note or pitch name has no double accidental."""
    return abs(alteration_of(name)) < 2
