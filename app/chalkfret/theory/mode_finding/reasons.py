"""Why a tonic and mode is a candidate: what anyone can count in the notes.

The reasons are not the weights put into words but plain counts of what the weights rest on, so
that a teacher can check each with a finger on the tab.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from msgspec import Struct

from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key, Mode
from chalkfret.theory.mode_finding.evidence import STRONG, Heard, lowest_by_bar
from chalkfret.theory.scales import degree_at, degree_semitones, degrees_of
from chalkfret.theory.spelling import degree

_ENOUGH: Final = 0.5  # of the bars or the notes: less is nothing to point at

# What a mode is most easily taken for, and so what its colouring degree rules out.
_BESIDE: Final = {
    Mode.MAJOR: (Mode.MIXOLYDIAN, Mode.LYDIAN),
    Mode.DORIAN: (Mode.MINOR,),
    Mode.PHRYGIAN: (Mode.MINOR,),
    Mode.LYDIAN: (Mode.MAJOR,),
    Mode.MIXOLYDIAN: (Mode.MAJOR,),
    Mode.MINOR: (Mode.DORIAN, Mode.PHRYGIAN),
    Mode.LOCRIAN: (Mode.PHRYGIAN,),
    Mode.HARMONIC_MINOR: (Mode.MINOR,),
    Mode.MELODIC_MINOR: (Mode.DORIAN, Mode.HARMONIC_MINOR),
    Mode.DORIAN_FLAT_2: (Mode.DORIAN, Mode.PHRYGIAN),
    Mode.LYDIAN_AUGMENTED: (Mode.LYDIAN,),
    Mode.LYDIAN_DOMINANT: (Mode.MIXOLYDIAN, Mode.LYDIAN),
    Mode.MIXOLYDIAN_FLAT_6: (Mode.MIXOLYDIAN, Mode.MINOR),
    Mode.LOCRIAN_NATURAL_2: (Mode.MINOR, Mode.LOCRIAN),
    Mode.ALTERED: (Mode.LOCRIAN,),
    Mode.LOCRIAN_NATURAL_6: (Mode.LOCRIAN,),
    Mode.IONIAN_AUGMENTED: (Mode.MAJOR,),
    Mode.DORIAN_SHARP_4: (Mode.DORIAN,),
    Mode.PHRYGIAN_DOMINANT: (Mode.PHRYGIAN, Mode.MIXOLYDIAN_FLAT_6),
    Mode.LYDIAN_SHARP_2: (Mode.LYDIAN,),
    Mode.BLUES: (Mode.MINOR_PENTATONIC,),
    Mode.MAJOR_BLUES: (Mode.MAJOR_PENTATONIC,),
    Mode.DOUBLE_HARMONIC: (Mode.PHRYGIAN_DOMINANT,),
}


class Why(StrEnum):
    """The kinds of reasons; which figures each carries stands beside it."""

    FITS = "fits"  # count of many notes
    OUTSIDE = "outside"  # degree, count: the commonest note that is not of the scale
    RULES_OUT = "rules_out"  # degree, other: a degree that is played and is not the other mode's
    NOT_PLAYED = "not_played"  # degree, other: what would tell it from another candidate
    BASS = "bass"  # count of many bars
    LOW_OPEN = "low_open"  # count: the low string, open
    BEGINS = "begins"  # the first bar line
    ENDS = "ends"  # the last note


class Reason(Struct, frozen=True):
    """One reason with its figures; ``other`` is the mode that it speaks of."""

    why: Why
    count: int = 0
    many: int = 0
    degree: str = ""
    other: Mode | None = None


def reasons(
    notes: Sequence[Heard], key: Key, others: Sequence[Key], ended: bool
) -> tuple[Reason, ...]:
    """The reasons for and against a key, beside the other candidates."""
    tonic = pitch_class(key.tonic)
    at = Counter((note.midi - tonic) % 12 for note in notes)
    return (
        *_fit(at, key),
        *_ruled_out(at, key),
        *_not_played(at, key, others),
        *_tonic(notes, tonic, ended),
    )


def _fit(at: Counter[int], key: Key) -> list[Reason]:
    scale, many = degree_at(key), at.total()
    outside = [(times, semitones) for semitones, times in at.items() if scale[semitones] is None]
    found = [Reason(Why.FITS, many - sum(times for times, _ in outside), many)]
    if outside:
        times, semitones = max(outside)
        name = degree(pitch_class(key.tonic) + semitones, key)
        found.append(Reason(Why.OUTSIDE, times, many, name))
    return found


def _ruled_out(at: Counter[int], key: Key) -> list[Reason]:
    """For each mode beside this one the first of the degrees played that it has not."""
    found: list[Reason] = []
    for other in _BESIDE.get(key.mode, ()) if key.mode else ():
        theirs = degree_at(Key(key.tonic, other))
        telling = (one for one in degrees_of(key) if theirs[degree_semitones(one)] is None)
        played = next((one for one in telling if at[degree_semitones(one)]), None)
        if played is not None:
            found.append(Reason(Why.RULES_OUT, degree=played, other=other))
    return found


def _not_played(at: Counter[int], key: Key, others: Sequence[Key]) -> list[Reason]:
    """What would tell this key from another candidate on its tonic that fits as well."""
    for other in others:
        if other.tonic != key.tonic or other.mode is None:
            continue
        ours, theirs = degree_at(key), degree_at(other)
        if any(at[semi] and (ours[semi] is None) != (theirs[semi] is None) for semi in range(12)):
            continue
        telling = (one for one in degrees_of(key) if theirs[degree_semitones(one)] is None)
        missing = next(telling, None)
        if missing is not None:
            return [Reason(Why.NOT_PLAYED, degree=missing, other=other.mode)]
    return []


def _tonic(notes: Sequence[Heard], tonic: int, ended: bool) -> list[Reason]:
    found: list[Reason] = []
    bars = lowest_by_bar(notes)
    if bars[tonic] and bars[tonic] >= _ENOUGH * bars.total():
        found.append(Reason(Why.BASS, bars[tonic], bars.total()))
    struck = sum(note.low_open and note.midi % 12 == tonic for note in notes)
    if struck > 1:
        found.append(Reason(Why.LOW_OPEN, struck))
    first = next((note for note in notes if note.strength > STRONG), notes[0])
    if first.midi % 12 == tonic:
        found.append(Reason(Why.BEGINS))
    last = min(note.midi for note in notes if note.onset == notes[-1].onset)
    if ended and last % 12 == tonic:
        found.append(Reason(Why.ENDS))
    return found
