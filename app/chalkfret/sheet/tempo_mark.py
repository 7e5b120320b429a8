"""The tempo mark: a note, an equals sign, a figure; two where the tempo changes gradually."""

from __future__ import annotations

from typing import Final

from chalkfret.model import BeatUnit, Tempo
from chalkfret.sheet.display import Face
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.words.figures import number_words

# SMuFL 1.40, metronome marks: code points, and the note's width in ems of the music font.
_NOTES: Final = {
    BeatUnit.HALF: (0xECA3, 0.341, False),
    BeatUnit.DOTTED_HALF: (0xECA3, 0.341, True),
    BeatUnit.QUARTER: (0xECA5, 0.332, False),
    BeatUnit.DOTTED_QUARTER: (0xECA5, 0.332, True),
    BeatUnit.EIGHTH: (0xECA7, 0.533, False),
    BeatUnit.DOTTED_EIGHTH: (0xECA7, 0.533, True),
    BeatUnit.SIXTEENTH: (0xECA9, 0.521, False),
}
_NOTE_DOT: Final = 0xECB7
_NOTE_SIZE: Final = 1.32  # ems of the music font in ems of the words


def _words(tempo: Tempo) -> str:
    text = f"= {number_words(tempo.start)}"
    if tempo.end is not None and tempo.end != tempo.start:
        text += f" → {number_words(tempo.end)}"
    return text


def _note_width(tempo: Tempo, size: float) -> float:
    _, wide, dotted = _NOTES[tempo.unit]
    return (wide + (0.2 if dotted else 0.0)) * _NOTE_SIZE * size + 0.28 * size


def tempo_width(measurer: Measurer, tempo: Tempo, size: float) -> float:
    """Width of the mark in mm, its words with an em of ``size`` mm."""
    return _note_width(tempo, size) + measurer.width(_words(tempo), Face.SEMIBOLD, size)


def tempo_mark(pen: Pen, tempo: Tempo, x: float, base: float, size: float) -> None:
    """Draw the mark with its left end at x, on the baseline."""
    code, wide, dotted = _NOTES[tempo.unit]
    note = _NOTE_SIZE * size
    pen.sign(x, base, code, note)
    if dotted:
        pen.sign(x + (wide + 0.06) * note, base, _NOTE_DOT, note)
    pen.words(x + _note_width(tempo, size), base, _words(tempo), size, Face.SEMIBOLD, tag="tempo")
