"""Breaking a section's bars into systems, by the least sum of badness over the whole section.

A system is as bad as its music must be stretched or squeezed from its natural width (square of
the logarithm, so that twice and half are equally bad), a lone bar at the end costs extra, and the
last system may stay short. Dynamic programming over the bars finds the optimum (Hegazy and
Gourlay, "Optimal line breaking in music", 1988).

Costs of the first bars do not depend on later ones, so after an edit the solution up to the first
bar that changed its width is taken over.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from threading import Lock
from typing import Final

from msgspec import Struct

_LONE: Final = 0.35  # a last system of a single bar, or very short
_SHORT: Final = 0.42  # how full a last system should be
_SQUEEZE: Final = 1.6  # squeezing shows more than stretching
_MOST_BARS: Final = 16  # in one system


class BarWidth(Struct, frozen=True, gc=False):
    """A bar's natural and smallest width in mm, and whether a system must end behind it."""

    natural: float
    smallest: float
    ends: bool = False


class _Solution(Struct, frozen=True):
    widths: tuple[BarWidth, ...]
    room: tuple[float, float]
    costs: list[float]
    cuts: list[int]  # where the system that ends before this bar begins


def _cost(natural: float, smallest: float, room: float) -> float | None:
    """Badness of a full system; None where it cannot hold its bars."""
    if smallest > room:
        return None
    strain = log(room / natural)
    return strain * strain * (_SQUEEZE if strain < 0 else 1.0)


def _last_cost(natural: float, smallest: float, room: float, bars: int, only: bool) -> float | None:
    """Badness of a section's last system: it may stay short of the right margin."""
    if smallest > room:
        return None
    if natural >= room:
        return _cost(natural, smallest, room)
    share = natural / room
    if only or share >= 0.75:
        return 0.02
    return (0.02 if share >= _SHORT else 0.2) + (_LONE if bars == 1 else 0.0)


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
    count = len(widths)
    kept = 0
    if before is not None and before.room == (first, later):
        kept = _equal_bars(before.widths, widths)
        # The last bar's cost is that of a last system, so it is never taken over.
        kept = max(0, min(kept, len(before.widths) - 1, count - 1))
    costs = before.costs[: kept + 1] if before is not None and kept else [0.0]
    cuts = before.cuts[: kept + 1] if before is not None and kept else [0]
    for stop in range(len(costs), count + 1):
        cost, cut = _best(widths, stop, first, later, costs)
        costs.append(cost)
        cuts.append(cut)
    return _Solution(widths, (first, later), costs, cuts)


def _equal_bars(one: Sequence[BarWidth], two: Sequence[BarWidth]) -> int:
    count = 0
    for a, b in zip(one, two, strict=False):
        if a is not b and a != b:
            break
        count += 1
    return count


def _best(
    widths: tuple[BarWidth, ...], stop: int, first: float, later: float, costs: list[float]
) -> tuple[float, int]:
    """The cheapest system that ends before ``stop``: the cost of all up to there, its start."""
    natural = smallest = 0.0
    best, cut = -1.0, stop - 1
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
            if start == stop - 1:  # a bar wider than the page: alone, and shrunk
                return costs[start] + 10.0, start
            break
        total = costs[start] + cost
        if best < 0 or total < best - 1e-12:
            best, cut = total, start
    return best, cut
