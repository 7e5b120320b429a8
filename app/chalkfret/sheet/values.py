"""Written note values: which lengths one symbol can stand for, and splitting those it cannot.

Conventions: a value is the denominator of its name (1 whole, 4 quarter, 64 sixty-fourth); lengths
are ticks as *written*, so a tuplet's are scaled before they come here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Final

from chalkfret.model import QUARTER

FLAGS: Final = {1: 0, 2: 0, 4: 0, 8: 1, 16: 2, 32: 3, 64: 4}  # or beams, by value
VALUES: Final = (1, 2, 4, 8, 16, 32, 64)
WHOLE: Final = 4 * QUARTER

# (value, dots) by written ticks; what is not here needs a tie.
_WRITTEN: Final = {
    WHOLE * (2 ** (dots + 1) - 1) // (value * 2**dots): (value, dots)
    for dots in (2, 1, 0)
    for value in VALUES
    if WHOLE % (value * 2**dots) == 0
}


def written(ticks: int) -> tuple[int, int] | None:
    """Value and dots of a length that one symbol can stand for."""
    return _WRITTEN.get(ticks)


@lru_cache(maxsize=4096)
def nearest(ticks: int) -> tuple[int, int]:
    """Value and dots that come closest to a length no chain of symbols can stand for."""
    best = min((t for t, (_, dots) in _WRITTEN.items() if dots < 2), key=lambda t: abs(t - ticks))
    return _WRITTEN[best]


def cheapest_split(
    points: Sequence[int], cost: Callable[[int, int], float | None]
) -> tuple[tuple[int, int], ...] | None:
    """The cheapest chain of pieces from the first point to the last, cut only at points.

    ``cost`` of a piece is None where one symbol cannot stand for it. None: there is no chain.
    """
    count = len(points)
    best: list[tuple[float, int] | None] = [None] * count
    best[0] = (0.0, 0)
    for end in range(1, count):
        for start in range(end):
            before = best[start]
            if before is None:
                continue
            price = cost(points[start], points[end])
            if price is None:
                continue
            total = before[0] + price
            known = best[end]
            if known is None or total < known[0] - 1e-9:
                best[end] = (total, start)
    if best[-1] is None:
        return None
    pieces: list[tuple[int, int]] = []
    at = count - 1
    while at:
        step = best[at]
        assert step is not None
        pieces.append((points[step[1]], points[at]))
        at = step[1]
    return tuple(reversed(pieces))
