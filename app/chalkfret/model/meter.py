"""Time inside a bar: whole ticks, meters, beats and steps.

Conventions
-----------
- One quarter note is ``QUARTER`` = 5040 ticks: exact for 64ths, triplets, quintuplets,
  septuplets and nonuplets, and legal as a MIDI division (15 bits).
- A *beat* is what a player counts: a quarter in 4/4, a dotted quarter in 6/8, the groups of
  an additive meter in 7/8. A *unit* is the denominator's note.
- A pickup bar is a bar that lacks its beginning: its beats are the last ones of the full bar.
- A *step* is one column of the grid: each beat is cut into equal steps. Steps are how the teacher
  looks at a beat; they never change a note.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import accumulate
from typing import Annotated, Final

from msgspec import Meta

from chalkfret.model import limits
from chalkfret.model.value import Value

QUARTER: Final = 5040
DENOMINATORS: Final = (1, 2, 4, 8, 16, 32)


class Meter(Value, frozen=True, array_like=True, cache_hash=True):
    """Count over unit, ``Meter(7, 8)``: count 1 to 32, unit a power of two from 1 to 32."""

    count: limits.MeterCount = 4
    unit: Annotated[int, Meta(ge=1, le=32)] = 4

    @property
    def unit_ticks(self) -> int:
        """Ticks of one unit."""
        return 4 * QUARTER // self.unit

    @property
    def ticks(self) -> int:
        """Ticks of a full bar."""
        return self.count * self.unit_ticks


COMMON_TIME: Final = Meter(4, 4)

# Groupings that players take for granted when a meter of eighths or shorter names none
# (common practice): threes for compound time, otherwise twos with the three at the end, 3+2 in 5/8.
_USUAL_GROUPS: Final = {5: (3, 2), 7: (2, 2, 3), 8: (3, 3, 2), 10: (3, 3, 2, 2), 11: (3, 3, 3, 2)}


@lru_cache(maxsize=1024)
def usual_grouping(meter: Meter) -> tuple[int, ...]:
    """The units of each beat where the teacher wishes for nothing else."""
    count, unit = meter.count, meter.unit
    if unit < 8:
        return (1,) * count
    if count % 3 == 0:
        return (3,) * (count // 3)
    if count in _USUAL_GROUPS:
        return _USUAL_GROUPS[count]
    twos, rest = divmod(count, 2)
    return (2,) * twos if rest == 0 else (2,) * (twos - 1) + (3,) if twos else (1,)


@lru_cache(maxsize=4096)
def beat_lengths(
    meter: Meter, grouping: tuple[int, ...] = (), pickup: int | None = None
) -> tuple[int, ...]:
    """Ticks of each beat of a bar, in order; a pickup keeps the end of the bar.

    ``pickup`` is the length in ticks of an incomplete first bar.
    """
    lengths = [units * meter.unit_ticks for units in grouping or usual_grouping(meter)]
    if pickup is None:
        return tuple(lengths)
    kept: list[int] = []
    left = pickup
    for length in reversed(lengths):
        if left <= 0:
            break
        kept.append(min(length, left))
        left -= length
    return tuple(reversed(kept))


@lru_cache(maxsize=4096)
def beat_starts(
    meter: Meter, grouping: tuple[int, ...] = (), pickup: int | None = None
) -> tuple[int, ...]:
    """The tick at which each beat of a bar begins, from 0."""
    lengths = beat_lengths(meter, grouping, pickup)
    return (0, *accumulate(lengths[:-1]))


def usual_steps(beat_ticks: int) -> int:
    """How many steps a beat is cut into where the teacher chose none: sixteenths."""
    sixteenth = QUARTER // 4
    return max(1, beat_ticks // sixteenth) if beat_ticks % sixteenth == 0 else 1


def bar_steps(lengths: tuple[int, ...], steps: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """Onset and length in ticks of every step of a bar.

    ``lengths`` are the ticks of its beats, ``steps`` the number of steps of each (empty: usual).
    """
    out: list[tuple[int, int]] = []
    start = 0
    for index, length in enumerate(lengths):
        count = steps[index] if steps else usual_steps(length)
        size = length // count
        out.extend((start + size * step, size) for step in range(count))
        start += length
    return tuple(out)
