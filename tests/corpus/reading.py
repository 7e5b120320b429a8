"""What music21 itself reads in a score: every attack, as tick and MIDI number, a part each."""

from __future__ import annotations

import warnings
from collections import Counter
from fractions import Fraction
from typing import Any

from chalkfret.model import QUARTER
from tests.corpus.pieces import Piece

Attacks = Counter[tuple[int, int]]  # tick, MIDI number


def parse(piece: Piece) -> Any:
    """The score, read anew from the installed corpus."""
    from music21 import corpus

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # music21's own about its old encodings
        return corpus.parse(piece.name, number=piece.number, forceSource=True)


def attacks(score: Any) -> list[Attacks]:
    """The attacks of each part by music21: its ties stripped by pitch, its offsets."""
    return [_attacks(part) for part in score.parts]


def _attacks(part: Any) -> Attacks:
    found: Attacks = Counter()
    _untie_slurs(part)
    for element in part.stripTies(matchByPitch=True).flatten().notes:
        if element.duration.quarterLength and "ChordSymbol" not in element.classes:
            tick = Fraction(element.offset) * QUARTER
            assert tick.denominator == 1
            found.update((int(tick), int(pitch.midi)) for pitch in element.pitches)
    return found


def _untie_slurs(part: Any) -> None:
    """Ties that lead to another pitch are hyphens of the encoding: music21 would drop a note."""
    notes = [one for one in part.flatten().notes if one.tie is not None]
    begun = {
        (pitch.midi, one.offset + one.duration.quarterLength)
        for one in notes
        if one.tie.type != "stop"
        for pitch in one.pitches
    }
    for one in notes:
        goes_on = any((pitch.midi, one.offset) in begun for pitch in one.pitches)
        if one.tie.type != "start" and not goes_on:
            one.tie = None


def order(score: Any) -> tuple[list[int], Any] | None:
    """The order in which music21 plays the bars, from 0, and the score so expanded.

    None where it finds the repeats badly formed.
    """
    from music21.repeat import ExpanderException

    for part in score.parts:
        for index, measure in enumerate(part.getElementsByClass("Measure")):
            measure.editorial.index = index
    try:
        expanded = score.expandRepeats()
    except ExpanderException:
        return None
    bars = expanded.parts[0].getElementsByClass("Measure")
    return [measure.editorial.index for measure in bars], expanded
