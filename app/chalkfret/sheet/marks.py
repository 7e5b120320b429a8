"""The trade's signs for the marks of a note: what is written, and which lanes it is written in.

Above a staff each kind of sign has its own lane, the nearest to the notes first, so that signs of
one kind stand in line along a system. A lane is there only where a system needs it.
"""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct

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
    limits,
)


class Lane(IntEnum):
    """Lanes above a staff, from the staff upwards. Which ones are in use is a sum of them."""

    __hash__ = int.__hash__  # an enum's own is many times slower

    ARCS = 1  # slurs and ties over the first string
    STEMS = 2  # the upper of two voices
    TUPLETS = 4
    BENDS = 8
    LETTERS = 16
    ACCENTS = 32
    WAVES = 64
    FERMATAS = 128
    STROKES = 256
    MUTES = 512
    RINGS = 1024
    ENDINGS = 2048  # endings and repeat counts


# Heights in mm at normal print, the white space above each sign included.
LANE_HEIGHTS: Final = {
    Lane.ARCS: 1.7,
    Lane.STEMS: 8.2,
    Lane.TUPLETS: 3.2,
    Lane.BENDS: 6.6,
    Lane.LETTERS: 3.3,
    Lane.ACCENTS: 2.9,
    Lane.WAVES: 2.5,
    Lane.FERMATAS: 4.2,
    Lane.STROKES: 3.8,
    Lane.MUTES: 3.4,
    Lane.RINGS: 3.4,
    Lane.ENDINGS: 4.8,
}

_SIGN_LANES: Final = {
    Sign.HAMMER_ON: Lane.LETTERS,
    Sign.PULL_OFF: Lane.LETTERS,
    Sign.TAP: Lane.LETTERS,
    Sign.PALM_MUTE: Lane.MUTES,
    Sign.LET_RING: Lane.RINGS,
    Sign.ACCENT: Lane.ACCENTS,
    Sign.STACCATO: Lane.ACCENTS,
    Sign.DOWN_STROKE: Lane.STROKES,
    Sign.UP_STROKE: Lane.STROKES,
}
_LETTERS: Final = {Sign.HAMMER_ON: "H", Sign.PULL_OFF: "P", Sign.TAP: "T"}


class Signs(Struct, frozen=True):
    """What the marks of one note ask for."""

    lanes: int = 0
    letters: tuple[str, ...] = ()
    slur: bool = False  # an arc from the note before on the string
    slide: bool = False  # a line from the note before on the string
    tie: bool = False
    slide_in: int = 0  # 1 from below, -1 from above
    slide_out: int = 0  # 1 upwards, -1 downwards
    bend: Bend | None = None
    vibrato: Vibrato | None = None
    tremolo: int = 0
    trill: bool = False
    finger: str = ""
    accent: bool = False
    staccato: bool = False
    stroke: int = 0  # 1 down, -1 up


_PLAIN: Final = Signs()
_FRETS: Final = tuple(map(str, range(limits.FRET_MAX + 1)))


def signs_of(note: Note) -> Signs:
    """The signs of a note."""
    return signs(note.fret, note.marks) if note.marks else _PLAIN


@lru_cache(maxsize=8192)
def signs(fret: int, marks: tuple[Mark, ...]) -> Signs:
    """The signs of a note's marks; its fret says where an artificial harmonic is touched."""
    lanes = 0
    letters: list[str] = []
    found: dict[str, object] = {}
    for mark in marks:
        if isinstance(mark, Sign):
            lanes |= _SIGN_LANES.get(mark, 0)
            if mark in _LETTERS:
                letters.append(_LETTERS[mark])
        elif isinstance(mark, Slide):
            _slide(mark.way, found)
        elif isinstance(mark, Bend):
            lanes |= Lane.BENDS
            found["bend"] = mark
        elif isinstance(mark, Vibrato):
            lanes |= Lane.WAVES
            found["vibrato"] = mark
        elif isinstance(mark, Trill):
            lanes |= Lane.LETTERS
            letters.append(f"tr ({mark.fret})")
            found["trill"] = True
        elif isinstance(mark, Tremolo):
            found["tremolo"] = mark.strokes
        elif isinstance(mark, Finger):
            found["finger"] = mark.finger.value
        elif isinstance(mark, ArtificialHarmonic):
            lanes |= Lane.LETTERS
            letters.append(_artificial(fret, mark.node))
    has = {mark for mark in marks if isinstance(mark, Sign)}
    return Signs(
        lanes=lanes,
        letters=tuple(letters),
        slur=bool(has & {Sign.HAMMER_ON, Sign.PULL_OFF}) or bool(found.get("slide")),
        tie=Sign.TIE in has,
        accent=Sign.ACCENT in has,
        staccato=Sign.STACCATO in has,
        stroke=1 if Sign.DOWN_STROKE in has else -1 if Sign.UP_STROKE in has else 0,
        **found,  # type: ignore[arg-type]
    )


def _slide(way: SlideWay, found: dict[str, object]) -> None:
    if way is SlideWay.FROM_NOTE:
        found["slide"] = True
    elif way in (SlideWay.IN_FROM_BELOW, SlideWay.IN_FROM_ABOVE):
        found["slide_in"] = 1 if way is SlideWay.IN_FROM_BELOW else -1
    else:
        found["slide_out"] = 1 if way is SlideWay.OUT_UP else -1


def _artificial(fret: int, node: float) -> str:
    return "A.H." if node == 12.0 else f"A.H. {fret + node:g}"


def number_of(note: Note) -> str:
    """What stands on the string for a note."""
    return number(note.fret, note.marks) if note.marks else _FRETS[note.fret]


@lru_cache(maxsize=8192)
def number(fret: int, marks: tuple[Mark, ...]) -> str:
    """What stands on the string: the fret, x, a fret in brackets, or a harmonic's node."""
    for mark in marks:
        if isinstance(mark, NaturalHarmonic):
            return f"<{mark.node:g}>"
    text = "x" if Sign.DEAD in marks else str(fret)
    return f"({text})" if Sign.GHOST in marks or Sign.TIE in marks else text


@lru_cache(maxsize=1024)
def bend_moves(bend: Bend) -> tuple[tuple[int, int], ...]:
    """A bend's turns: cents from and to of each rise or fall; a pre-bend rises from 0 at once."""
    levels: list[int] = [0]
    for point in bend.curve:
        if len(levels) > 1 and (point.cents - levels[-1]) * (levels[-1] - levels[-2]) > 0:
            levels[-1] = point.cents  # goes on the same way
        elif point.cents != levels[-1]:
            levels.append(point.cents)
    return tuple(pairwise(levels))


def prebent(bend: Bend) -> bool:
    """Whether the string is bent before it is struck."""
    return bend.curve[0].tick == 0 and bend.curve[0].cents != 0


_QUARTERS: Final = {0: "", 1: "¼", 2: "½", 3: "¾"}


def bend_amount(cents: int) -> str:
    """The amount of a bend in whole tones, as the trade writes it: full, ½, 1½."""
    quarters = max(1, round(abs(cents) / 50))  # of a whole tone
    whole, rest = divmod(quarters, 4)
    if quarters == 4:
        return "full"
    return (str(whole) if whole else "") + _QUARTERS[rest]
