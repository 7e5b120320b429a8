"""The tempo map: 24-bit tempos that never stray from the exact integral.

Conventions
-----------
- The map is made between *anchors*: MIDI ticks whose second is known exactly (bar lines, the steps
  of a gradual change, both ends of a pause). A tempo is whole microseconds a quarter.
- A tempo goes on while the next anchor would be reached within ``TOLERANCE``. Where it would not,
  the neighbouring whole number drifts back the other way; where even that is too far off, as in a
  gradual change, the tempo is the one that reaches the anchor.
- So no anchor is off by more than the tolerance and the rounding of one stretch, and errors do not
  add up, in however many bars.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from math import ceil, floor, sqrt
from typing import Final, NamedTuple

from chalkfret.files.midi.grid import Grid, SectionGrid
from chalkfret.model import QUARTER
from chalkfret.timeline.clock import Stage

TOLERANCE: Final = 0.00025  # seconds
_BOW: Final = 0.0002  # seconds that the middle of a step may be off the curve
_STEP_MIN: Final = QUARTER // 32  # ticks
_TEMPO_MAX: Final = 0xFFFFFF  # microseconds a quarter, 24 bits


class Anchor(NamedTuple):
    """A MIDI tick and the second at which it must sound."""

    tick: int
    second: float


def tempo_map(grid: Grid) -> tuple[tuple[int, int], ...]:
    """MIDI tick and microseconds a quarter of each tempo of the file."""
    return tuple(_tempos(_anchors(grid)))


def _tempos(anchors: Iterable[Anchor]) -> Iterator[tuple[int, int]]:
    anchors = iter(anchors)
    before = next(anchors)
    sounded = before.second  # what a reader of the map will compute
    tempo = 0
    for anchor in anchors:
        quarters = (anchor.tick - before.tick) / QUARTER
        if not quarters:
            continue
        exact = (anchor.second - before.second) * 1e6 / quarters
        drift = before.second - sounded  # positive: the map is early
        near = (tempo, ceil(exact) if drift > 0 else floor(exact) if drift < 0 else round(exact))
        chosen = next(
            (one for one in near if one and _miss(sounded, one, quarters, anchor) <= TOLERANCE),
            min(max(1, round((anchor.second - sounded) * 1e6 / quarters)), _TEMPO_MAX),
        )
        if chosen != tempo:
            tempo = chosen
            yield before.tick, tempo
        sounded += tempo * quarters / 1e6
        before = anchor


def _miss(sounded: float, tempo: int, quarters: float, anchor: Anchor) -> float:
    return abs(sounded + tempo * quarters / 1e6 - anchor.second)


def _anchors(grid: Grid) -> Iterator[Anchor]:
    yield Anchor(0, 0.0)
    for section in grid.sections:
        yield Anchor(section.base, section.start_s)
        yield from _section(section)


def _section(grid: SectionGrid) -> Iterator[Anchor]:
    """The anchors of one section, behind its start."""
    clock, speed = grid.timed.clock, grid.speed
    stop = 0
    for bar, length in enumerate(grid.lengths):
        start, swung = grid.starts[bar], clock.swung[bar]
        edges = [(offset, False) for offset in _steps(grid, bar)]
        if clock.stops:
            edges = sorted(edges + [(offset, True) for offset in _stops_of_bar(grid, bar)])
        for offset, stops in edges:
            inside = clock.swung[bar + 1] if offset == length else swung + offset
            second = grid.start_s + (clock.tempo.seconds(inside) + clock.stopped[stop]) / speed
            tick = grid.base + start + offset
            yield Anchor(tick + grid.inserted[stop], second)
            if stops:
                second += clock.stops[stop].seconds / speed
                stop += 1
                yield Anchor(tick + grid.inserted[stop], second)


def _stops_of_bar(grid: SectionGrid, bar: int) -> list[int]:
    """Ticks after the bar's start of the stops up to, without, what the next bar begins with."""
    clock = grid.timed.clock
    first = 0 if bar == 0 else bisect_left(clock.stops, (clock.ticks[bar], Stage.FERMATA))
    last = bisect_left(clock.stops, (clock.ticks[bar + 1], Stage.FERMATA))
    return [grid.offset(bar, one.tick - clock.ticks[bar]) for one in clock.stops[first:last]]


def _steps(grid: SectionGrid, bar: int) -> list[int]:
    """Where the steps of a bar end, in ticks after its start: one step where the tempo is even.

    A step of t seconds over which the speed changes by the share r bows t r / 8 seconds off the
    even one between its ends; in n steps both shrink by n.
    """
    curve, length = grid.timed.clock.tempo, grid.lengths[bar]
    first, last = (curve.speed(x) for x in grid.timed.clock.swung[bar : bar + 2])
    if first == last:
        return [length]
    seconds = length / min(first, last) / grid.speed
    share = abs(last - first) / min(first, last)
    steps = min(ceil(sqrt(seconds * share / 8 / _BOW)), ceil(length / _STEP_MIN))
    return [length * step // steps for step in range(1, steps + 1)]
