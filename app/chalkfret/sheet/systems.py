"""Breaking a section's bars into systems, by the least sum of badness over the whole section.

A system is as bad as its music must be stretched or squeezed from its natural width (square of
the logarithm, so that twice and half are equally bad), a lone bar at the end costs extra, and the
last system may stay short. Dynamic programming over the bars finds the optimum (Hegazy and
Gourlay, "Optimal line breaking in music", 1988).

Costs of the first bars do not depend on later ones, so after an edit the solution up to the first
bar that changed its width is taken over. Behind the last changed bar, costs that differ from the
old ones by one amount over the longest possible system do so to the end, and the old cuts hold:
costs are whole numbers, so that this is exact and the result the same as from nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from math import log
from threading import Lock
from typing import Final

from msgspec import Struct

_UNIT: Final = 1_000_000  # a cost of 1
_LONE: Final = 350_000  # a last system of a single bar
_SHORT: Final = 0.42  # how full a last system should be
LAST_FULL: Final = 0.6  # from this share of its line on a last system is set full
_EASY: Final = 3  # that share of its badness a full last system counts
_LAST: Final = 87_000  # a last system that stays short: as one that is stretched from there
_VERY_SHORT: Final = 270_000
_TOO_WIDE: Final = 10 * _UNIT  # a bar that is wider than the page: alone, and shrunk
_SQUEEZE: Final = 3.0  # squeezing shows more than stretching
_MOST_BARS: Final = 16  # in one system


class BarWidth(Struct, frozen=True, gc=False):
    """A bar's natural and smallest width in mm, and whether a system must end behind it."""

    natural: float
    smallest: float
    ends: bool = False


class _Solution(Struct, frozen=True):
    widths: tuple[BarWidth, ...]
    room: tuple[float, float]
    costs: list[int]
    cuts: list[int]  # where the system that ends before this bar begins


def _cost(natural: float, smallest: float, room: float) -> int | None:
    """Badness of a full system; None where it cannot hold its bars."""
    if smallest > room:
        return None
    strain = log(room / natural)
    return round(strain * strain * (_SQUEEZE if strain < 0 else 1.0) * _UNIT)


def _last_cost(natural: float, smallest: float, room: float, bars: int, only: bool) -> int | None:
    """Badness of a section's last system: less than ``LAST_FULL`` of a line may stay short."""
    if smallest > room:
        return None
    if natural >= LAST_FULL * room:
        cost = _cost(natural, smallest, room)
        return cost // _EASY if cost is not None and natural < room else cost
    if only:
        return _LAST
    return (_LAST if natural >= _SHORT * room else _VERY_SHORT) + (_LONE if bars == 1 else 0)


class Breaker:
    """Finds the systems of sections and remembers its last solutions; safe between threads."""

    def __init__(self, remembered: int = 64) -> None:
        self._known: dict[object, _Solution] = {}
        self._remembered = remembered
        self._lock = Lock()

    def systems(
        self, key: object, widths: tuple[BarWidth, ...], first: float, later: float
    ) -> tuple[tuple[int, int], ...]:
        """Start and stop of each system; ``key`` names the section among the remembered ones.

        ``first`` and ``later`` are the room in mm for the bars of the first and other systems.
        """
        with self._lock:
            before = self._known.get(key)
            if before is None or before.widths != widths or before.room != (first, later):
                before = self._known[key] = _solve(widths, first, later, before)
                while len(self._known) > self._remembered:
                    self._known.pop(next(iter(self._known)))
        out: list[tuple[int, int]] = []
        stop = len(widths)
        while stop:
            start = before.cuts[stop]
            out.append((start, stop))
            stop = start
        return tuple(reversed(out))


def _solve(
    widths: tuple[BarWidth, ...], first: float, later: float, before: _Solution | None
) -> _Solution:
    room = (first, later)
    if before is not None and before.room != room:
        before = None
    count = len(widths)
    costs, cuts = [0], [0]
    tail = 0
    if before is not None:
        # The last bar's cost is that of a last system, so it is never taken over from the front.
        head = _equal_bars(widths, before.widths)
        kept = max(0, min(head, len(before.widths) - 1, count - 1))
        costs, cuts = before.costs[: kept + 1], before.cuts[: kept + 1]
        tail = _equal_bars(widths[::-1], before.widths[::-1])
    moved = 0 if before is None else count - len(before.widths)
    alike, shift = 0, 0
    for stop in range(len(costs), count + 1):
        if before is not None and alike > _MOST_BARS:
            costs += [cost + shift for cost in before.costs[stop - moved :]]
            cuts += [cut + moved for cut in before.cuts[stop - moved :]]
            break
        cost, cut = _best(widths, stop, first, later, costs)
        costs.append(cost)
        cuts.append(cut)
        if before is not None and stop > count - tail and stop > moved:
            now = cost - before.costs[stop - moved]
            alike = alike + 1 if now == shift else 1
            shift = now
    return _Solution(widths, room, costs, cuts)


def _equal_bars(one: Sequence[BarWidth], two: Sequence[BarWidth]) -> int:
    """How many bars are equal from the start."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, two, strict=False)))


def _best(
    widths: tuple[BarWidth, ...], stop: int, first: float, later: float, costs: list[int]
) -> tuple[int, int]:
    """The cheapest system that ends before ``stop``: the cost of all up to there, its start."""
    natural = smallest = 0.0
    best, cut = -1, stop - 1
    last = stop == len(widths)
    ends = last or widths[stop - 1].ends
    for start in range(stop - 1, max(-1, stop - 1 - _MOST_BARS), -1):
        bar = widths[start]
        if bar.ends and start < stop - 1:
            break
        natural += bar.natural
        smallest += bar.smallest
        room = later if start else first
        if ends:
            cost = _last_cost(natural, smallest, room, stop - start, start == 0)
        else:
            cost = _cost(natural, smallest, room)
        if cost is None:
            if start == stop - 1:
                return costs[start] + _TOO_WIDE, start
            break
        total = costs[start] + cost
        if best < 0 or total < best:
            best, cut = total, start
    return best, cut
