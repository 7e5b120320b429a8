"""Cutting blocks of words that are higher than a page."""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.sheet.display import Block, Box, Item, Line, Shape, Text


def split(block: Block, height: float) -> tuple[Block, ...]:
    """The block in pieces of at most ``height`` mm, cut where no item stands across the cut.

    Where there is no such place an item goes with its top. Only for blocks of words: curves
    have no single place to be cut at.
    """
    if block.height <= height:
        return (block,)
    items = sorted(((*_reach(item), item) for item in block.items), key=lambda entry: entry[0])
    starts = [0.0]
    low = 0.0
    edges: list[float] = []  # tops of items that nothing above reaches down to
    for top, bottom, _ in items:
        if top >= low and top > 0.0:
            edges.append(top)
        low = max(low, bottom)
    for edge, following in zip(edges, [*edges[1:], block.height], strict=True):
        if following - starts[-1] > height:
            while edge - starts[-1] > height:
                starts.append(starts[-1] + height)
            if edge > starts[-1]:
                starts.append(edge)
    while block.height - starts[-1] > height:
        starts.append(starts[-1] + height)
    ends = [*starts[1:], block.height]
    return tuple(
        Block(
            block.width,
            end - start,
            tuple(
                _raised(item, start)
                for top, _, item in items
                if start <= max(top, 0.0) < end or (end == block.height and top >= end)
            ),
        )
        for start, end in zip(starts, ends, strict=True)
    )


def _reach(item: Item) -> tuple[float, float]:
    if isinstance(item, Line):
        return min(item.y1, item.y2), max(item.y1, item.y2)
    if isinstance(item, Box):
        return item.y, item.y + item.height
    assert not isinstance(item, Shape)
    rise = 0.8 * item.size if isinstance(item, Text) else 0.5 * item.size
    return item.y - rise, item.y + 0.25 * item.size


def _raised(item: Item, by: float) -> Item:
    if isinstance(item, Line):
        return replace(item, y1=item.y1 - by, y2=item.y2 - by)
    assert not isinstance(item, Shape)
    return replace(item, y=item.y - by)
