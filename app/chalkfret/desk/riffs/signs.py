"""How a note's fret and marks are written in its cell.

The grid writes short: a sign is at most four characters. What is drawn as a shape (a dead note's
cross, a ghost note's brackets, a tie's bow) is part of the fret's own text, or has no sign here.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    Finger,
    Mark,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Tremolo,
    Trill,
    Vibrato,
)

_SIGNS: Final = {
    Sign.HAMMER_ON: "h",
    Sign.PULL_OFF: "p",
    Sign.TAP: "T",
    Sign.PALM_MUTE: "PM",
    Sign.LET_RING: "LR",
    Sign.ACCENT: ">",
    Sign.STACCATO: "•",
    Sign.DOWN_STROKE: "dn",
    Sign.UP_STROKE: "up",
}
_SLIDES: Final = {
    SlideWay.FROM_NOTE: "sl",
    SlideWay.IN_FROM_BELOW: "↗",
    SlideWay.IN_FROM_ABOVE: "↘",
    SlideWay.OUT_DOWN: "→↓",
    SlideWay.OUT_UP: "→↑",
}
_AMOUNTS: Final = {50: "¼", 100: "½", 150: "¾", 200: "1", 300: "1½", 400: "2"}


@lru_cache(maxsize=1024)
def fret_text(note: Note) -> str:
    """The fret as the cell shows it."""
    if note.has(Sign.DEAD):
        return "×"
    natural = note.mark(NaturalHarmonic)
    text = f"‹{natural.node:g}›" if natural is not None else str(note.fret)
    return f"({text})" if note.has(Sign.GHOST) else text


@lru_cache(maxsize=1024)
def signs_text(note: Note) -> str:
    """The signs of the note's marks, in their order; before them the second voice."""
    voice = ("v2",) if note.voice else ()
    return " ".join((*voice, *filter(None, map(_sign, note.marks))))


def _sign(mark: Mark) -> str:
    if isinstance(mark, Sign):
        return _SIGNS.get(mark, "")
    if isinstance(mark, Slide):
        return _SLIDES[mark.way]
    if isinstance(mark, Bend):
        return _bend(mark)
    if isinstance(mark, Vibrato):
        return "≈" if mark.wide else "~"
    if isinstance(mark, ArtificialHarmonic):
        return f"AH{mark.node:g}"
    if isinstance(mark, Trill):
        return f"tr{mark.fret}"
    if isinstance(mark, Tremolo):
        return "/" * mark.strokes
    if isinstance(mark, Finger):
        return f"f{mark.finger.value}"
    return ""


def _bend(mark: Bend) -> str:
    """Pre-bend, the most that is bent, and a release: ``pb1r``, ``b½``."""
    cents = [point.cents for point in mark.curve]
    most = max(cents, key=abs)
    amount = _AMOUNTS.get(abs(most), f"{abs(most)}c")
    before = "pb" if cents[0] else "b"
    return f"{before}{amount}{'r' if abs(cents[-1]) < abs(most) else ''}"
