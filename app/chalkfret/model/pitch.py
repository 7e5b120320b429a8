"""Pitch names and MIDI numbers.

Conventions
-----------
- A *note name* is a capital letter and its accidentals in ASCII: ``E``, ``F#``, ``Bb``, ``G##``.
- A *pitch name* is a note name and an octave number in scientific pitch notation, C4 the middle
  C, so that A4 is MIDI 69 (ISO 16; MIDI 1.0, table of note numbers).
- A *MIDI number* counts semitones, 0 to 127; fractions are cents / 100.

Names are kept as typed: a tuning says E flat because its player does, and the spelling survives.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Annotated, Final

from msgspec import Meta

LETTERS: Final = "CDEFGAB"
LETTER_SEMITONES: Final = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}

NOTE_PATTERN: Final = r"^[A-G](##?|bb?)?$(?!\n)"
PITCH_PATTERN: Final = r"^[A-G](##?|bb?)?[0-8]$(?!\n)"
OCTAVE_MIN: Final = 0  # of a pitch name, as the pattern has it
OCTAVE_MAX: Final = 8
NoteName = Annotated[str, Meta(pattern=NOTE_PATTERN)]
PitchName = Annotated[str, Meta(pattern=PITCH_PATTERN)]

_PITCH = re.compile(r"([A-G])(##?|bb?)?(-?\d)?")


class PitchNameError(ValueError):
    """A text that is no pitch or note name; ``text`` is what was given."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.text = text


@lru_cache(maxsize=4096)
def _parts(text: str) -> tuple[str, int, int | None]:
    match = _PITCH.fullmatch(text)
    if match is None:
        raise PitchNameError(text)
    letter, accidentals, octave = match.groups()
    shift = 0 if accidentals is None else len(accidentals) * (1 if accidentals[0] == "#" else -1)
    return letter, shift, None if octave is None else int(octave)


def letter_of(name: str) -> str:
    """The capital letter of a note or pitch name."""
    return _parts(name)[0]


def alteration_of(name: str) -> int:
    """Semitones that the accidentals of a note or pitch name add: -2 to 2."""
    return _parts(name)[1]


def pitch_class(name: str) -> int:
    """0 (C) to 11 (B) of a note or pitch name."""
    letter, shift, _ = _parts(name)
    return (LETTER_SEMITONES[letter] + shift) % 12


@lru_cache(maxsize=4096)
def midi_of(name: str) -> int:
    """The MIDI number of a pitch name: ``midi_of("E2") == 40``. Raises PitchNameError."""
    letter, shift, octave = _parts(name)
    if octave is None:
        raise PitchNameError(name)
    return 12 * (octave + 1) + LETTER_SEMITONES[letter] + shift


def note_of(name: str) -> str:
    """A pitch name without its octave: ``note_of("Eb2") == "Eb"``."""
    letter, shift, _ = _parts(name)
    return letter + accidentals(shift)


def accidentals(shift: int) -> str:
    """ASCII accidentals of an alteration in semitones: 1 gives ``#``, -2 gives ``bb``."""
    return "#" * shift if shift >= 0 else "b" * -shift


def octave_of(midi: int, name: str) -> int:
    """The octave number in which ``name`` (a note name) sounds ``midi``.

    Counted from the letter, so C flat 4 is one semitone below C4 and B sharp 3 is C4.
    """
    return (midi - alteration_of(name)) // 12 - 1
