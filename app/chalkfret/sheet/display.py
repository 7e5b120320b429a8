"""The display list: what a page is made of, in millimetres, without any music.

Conventions
-----------
- The origin of a page or block is its top left corner, y runs down.
- ``Text.y`` and ``Glyph.y`` are baselines, ``Text.x`` is the left end: aligning is done by layout,
  which measures; a painter never measures.
- ``size`` of a text or glyph is the height of its em square in mm (1 pt = 25.4/72 mm).
- A tag says what an item is for whoever reads a page (tests, a click on the screen): ``fret``,
  ``title`` ... Painters ignore it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from msgspec import Struct

POINT: Final = 25.4 / 72  # mm


class Ink(StrEnum):
    """What an item is drawn with; the colours are the painter's ``look``."""

    __hash__ = str.__hash__  # an enum's own is many times slower, and inks key every batch

    INK = "ink"
    SOFT = "soft"  # secondary words
    RULE = "rule"  # staff lines and table rules
    TINT = "tint"  # a quiet surface behind words
    PAPER = "paper"  # on top of ink


class Face(StrEnum):
    """The text faces of the sheet."""

    __hash__ = str.__hash__  # see Ink

    REGULAR = "regular"
    SEMIBOLD = "semibold"
    ITALIC = "italic"
    SEMIBOLD_ITALIC = "semibold_italic"


class Line(Struct, frozen=True, gc=False):
    """A straight stroke with flat ends."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float
    ink: Ink = Ink.INK


class Box(Struct, frozen=True, gc=False):
    """A filled rectangle, its corners rounded by ``radius``."""

    x: float
    y: float
    width: float
    height: float
    ink: Ink = Ink.INK
    radius: float = 0.0


class Text(Struct, frozen=True, gc=False):
    """One run of words on a line; ``width`` is what the measurer found for it."""

    x: float
    y: float
    text: str
    size: float
    width: float
    face: Face = Face.REGULAR
    ink: Ink = Ink.INK
    tag: str = ""


class Glyph(Struct, frozen=True, gc=False):
    """A sign of the music font by its SMuFL code point; one staff space is a quarter of ``size``.

    Painted as an outline, so that no private-use character gets into a text.
    """

    x: float
    y: float
    code: int
    size: float
    ink: Ink = Ink.INK


class Shape(Struct, frozen=True):
    """A curve: from ``start`` by segments of 2 (a line to x, y) or 6 numbers (a cubic Bezier).

    Stroked with round ends where ``width`` is positive, else closed and filled.
    """

    start: tuple[float, float]
    segments: tuple[tuple[float, ...], ...]
    width: float = 0.0
    ink: Ink = Ink.INK


Item = Line | Box | Text | Glyph | Shape


class BarBox(Struct, frozen=True, gc=False):
    """Where a bar stands, relative to its block or page: for jumping, clicking and read-back.

    ``staves`` has the top line, the distance of lines and the number of lines for each staff,
    with the index of its part in the lesson.
    """

    section: str  # its id
    bar: int  # from 0 in its section
    x: float
    y: float
    width: float
    height: float
    staves: tuple[tuple[int, float, float, int], ...]


class Block(Struct, frozen=True, eq=False, weakref=True):
    """Items that keep together and move as one; equal only to itself, so it can key caches."""

    width: float
    height: float
    items: tuple[Item, ...]
    bars: tuple[BarBox, ...] = ()


class Placed(Struct, frozen=True):
    """A block and where its origin lies on the page."""

    x: float
    y: float
    block: Block


class Page(Struct, frozen=True, eq=False, weakref=True):
    """A page: its number from 1, its paper, and the blocks upon it."""

    number: int
    width: float
    height: float
    placed: tuple[Placed, ...]

    def items(self) -> tuple[tuple[float, float, Item], ...]:
        """Every item with the offset of its block."""
        return tuple((one.x, one.y, item) for one in self.placed for item in one.block.items)

    def bars(self) -> tuple[BarBox, ...]:
        """Where each bar stands on the page."""
        return tuple(
            BarBox(
                bar.section, bar.bar, bar.x + one.x, bar.y + one.y, bar.width, bar.height,
                tuple((part, top + one.y, gap, lines) for part, top, gap, lines in bar.staves),
            )
            for one in self.placed
            for bar in one.block.bars
        )  # fmt: skip
