"""A small pen for blocks of words: puts texts, signs and rules where it is told."""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.sheet.display import Block, Box, Face, Glyph, Ink, Item, Line, Shape, Text
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.prose import Setting


class Pen:
    """Collects the items of one block."""

    def __init__(self, measurer: Measurer) -> None:
        self.measurer = measurer
        self.items: list[Item] = []

    def words(
        self, x: float, y: float, text: str, size: float, face: Face = Face.REGULAR,
        ink: Ink = Ink.INK, tag: str = "", align: float = 0.0,
    ) -> float:  # fmt: skip
        """A text on the baseline y, its left end (0), middle (0.5) or right end (1) at x."""
        width = self.measurer.width(text, face, size)
        if text:
            self.items.append(Text(x - align * width, y, text, size, width, face, ink, tag))
        return width

    def sign(self, x: float, y: float, code: int, size: float, ink: Ink = Ink.INK) -> None:
        """A music sign."""
        self.items.append(Glyph(x, y, code, size, ink))

    def rule(self, x1: float, y: float, x2: float, width: float, ink: Ink = Ink.RULE) -> None:
        """A level line."""
        self.items.append(Line(x1, y, x2, y, width, ink))

    def box(
        self, x: float, y: float, width: float, height: float, ink: Ink, radius: float = 0.0
    ) -> None:
        """A filled rectangle."""
        self.items.append(Box(x, y, width, height, ink, radius))

    def text(self, setting: Setting, x: float, y: float) -> None:
        """A set text with the top of its first line at y."""
        for item in setting.items:
            self.items.append(replace(item, x=item.x + x, y=item.y + y))

    def take(self, block: Block, x: float, y: float) -> None:
        """The items of another block at a place in this one; blocks of words have no curves."""
        for item in block.items:
            if isinstance(item, Line):
                moved: Item = replace(
                    item, x1=item.x1 + x, x2=item.x2 + x, y1=item.y1 + y, y2=item.y2 + y
                )
            else:
                assert not isinstance(item, Shape)
                moved = replace(item, x=item.x + x, y=item.y + y)
            self.items.append(moved)

    def block(self, width: float, height: float) -> Block:
        """What was drawn, as a block."""
        return Block(width, height, tuple(self.items))
