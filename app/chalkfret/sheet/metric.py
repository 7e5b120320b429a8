"""How strong each point of a bar is, and what a note may hide.

A reader counts by the bar's beats, so a symbol must not run over a point that is stronger than
where it starts or ends (Gould, *Behind Bars*, 2011, "Grouping of rhythms", from memory). One step
weaker is the usual syncopation (eighth, quarter, eighth) and is allowed to plain values.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache
from typing import Final

from chalkfret.model import QUARTER, BarHead
from chalkfret.sheet.values import cheapest_split, written

GRID: Final = QUARTER // 16  # 64ths, the shortest written value
_HIDDEN: Final = 4.0  # a symbol that hides a point two steps stronger
_SYNCOPATED: Final = 0.4
_DOTS: Final = (0.0, 0.05, 0.9)


class Metric:
    """The points of one bar, and the cost of symbols between them."""

    def __init__(self, head: BarHead) -> None:
        self.ticks = head.ticks
        self.starts = head.beat_starts
        self.lengths = head.beats
        equal = len(set(self.lengths)) == 1
        count = len(self.lengths)
        self.even = equal and self.lengths[0] % (3 * QUARTER // 2) != 0
        full = head.pickup is None or head.pickup == head.meter.ticks
        self.half = self.ticks // 2 if full and equal and count % 2 == 0 and count > 2 else -1
        self.odd = equal and count % 2 == 1
        self._levels: dict[int, int] = {}
        self._splits: dict[tuple[int, int, bool], tuple[tuple[int, int], ...] | None] = {}

    def beat(self, tick: int) -> int:
        """Index of the beat that holds a tick."""
        return max(0, bisect_right(self.starts, tick) - 1)

    def level(self, tick: int) -> int:
        """Strength: 4 bar line, 3 half bar, 2 beat, 1 its halves or thirds, then down."""
        known = self._levels.get(tick)
        if known is None:
            known = self._levels[tick] = self._level(tick)
        return known

    def _level(self, tick: int) -> int:
        if tick <= 0 or tick >= self.ticks:
            return 4
        if tick == self.half:
            return 3
        beat = self.beat(tick)
        inside = tick - self.starts[beat]
        if inside == 0:
            return 2
        length = self.lengths[beat]
        unit = length // 3 if length % (3 * QUARTER // 4) == 0 and length % QUARTER else length // 2
        level = 1
        while unit > 1 and inside % unit and level > -6:
            unit //= 2
            level -= 1
        return level

    def points(self, start: int, end: int) -> list[int]:
        """Where a symbol from start to end may be cut: beats, and the grid both ends lie on."""
        first, last = self.beat(start), self.beat(end - 1)
        grid = self.lengths[first]
        offsets = (start - self.starts[first], end - self.starts[last])
        while grid > GRID and (any(offset % grid for offset in offsets) or grid > QUARTER // 2):
            grid = grid // 2 if grid % 2 == 0 else grid // 3
        found = {start, end}
        for beat in range(first, last + 1):
            low = self.starts[beat]
            stop = min(end, low + self.lengths[beat])
            found.update(at for at in range(low, stop, max(grid, GRID)) if at > start)
        return sorted(found)

    def strongest(self, start: int, end: int) -> int:
        """The strongest level strictly between two ticks."""
        best = -9
        for beat in range(self.beat(start), self.beat(end - 1) + 1):
            low, length = self.starts[beat], self.lengths[beat]
            if start < low < end:
                best = max(best, self.level(low))
                continue
            step = max(GRID, length // 24 if length % (3 * QUARTER // 2) == 0 else length // 16)
            for at in range(low + step, low + length, step):
                if start < at < end:
                    best = max(best, self.level(at))
        return best

    def split(self, start: int, end: int, rest: bool) -> tuple[tuple[int, int], ...] | None:
        """The pieces in which a musician writes a note or rest that fills start to end."""
        key = (start, end, rest)
        if key not in self._splits:
            self._splits[key] = self._split(start, end, rest)
        return self._splits[key]

    def _split(self, start: int, end: int, rest: bool) -> tuple[tuple[int, int], ...] | None:
        def cost(one: int, two: int) -> float | None:
            value = written(two - one)
            if value is None:
                return None
            hidden = self.strongest(one, two)
            if rest:
                return self._rest_cost(one, value[1], hidden)
            return self._note_cost(one, two, value[1], hidden)

        whole = cost(start, end)
        if whole is not None and whole <= 1.0 + _DOTS[1]:
            return ((start, end),)
        return cheapest_split(self.points(start, end), cost)

    def _note_cost(self, start: int, end: int, dots: int, hidden: int) -> float:
        over = hidden - max(self.level(start), self.level(end) - 1)
        price = 1.0 + _DOTS[dots]
        if over == 1:
            # Only plain values in meters of even beats show the syncopation at once.
            return price + (_SYNCOPATED if dots == 0 and (self.even or hidden < 2) else 1.5)
        return price + (_HIDDEN if over > 1 else 0.0)

    def _rest_cost(self, start: int, dots: int, hidden: int) -> float:
        price = 1.0
        if dots:
            price += 0.0 if not self.even and self.level(start) >= 2 and dots == 1 else 1.1
        if hidden > self.level(start) or (hidden == self.level(start) and hidden < 2):
            price += _HIDDEN
        if self.odd and hidden >= 2:
            price += 1.2
        return price


@lru_cache(maxsize=1024)
def metric_of(head: BarHead) -> Metric:
    """The points of a bar, kept for all bars with an equal head."""
    return Metric(head)
