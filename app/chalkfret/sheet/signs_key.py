"""The key at the sheet's end: what the signs mean that this sheet uses, and only those."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache
from typing import Final

from chalkfret.model import (
    ArtificialHarmonic,
    Bar,
    Bend,
    Finger,
    Mark,
    NaturalHarmonic,
    Section,
    Sign,
    Trill,
)
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.style import Style
from chalkfret.words.text import N_, _


class Shown(StrEnum):
    """A sign that not every player knows, in the order of the key."""

    HAMMER_ON = "H"
    PULL_OFF = "P"
    TAP = "T"
    PALM_MUTE = "P.M."
    DEAD = "x"
    GHOST = "ghost"
    TIE = "tie"
    NATURAL = "< >"
    ARTIFICIAL = "A.H."
    TRILL = "tr"
    BEND = "full, ½"
    DOWN = "down"
    UP = "up"
    FINGER = "1–4"
    DEGREE = "deg"


_SIGNS: Final = {
    Sign.HAMMER_ON: Shown.HAMMER_ON,
    Sign.PULL_OFF: Shown.PULL_OFF,
    Sign.TAP: Shown.TAP,
    Sign.PALM_MUTE: Shown.PALM_MUTE,
    Sign.DEAD: Shown.DEAD,
    Sign.GHOST: Shown.GHOST,
    Sign.TIE: Shown.TIE,
    Sign.DOWN_STROKE: Shown.DOWN,
    Sign.UP_STROKE: Shown.UP,
}
_OTHERS: Final[dict[type, Shown]] = {
    NaturalHarmonic: Shown.NATURAL,
    ArtificialHarmonic: Shown.ARTIFICIAL,
    Trill: Shown.TRILL,
    Bend: Shown.BEND,
    Finger: Shown.FINGER,
}
_MEANINGS: Final = {
    Shown.HAMMER_ON: N_("hammer-on"),
    Shown.PULL_OFF: N_("pull-off"),
    Shown.TAP: N_("tap"),
    Shown.PALM_MUTE: N_("palm mute"),
    Shown.DEAD: N_("dead note"),
    Shown.GHOST: N_("ghost note"),
    Shown.TIE: N_("tied note"),
    Shown.NATURAL: N_("natural harmonic"),
    Shown.ARTIFICIAL: N_("artificial harmonic"),
    Shown.TRILL: N_("trill with the fret in brackets"),
    Shown.BEND: N_("bend, in whole tones"),
    Shown.DOWN: N_("downstroke"),
    Shown.UP: N_("upstroke"),
    Shown.FINGER: N_("fretting finger, T the thumb"),
    Shown.DEGREE: N_("degree of the scale"),
}
_FACES: Final = {
    Shown.HAMMER_ON: Face.ITALIC,
    Shown.PULL_OFF: Face.ITALIC,
    Shown.TAP: Face.ITALIC,
    Shown.PALM_MUTE: Face.ITALIC,
    Shown.ARTIFICIAL: Face.ITALIC,
    Shown.TRILL: Face.ITALIC,
    Shown.FINGER: Face.ITALIC,
    Shown.BEND: Face.REGULAR,
    Shown.DEGREE: Face.REGULAR,
}  # as on the staff; all others in the face of the numbers
_STROKES: Final = {Shown.DOWN: 0xE610, Shown.UP: 0xE612}  # SMuFL 1.40
_STROKE_WIDTH: Final = 0.31  # in ems


def signs_used(sections: tuple[Section, ...], parts: tuple[int, ...]) -> frozenset[Shown]:
    """The signs that these parts of these sections are written with."""
    found: set[Shown] = set()
    for section in sections:
        for chunk in section.bars.chunks:
            found |= _chunk_signs(chunk, parts)
        if section.head.key is not None and section.head.show.degrees:
            found.add(Shown.DEGREE)
    return frozenset(found)


@lru_cache(maxsize=4096)
def _chunk_signs(chunk: tuple[Bar, ...], parts: tuple[int, ...]) -> frozenset[Shown]:
    runs = {note.marks for bar in chunk for part in parts for note in bar.notes[part]}
    return frozenset().union(*map(_marks_signs, runs))


@lru_cache(maxsize=4096)
def _marks_signs(marks: tuple[Mark, ...]) -> frozenset[Shown]:
    found = (
        _SIGNS.get(mark) if isinstance(mark, Sign) else _OTHERS.get(type(mark)) for mark in marks
    )
    return frozenset(one for one in found if one is not None)


@lru_cache(maxsize=256)
def key_block(used: frozenset[Shown], style: Style, measurer: Measurer) -> Block:
    """The key, in as few lines as it needs."""
    pen = Pen(measurer)
    size, gap, apart = style.note, 1.2 * style.words, 5.0 * style.words
    x, base = 0.0, size
    for shown in _entries(used):
        words, face = _(_MEANINGS[shown[-1]]), _FACES.get(shown[0], Face.SEMIBOLD)
        if len(shown) == 2:
            words = _("ghost or tied note")
        sign = "( )" if shown[0] in (Shown.GHOST, Shown.TIE) else shown[0].value
        stroke = 1.9 * size if shown[0] in _STROKES else 0.0
        room = _STROKE_WIDTH * stroke or measurer.width(sign, face, size)
        width = room + gap + measurer.width(words, Face.REGULAR, size)
        if x and x + width > style.text_width:
            x, base = 0.0, base + 1.45 * size
        if stroke:
            pen.sign(x, base, _STROKES[shown[0]], stroke, Ink.SOFT)
        else:
            pen.words(x, base, sign, size, face, Ink.SOFT, "key")
        pen.words(x + room + gap, base, words, size, Face.REGULAR, Ink.SOFT, "key")
        x += width + apart
    return pen.block(style.text_width, base + 0.35 * size)


def _entries(used: frozenset[Shown]) -> list[tuple[Shown, ...]]:
    """What is explained together: brackets stand around ghost notes and tied ones alike."""
    both = {Shown.GHOST, Shown.TIE}
    if both <= used:
        return [
            (Shown.GHOST, Shown.TIE) if shown is Shown.GHOST else (shown,)
            for shown in Shown
            if shown in used and shown is not Shown.TIE
        ]
    return [(shown,) for shown in Shown if shown in used]
