"""Filling pages from a row of blocks that are only measured, not yet drawn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from msgspec import Struct

from chalkfret.sheet.display import Block

_SPREAD: Final = 3.0  # mm that each gap may grow where a page is not quite full
_CLOSER: Final = 0.25  # share of the gaps that may be given up so that one more piece fits


class Piece(Struct, frozen=True, eq=False, gc=False):
    """A block to come: its height, the gap before it, and how to draw it.

    ``keep``: never parted from the piece behind it. ``fresh``: begins a new page.
    """

    height: float
    gap: float
    draw: Callable[[], Block]
    keep: bool = False
    fresh: bool = False
    stretches: bool = False  # the gap before it may grow


class Laid(Struct, frozen=True, gc=False):
    """A piece's place: page from 0, and the y of its top in the type area."""

    page: int
    y: float


def fill(pieces: Sequence[Piece], height: float) -> tuple[Laid, ...]:
    """The place of each piece on pages whose type area is ``height`` mm high."""
    out: list[Laid] = []
    page = _Page(0, height)
    index = 0
    while index < len(pieces):
        piece = pieces[index]
        heights, gaps, stop = piece.height, piece.gap, index + 1
        while piece.keep and stop < len(pieces):
            piece = pieces[stop]
            heights, gaps, stop = heights + piece.height, gaps + piece.gap, stop + 1
        fresh = pieces[index].fresh
        if page.pieces and (fresh or not page.holds(heights, gaps)):
            out.extend(page.laid(full=not fresh))
            page = _Page(page.number + 1, height)
        for at in range(index, stop):
            piece = pieces[at]
            # Kept pieces that are together higher than a page have to part.
            if at > index and not page.holds(piece.height, piece.gap):
                out.extend(page.laid(full=False))
                page = _Page(page.number + 1, height)
            page.add(piece)
        index = stop
    out.extend(page.laid(full=False))
    return tuple(out)


class _Page:
    """A page that is being filled: pieces with the gaps before them, none before the first."""

    def __init__(self, number: int, height: float) -> None:
        self.number = number
        self.pieces: list[tuple[Piece, float]] = []
        self._height = height
        self._used = 0.0  # pieces and gaps
        self._gaps = 0.0

    def holds(self, heights: float, gaps: float) -> bool:
        """Whether there is room for more behind its pieces, with gaps closer if need be."""
        used = self._used + heights + gaps
        return used - _CLOSER * (self._gaps + gaps) <= self._height

    def add(self, piece: Piece) -> None:
        gap = piece.gap if self.pieces else 0.0
        self.pieces.append((piece, gap))
        self._used += piece.height + gap
        self._gaps += gap

    def laid(self, full: bool) -> list[Laid]:
        """The pieces' places: gaps closer where they must be; wider where a ``full`` page has room.

        What is left of a full page is shared out among the gaps that may grow.
        """
        rest = self._height - self._used
        closer = min(1.0, -rest / self._gaps) if rest < 0.0 < self._gaps else 0.0
        growing = sum(piece.stretches for piece, _ in self.pieces[1:])
        more = min(_SPREAD, rest / growing) if full and growing and rest > 0.0 else 0.0
        out: list[Laid] = []
        y = 0.0
        for place, (piece, gap) in enumerate(self.pieces):
            y += gap * (1.0 - closer) + (more if place and piece.stretches else 0.0)
            out.append(Laid(self.number, y))
            y += piece.height
        return out
