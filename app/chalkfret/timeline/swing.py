"""Swing: where a written tick of a bar is played.

Conventions
-----------
- Pairs of the swing unit stand on the bar's beats. The first of a pair takes r / (1 + r) of it, the
  second the rest; inside each of them time runs evenly, so shorter notes swing along.
- A beat that is not a whole number of pairs (three eighths in 6/8 or 7/8) is played straight.
- A pickup that begins inside a beat keeps its place in that beat: an eighth before the bar line is
  the second of its pair, and as short as one.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache

from msgspec import Struct

from chalkfret.model import BarHead, Swing
from chalkfret.model.meter import beat_lengths


class Warp(Struct, frozen=True):
    """Written against swung ticks of one bar: corresponding points, straight lines between them."""

    written: tuple[int, ...]
    swung: tuple[float, ...]

    @property
    def length(self) -> float:
        """Swung ticks of the whole bar."""
        return self.swung[-1]

    def to_swung(self, tick: float) -> float:
        """The swung tick of a written one; linear beyond the ends."""
        return _between(self.written, self.swung, tick)

    def to_written(self, tick: float) -> float:
        """The written tick of a swung one."""
        return _between(self.swung, self.written, tick)


def _between(knots: tuple[float, ...], values: tuple[float, ...], at: float) -> float:
    place = min(max(bisect_right(knots, at) - 1, 0), len(knots) - 2)
    share = (at - knots[place]) / (knots[place + 1] - knots[place])
    return values[place] + share * (values[place + 1] - values[place])


@lru_cache(maxsize=4096)
def warp(head: BarHead, swing: Swing | None) -> Warp | None:
    """How a bar with this head swings; None where it is played straight."""
    if swing is None or swing.ratio == 1.0:
        return None
    pair = 2 * swing.unit.ticks
    long = pair * swing.ratio / (1 + swing.ratio)
    full = beat_lengths(head.meter, head.grouping)
    kept = full[len(full) - len(head.beats) :]
    missing = kept[0] - head.beats[0]  # of the first beat, in a pickup
    written, swung, at = [0], [0.0], 0
    for length in kept:
        if length % pair == 0:
            for start in range(at, at + length, pair):
                written += [start + pair // 2, start + pair]
                swung += [start + long, float(start + pair)]
        else:
            written.append(at + length)
            swung.append(float(at + length))
        at += length
    whole = Warp(tuple(written), tuple(swung))
    return _without_beginning(whole, missing) if missing else whole


def _without_beginning(whole: Warp, missing: int) -> Warp:
    """The warp of a bar that lacks its first ``missing`` ticks."""
    lost = whole.to_swung(missing)
    first = bisect_right(whole.written, missing)
    return Warp(
        (0, *(tick - missing for tick in whole.written[first:])),
        (0.0, *(tick - lost for tick in whole.swung[first:])),
    )
