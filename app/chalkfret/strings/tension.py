"""The tension of a string as it is tuned.

Conventions
-----------
- T[lb] = UW (2 L f)² / 386.4, with UW in lb/in, L in inches, f in Hz: the string maker's own form
  (D'Addario, "String Tension 101"). 386.4 in/s² is his rounding of g = 386.089, so the same in SI,
  T[N] = mu (2 L f)², is 0.08 % higher; newtons here are the pounds converted.
- The capo does not matter: it presses the string down, it does not wind it up.
- A string that starts late (``first_fret``) is shorter by that many frets and sounds its named
  pitch at that length.
- Strings of nylon, of an unknown winding or without a gauge give None, unless the teacher typed a
  unit weight.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model.setup import GuitarString, Setup
from chalkfret.strings.weights import Weight, WeightSource, unit_weight

MM_PER_INCH: Final = 25.4
NEWTON_PER_LB: Final = 4.4482216152605  # exact: 0.45359237 kg times 9.80665 m/s²
MAKERS_G: Final = 386.4  # in/s²
_TYPED_PERCENT: Final = 1.0

LIGHTEST_COMMON: Final = 9.0  # lb (40 N): below it no common electric set goes
HEAVIEST_COMMON: Final = 28.0  # lb (125 N), about a wound set of twelve to fifty-four


class Tension(Struct, frozen=True):
    """A string's pull, what it was computed from, and how far it may be off for a new string."""

    lb: float
    newton: float
    source: WeightSource
    uncertainty_percent: float

    @property
    def outside_common_sets(self) -> bool:
        """Whether no common set is as light or as heavy."""
        return not LIGHTEST_COMMON <= self.lb <= HEAVIEST_COMMON


def frequency(string: GuitarString, a4: float) -> float:
    """Hz of an open string without capo, cents included (ISO 16: A4 is MIDI 69)."""
    return float(a4 * 2.0 ** ((string.midi - 69.0) / 12.0))


def weight_of(string: GuitarString) -> Weight | None:
    """The string's unit weight: the teacher's own figure, or that of its gauge and winding."""
    if string.unit_weight is not None:
        return Weight(string.unit_weight, WeightSource.TYPED, _TYPED_PERCENT)
    if string.gauge is None:
        return None
    return unit_weight(string.winding, string.gauge)


def pull_lb(lb_per_in: float, scale_in: float, hz: float) -> float:
    """Pounds of tension of a string of this unit weight, speaking length and frequency."""
    return float(lb_per_in * (2.0 * scale_in * hz) ** 2 / MAKERS_G)


@lru_cache(maxsize=4096)
def tension(string: GuitarString, setup: Setup) -> Tension | None:
    """The tension of one of the setup's strings, or None where it cannot be computed."""
    weight = weight_of(string)
    if weight is None:
        return None
    scale_in = setup.scale_of(string) / MM_PER_INCH * 2.0 ** (-string.first_fret / 12.0)
    lb = pull_lb(weight.lb_per_in, scale_in, frequency(string, setup.a4))
    return Tension(lb, lb * NEWTON_PER_LB, weight.source, weight.uncertainty_percent)


class Total(Struct, frozen=True):
    """The pull of all strings whose tension is known, and how many are not."""

    lb: float
    newton: float
    unknown: int


def total_tension(setup: Setup) -> Total:
    """The setup's total tension; ``unknown`` counts the strings that are left out of it."""
    each = [tension(string, setup) for course in setup.courses for string in course.strings]
    known = [one for one in each if one is not None]
    return Total(
        sum(one.lb for one in known), sum(one.newton for one in known), len(each) - len(known)
    )
