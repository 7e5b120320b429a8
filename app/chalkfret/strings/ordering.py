"""The order of several changes in which their running sum strays least.

``least_span`` is exact: dynamic programming over the subsets already done. One best figure a
subset does not do, as the span has two ends: each subset keeps every pair of lowest and highest
sum that no other pair betters at both ends. n changes have 2^n subsets, and a guitar has at most
twelve courses.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

_Way: TypeAlias = tuple[float, float, tuple[int, ...]]  # lowest sum, highest sum, order


def span_of(changes: Sequence[float], order: Sequence[int]) -> float:
    """Highest less lowest of the running sum, the start (0) included."""
    total = low = high = 0.0
    for index in order:
        total += changes[index]
        low, high = min(low, total), max(high, total)
    return high - low


def least_span(changes: Sequence[float]) -> tuple[int, ...]:
    """The order of the indices with the least span; among equals the first as words are sorted."""
    totals = [0.0]
    for subset in range(1, 1 << len(changes)):
        first = (subset & -subset).bit_length() - 1
        totals.append(totals[subset & (subset - 1)] + changes[first])
    bound = span_of(changes, _nearest_first(changes)) * (1 + 1e-12) + 1e-12
    ways: list[list[_Way]] = [[(0.0, 0.0, ())]]
    for subset in range(1, 1 << len(changes)):
        total = totals[subset]
        found = []
        for last in range(len(changes)):
            if subset >> last & 1:
                for below, above, order in ways[subset ^ (1 << last)]:
                    low, high = min(below, total), max(above, total)
                    if high - low <= bound:
                        found.append((low, high, (*order, last)))
        ways.append(_unbettered(found))
    return min(ways[-1], key=lambda way: (round(way[1] - way[0], 9), way[2]))[2]


def _unbettered(found: list[_Way]) -> list[_Way]:
    found.sort(key=lambda way: (-way[0], way[1], way[2]))
    kept: list[_Way] = []
    for way in found:
        if not kept or way[1] < kept[-1][1]:
            kept.append(way)
    return kept


def _nearest_first(changes: Sequence[float]) -> list[int]:
    """A good order to begin with: always the change that brings the sum nearest to none."""
    left, total, order = list(range(len(changes))), 0.0, []
    while left:
        best = min(left, key=lambda index: abs(total + changes[index]))
        left.remove(best)
        order.append(best)
        total += changes[best]
    return order
