"""What music21 reads of a piece: for each part and bar the attacks, with key and printed name.

The stated key is the one the encoding names. Where it only has a signature, the tonic is the note
of the signature's seven on which the lowest part ends, as players name such a piece; the first
major one where that is none of them. Pitches are as written, grace notes and tied notes left out.
"""

from __future__ import annotations

import warnings
from typing import Any, Final, NamedTuple

from chalkfret.model import Key, Mode
from tests.reference.spelling.pieces import Piece

_SEVEN: Final = (
    Mode.MAJOR, Mode.MIXOLYDIAN, Mode.DORIAN, Mode.MINOR, Mode.PHRYGIAN, Mode.LOCRIAN, Mode.LYDIAN
)  # fmt: skip
_TONICS: Final = "FCGDAEB"


class Printed(NamedTuple):
    """An attack: ticks do not matter, only what is struck together; ``name`` as printed."""

    onset: float
    midi: int
    name: str


class PrintedBar(NamedTuple):
    """A bar of a part in its key."""

    key: Key
    notes: tuple[Printed, ...]


def read(piece: Piece) -> list[list[PrintedBar]]:
    """The bars of each part."""
    from music21 import corpus, stream

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # music21's own about its old encodings
        score = corpus.parse(piece.path, number=piece.number)
    if isinstance(score, stream.Opus):
        score = score.scores[0]
    parts = list(score.parts)
    last = _last_low(parts)
    return [_part(part, last) for part in parts]


def _last_low(parts: list[Any]) -> str | None:
    ends = [list(part.flatten().notes)[-1:] for part in parts]
    pitches = [min(one.pitches, key=lambda p: p.ps) for end in ends for one in end if one.pitches]
    return _name(min(pitches, key=lambda pitch: pitch.ps)) if pitches else None


def _part(part: Any, last: str | None) -> list[PrintedBar]:
    key = Key("C", Mode.MAJOR)
    bars = []
    for measure in part.getElementsByClass("Measure"):
        notes = []
        for element in measure.flatten():
            if "KeySignature" in element.classes:
                key = _key(element, last)
            elif "NotRest" in element.classes and "ChordSymbol" not in element.classes:
                notes += _notes(element)
        bars.append(PrintedBar(key, tuple(sorted(notes))))
    return bars


def _notes(element: Any) -> list[Printed]:
    if not element.duration.quarterLength or not hasattr(element, "pitches"):
        return []
    members = element.notes if "Chord" in element.classes else [element]
    return [
        Printed(float(element.offset), int(one.pitch.midi), _name(one.pitch))
        for one in members
        if one.tie is None or one.tie.type == "start"
    ]


def _key(signature: Any, last: str | None) -> Key:
    mode = getattr(signature, "mode", None)
    if mode in {one.value for one in _SEVEN}:
        return Key(_name(signature.tonic), Mode(mode))
    if mode == "ionian":
        return Key(_name(signature.tonic), Mode.MAJOR)
    if mode == "aeolian":
        return Key(_name(signature.tonic), Mode.MINOR)
    keys = [Key(_fifth(signature.sharps + at), one) for at, one in enumerate(_SEVEN[:-1])]
    keys.append(Key(_fifth(signature.sharps - 1), Mode.LYDIAN))
    return next((one for one in keys if one.tonic == last), keys[0])


def _fifth(place: int) -> str:
    """The note so many fifths above C."""
    turns, at = divmod(place + 1, 7)
    return _TONICS[at] + ("#" * turns if turns >= 0 else "b" * -turns)


def _name(pitch: Any) -> str:
    return str(pitch.name).replace("-", "b")
