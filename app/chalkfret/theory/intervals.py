"""Intervals by their names: letters and semitones (common practice).

An interval has the number of its letters (a third spans three, here 2 steps) and its semitones, so
C to D sharp is an augmented second and C to E flat a minor third.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from chalkfret.model.pitch import LETTERS, letter_of, midi_of, octave_of


class Interval(Struct, frozen=True):
    """An interval within an octave (``steps`` 0 to 6, ``semitones`` -2 to 13), and octaves more.

    A unison is nothing of all three; an octave is one octave more than nothing.
    """

    steps: int
    semitones: int
    octaves: int


@lru_cache(maxsize=4096)
def interval(low: str, high: str) -> Interval:
    """The interval from one pitch name up to another: ``interval("C3", "Eb4")``."""
    letters = _letters(high) - _letters(low)
    octaves, steps = divmod(letters, 7)
    return Interval(steps, midi_of(high) - midi_of(low) - 12 * octaves, octaves)


def _letters(name: str) -> int:
    """Letters above C of octave 0."""
    octave = octave_of(midi_of(name), name.rstrip("-0123456789"))
    return LETTERS.index(letter_of(name)) + 7 * octave
