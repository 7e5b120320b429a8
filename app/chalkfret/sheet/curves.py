"""Curves of the trade: slurs and ties, arrows of bends, waves of vibrato."""

from __future__ import annotations

from chalkfret.sheet.display import Ink, Shape


def arc(x1: float, x2: float, y: float, height: float, thick: float) -> Shape:
    """A slur or tie from x1 to x2: a filled crescent, upwards where ``height`` is positive.

    Thin at its ends and ``thick`` in the middle (SMuFL engravingDefaults, slur thickness).
    """
    span = x2 - x1
    lean = min(span * 0.3, 3 * abs(height))
    # A cubic reaches three quarters of its handles' height.
    over, under = y - height / 0.75, y - (height - (thick if height > 0 else -thick)) / 0.75
    return Shape(
        (x1, y),
        ((x1 + lean, over, x2 - lean, over, x2, y), (x2 - lean, under, x1 + lean, under, x1, y)),
    )


def bend_up(x1: float, y1: float, x2: float, y2: float, width: float) -> Shape:
    """The stroke of a bend: leaves the number level and arrives upright."""
    return Shape((x1, y1), ((x1 + (x2 - x1) * 0.75, y1, x2, y1 + (y2 - y1) * 0.25, x2, y2),), width)


def bend_down(x1: float, y1: float, x2: float, y2: float, width: float) -> Shape:
    """The stroke of a release: leaves level at the top and arrives upright below."""
    return Shape((x1, y1), ((x1 + (x2 - x1) * 0.75, y1, x2, y1 + (y2 - y1) * 0.25, x2, y2),), width)


def arrowhead(x: float, y: float, size: float, down: bool = False) -> Shape:
    """A filled head with its tip at (x, y)."""
    base = y - size if down else y + size
    return Shape((x, y), ((x + size * 0.42, base), (x - size * 0.42, base)))


def wave(x1: float, x2: float, y: float, height: float, length: float, width: float) -> Shape:
    """A wavy stroke along y: so many whole waves as fit."""
    waves = max(1, round((x2 - x1) / length))
    half = (x2 - x1) / waves / 2
    segments: list[tuple[float, ...]] = []
    x, way = x1, -1.0
    for _ in range(2 * waves):
        peak = y + way * height / 0.75
        segments.append((x + half * 0.4, peak, x + half * 0.6, peak, x + half, y))
        x += half
        way = -way
    return Shape((x1, y), tuple(segments), width, Ink.INK)
