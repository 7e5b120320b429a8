"""Filling pages from a row of blocks that are only measured, not yet drawn."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from msgspec import Struct

from chalkfret.sheet.display import Block

_SPREAD: Final = 3.0  # mm that each gap may grow where a page is not quite full


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
    page: list[tuple[int, float]] = []
    out: list[Laid] = []
    pages = 0
    y = 0.0
    index = 0
    while index < len(pieces):
        stop = index
        need = 0.0
        while True:
            piece = pieces[stop]
            need += piece.height + (piece.gap if page or stop > index else 0.0)
            stop += 1
            if not piece.keep or stop == len(pieces):
                break
        if page and (y + need > height or pieces[index].fresh):
            full = not pieces[index].fresh
            out.extend(_spread(page, pieces, pages, height - y if full else 0.0))
            page, y, pages = [], 0.0, pages + 1
        for at in range(index, stop):
            piece = pieces[at]
            if page:
                y += piece.gap
            if page and y + piece.height > height:  # kept pieces that are together too high
                out.extend(_spread(page, pieces, pages, 0.0))
                page, y, pages = [], 0.0, pages + 1
            page.append((at, y))
            y += piece.height
        index = stop
    out.extend(_spread(page, pieces, pages, 0.0))
    return tuple(out)


def _spread(
    page: list[tuple[int, float]], pieces: Sequence[Piece], number: int, rest: float
) -> list[Laid]:
    """A full page's pieces with what is left shared out among the gaps that may grow."""
    growing = sum(pieces[index].stretches for index, _ in page[1:])
    more = min(_SPREAD, rest / growing) if growing else 0.0
    out: list[Laid] = []
    moved = 0.0
    for place, (index, y) in enumerate(page):
        if place and pieces[index].stretches:
            moved += more
        out.append(Laid(number, y + moved))
    return out
