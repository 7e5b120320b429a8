"""Labelled music of the installed music21 corpus: dance tunes, and outer voices of Palestrina.

Tonic and mode are as the encoding states them (the ``K:`` field of ABC, the key in a kern file),
noisy as print is: in a quarter of the "minor" tunes the natural sixth outweighs the flat one. None
is Locrian, pentatonic, blues or of a minor scale's modes: ``riffs`` are for those.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Iterator, Sequence
from functools import cache
from hashlib import sha1
from typing import Any, Final, NamedTuple

from chalkfret.model import Mode
from chalkfret.model.pitch import pitch_class
from chalkfret.theory.mode_finding.evidence import Heard
from tests.reference.spelling.pieces import corpus_root

FOLK: Final = ("oneills1850", "airdsAirs", "ryansMammoth", "miscFolk")
PALESTRINA: Final = "palestrina"
_TICKS: Final = 96  # a quarter
_STRENGTHS: Final = {1.0: 4, 0.5: 3, 0.25: 2, 0.125: 1}
_TUNE: Final = re.compile(r"(?m)^X:")
_KERN_KEY: Final = re.compile(r"(?m)^\*([A-Ga-g])([#-]?):(\w*)")
_KERN_MODES: Final = {
    "ion": Mode.MAJOR,
    "dor": Mode.DORIAN,
    "phr": Mode.PHRYGIAN,
    "lyd": Mode.LYDIAN,
    "mix": Mode.MIXOLYDIAN,
    "aeo": Mode.MINOR,
}
_MODES: Final = {mode.value: mode for mode in Mode}


class Tune(NamedTuple):
    """A tune: its collection, what it is labelled, and its notes with bars from 0."""

    collection: str
    tonic: int
    mode: Mode
    notes: tuple[Heard, ...]
    stream: Any  # as music21 read it, for its own analysis

    def opening(self, bars: int | None) -> tuple[Heard, ...]:
        """The notes of so many bars, with what leads up to the first; None: all."""
        if bars is None:
            return self.notes
        return tuple(note for note in self.notes if note.bar < bars)


@cache
def sources(collection: str) -> tuple[tuple[str, str], ...]:
    """Name and text of each tune of a collection, in an order drawn by the sha1 of the names."""
    root = corpus_root()
    assert root is not None
    found: list[tuple[str, str]] = []
    for path in sorted((root / collection).iterdir()):
        if path.suffix == ".abc":
            _head, *found_here = _TUNE.split(path.read_text(errors="replace"))
            found += [(f"{path.stem}/{at}", "X:" + tune) for at, tune in enumerate(found_here)]
        elif path.suffix == ".krn":
            found.append((path.stem, path.read_text(errors="replace")))
    return tuple(sorted(found, key=lambda one: sha1(one[0].encode()).digest()))


def tunes(collection: str, most: int) -> Iterator[Tune]:
    """The first so many tunes of the draw that have notes and a label we can read."""
    for _name, text in sources(collection):
        if most <= 0:
            return
        tune = _read(collection, text)
        if tune is not None:
            most -= 1
            yield tune


def _read(collection: str, text: str) -> Tune | None:
    from music21 import converter
    from music21.exceptions21 import Music21Exception

    is_abc = collection != PALESTRINA
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # music21's own about its old encodings
        try:  # without the version music21 does not carry accidentals through the bar
            source = "%abc-2.1\n" + text if is_abc else text
            score = converter.parse(source, format="abc" if is_abc else "humdrum")
        except (Music21Exception, ValueError, KeyError, IndexError, AttributeError, TypeError):
            return None
    label = _abc_label(score) if is_abc else _kern_label(text)
    if label is None:
        return None
    parts = list(score.parts)
    outer = parts if len(parts) < 2 else [parts[0], parts[-1]]
    notes = sorted(note for part in outer for note in _notes(part))
    heard = tuple(Heard(midi, onset, *rest) for onset, midi, *rest in notes)
    if len(heard) < 8:
        return None
    return Tune(collection, *label, heard, score)


def _abc_label(score: Any) -> tuple[int, Mode] | None:
    key = next(iter(score.recurse().getElementsByClass("Key")), None)
    mode = None if key is None else _MODES.get(str(key.mode))
    return None if key is None or mode is None else (key.tonic.pitchClass, mode)


def _kern_label(text: str) -> tuple[int, Mode] | None:
    """``*G:dor``, ``*a:``: music21 reads only the signature beside it."""
    found = _KERN_KEY.search(text)
    if found is None:
        return None
    name, sign, mode = found.groups()
    tonic = pitch_class(name.upper() + sign.replace("-", "b"))
    return tonic, _KERN_MODES.get(mode, Mode.MINOR if name.islower() else Mode.MAJOR)


def _notes(part: Any) -> Iterator[tuple[int, int, int, int, int]]:
    """Onset, MIDI number, length, strength and bar; tied notes go on, grace notes are left out."""
    measures: Sequence[Any] = list(part.getElementsByClass("Measure")) or [part]
    pickup = len(measures) > 1 and measures[0].duration.quarterLength < (
        measures[1].duration.quarterLength
    )
    for at, measure in enumerate(measures):
        for note in measure.recurse().notes:
            if note.duration.isGrace or (note.tie is not None and note.tie.type != "start"):
                continue
            onset = measure.offset + note.getOffsetInHierarchy(measure)
            strength = 2 if pickup and at == 0 else _STRENGTHS.get(note.beatStrength, 0)
            length = round(note.quarterLength * _TICKS)
            for pitch in note.pitches:
                yield round(onset * _TICKS), pitch.midi, length, strength, max(0, at - pickup)
