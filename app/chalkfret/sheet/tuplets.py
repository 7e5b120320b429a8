"""Which stretches of a bar are tuplets.

A tuplet ``count : normal`` fills a window of one beat, half a beat or a few beats with ``count``
equal units where ``normal`` written ones would stand. The bar is cut into windows at least cost
(fewest symbols, then the simplest tuplet) by dynamic programming over its beats.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from typing import Final

from msgspec import Struct

from chalkfret.model import QUARTER
from chalkfret.sheet.metric import GRID, Metric

# Count and normal in windows of 2, 4, 8 ... and of 3, 6, 12 ... written units (common practice).
_EVEN: Final = ((3, 2), (5, 4), (6, 4), (7, 4), (9, 8))
_THREES: Final = ((2, 3), (4, 3), (5, 3), (7, 6), (8, 6))
_MOST_BEATS: Final = 4


class Window(Struct, frozen=True):
    """Ticks read plainly (count 0), or as ``count`` units in the time of ``normal``."""

    start: int
    end: int
    count: int = 0
    normal: int = 0

    @property
    def unit(self) -> int:
        """Ticks that one unit of a tuplet really takes."""
        return (self.end - self.start) // self.count

    def written_ticks(self, ticks: int) -> int:
        """The written length of a real one inside the window, rounded down."""
        return ticks * self.count // self.normal if self.count else ticks


_Priced = tuple[float, tuple[Window, ...]]


def windows(metric: Metric, edges: Sequence[int]) -> tuple[Window, ...]:
    """The bar's windows in order, plain neighbours joined; ``edges`` are all onsets and ends."""
    if all(_plain(metric, beat, edges) for beat in range(len(metric.starts))):
        return (Window(0, metric.ticks),)
    count = len(metric.starts)
    best: list[_Priced] = [(0.0, ())]
    for stop in range(1, count + 1):
        offers = []
        for start in range(max(0, stop - _MOST_BEATS), stop):
            priced = _beats(metric, start, stop, edges)
            if priced is not None:
                before = best[start]
                offers.append((before[0] + priced[0], before[1] + priced[1]))
        best.append(min(offers, key=lambda offer: offer[0]))
    return _joined(best[-1][1])


def _joined(found: tuple[Window, ...]) -> tuple[Window, ...]:
    out: list[Window] = []
    for window in found:
        if out and not window.count and not out[-1].count:
            out[-1] = Window(out[-1].start, window.end)
        else:
            out.append(window)
    return tuple(out)


def _within(edges: Sequence[int], low: int, high: int) -> Sequence[int]:
    return edges[bisect_left(edges, low) : bisect_left(edges, high)]


def _plain(metric: Metric, beat: int, edges: Sequence[int]) -> bool:
    low = metric.starts[beat]
    inside = _within(edges, low, low + metric.lengths[beat])
    return all((edge - low) % GRID == 0 for edge in inside)


def _beats(metric: Metric, start: int, stop: int, edges: Sequence[int]) -> _Priced | None:
    """The cheapest reading of some whole beats as one window, or of one beat in halves."""
    low, high = metric.starts[start], metric.starts[stop - 1] + metric.lengths[stop - 1]
    inside = _within(edges, low, high)
    if stop - start > 1:
        beats = metric.starts[start + 1 : stop]
        if len(set(metric.lengths[start:stop])) > 1 or any(at in inside for at in beats):
            return None  # a beat that is sounded is clear by itself
        found = _tuplet(low, high, edges, finest=2, extra=0.2)
        clear = all(_is_clear(metric, beat, edges) for beat in range(start, stop))
        return None if clear and found and not _all_struck(found[1][0], inside) else found
    if _plain(metric, start, edges):
        return len(inside), (Window(low, high),)
    middle = (low + high) // 2
    offers = [_tuplet(low, high, edges, finest=4), _halves(low, middle, high, edges)]
    known = [offer for offer in offers if offer is not None]
    # Where nothing fits the beat stays plain and its symbols are marked as not exact.
    return min(known, key=lambda offer: offer[0], default=(len(inside) + 9.0, (Window(low, high),)))


def _is_clear(metric: Metric, beat: int, edges: Sequence[int]) -> bool:
    """Whether a beat can be written exactly by itself."""
    low = metric.starts[beat]
    high = low + metric.lengths[beat]
    return (
        _plain(metric, beat, edges)
        or _tuplet(low, high, edges, finest=4) is not None
        or _halves(low, (low + high) // 2, high, edges) is not None
    )


def _all_struck(window: Window, inside: Sequence[int]) -> bool:
    """Whether something begins on every unit: only then is a tuplet over beats seen at once."""
    return all(at in inside for at in range(window.start, window.end, window.unit))


def _halves(low: int, middle: int, high: int, edges: Sequence[int]) -> _Priced | None:
    if (high - low) % QUARTER or (high - low) % 2:
        return None
    total = 0.1
    found: tuple[Window, ...] = ()
    for one, two in ((low, middle), (middle, high)):
        inside = _within(edges, one, two)
        if all((edge - one) % GRID == 0 for edge in inside):
            half: _Priced | None = (float(len(inside)), (Window(one, two),))
        else:
            half = _tuplet(one, two, edges, finest=2)
        if half is None:
            return None
        total, found = total + half[0], found + half[1]
    return total, found


def _tuplet(
    low: int, high: int, edges: Sequence[int], finest: int, extra: float = 0.0
) -> _Priced | None:
    length = high - low
    inside = _within(edges, low, high)
    symbols = len(inside) + (low not in inside) + (_cut(edges, high))
    threes = length % (3 * GRID) == 0 and (length // GRID) & (length // GRID - 1) != 0
    best: _Priced | None = None
    for count, normal in _THREES if threes else _EVEN:
        if length % count:
            continue
        unit = length // count
        parts = next(
            (parts for parts in (1, 2, 4) if parts <= finest and unit % parts == 0
             and all((edge - low) % (unit // parts) == 0 for edge in inside)),
            None,
        )  # fmt: skip
        if parts is None:
            continue
        price = symbols + 0.5 + 0.3 * (parts // 2) + 0.02 * count + extra
        if count == 6 and len(inside) < 6:
            price += 0.35  # two triplets, or a triplet with shorter notes, is read faster
        if best is None or price < best[0]:
            best = (price, (Window(low, high, count, normal),))
    return best


def _cut(edges: Sequence[int], high: int) -> bool:
    """Whether a note runs over the window's end and so needs a tie."""
    at = bisect_left(edges, high)
    return at < len(edges) and edges[at] != high
