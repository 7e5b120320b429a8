"""A chosen tonic and mode that the notes contradict, and the bar that does so most.

What contradicts (common practice): a key of at least five degrees of which two or more different
notes of a riff are not, where those notes are at least a fifth of all and another candidate fits
nearly all of the notes. A few chromatic notes do not contradict, nor does a mode that is only a
little less likely: choosing between those is the teacher's.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key
from chalkfret.theory.mode_finding.candidates import Finding
from chalkfret.theory.mode_finding.evidence import Heard
from chalkfret.theory.scales import degree_at, degrees_of

_LEAST_NOTES: Final = 16  # two bars of eighths; fewer contradict nothing
_LEAST_DEGREES: Final = 5
_OUTSIDE: Final = 0.2  # of all notes
_FEWER: Final = 3  # the other key has at most a third of them


class Contradiction(Struct, frozen=True):
    """What contradicts a key: the bar (from 0) with most such notes, their number, a better key."""

    bar: int
    outside: int
    notes: int
    better: Key


def contradiction(notes: Sequence[Heard], key: Key, found: Finding) -> Contradiction | None:
    """What in the notes contradicts the key; None where nothing does."""
    if len(notes) < _LEAST_NOTES or len(degrees_of(key)) < _LEAST_DEGREES or not found.candidates:
        return None
    outside = _outside(notes, key)
    better = found.candidates[0].key
    if len({note.midi % 12 for note in outside}) < 2 or len(outside) < _OUTSIDE * len(notes):
        return None
    if len(_outside(notes, better)) * _FEWER > len(outside):
        return None
    bars = [note.bar for note in outside]
    bar = max(set(bars), key=lambda one: (bars.count(one), -one))
    return Contradiction(bar, len(outside), len(notes), better)


def _outside(notes: Sequence[Heard], key: Key) -> list[Heard]:
    tonic, scale = pitch_class(key.tonic), degree_at(key)
    return [note for note in notes if scale[(note.midi - tonic) % 12] is None]
