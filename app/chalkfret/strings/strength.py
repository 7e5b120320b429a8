"""How near a string is to breaking, and to where it no longer springs back.

Conventions
-----------
- The steel that carries the pull is the whole of a plain string and the core of a wound one; the
  wrap carries nothing (common practice). A core is reckoned as round: a hexagonal one has up to a
  tenth more steel, so its true share is smaller.
- Strength is the *minimum* tensile strength of music wire (ASTM A228) by diameter, ksi = 1000
  lb/in²: a wire supplier's printed table from .007 to .026 in; beyond it 201 kpsi d^-0.145, d in
  inches (Shigley, *Mechanical Engineering Design*, table 10-4), which comes within 2.5 % of the
  table. How much a maker's wire exceeds the minimum is not known here.
- The elastic limit lies at 65 to 75 % of it (same book, table 10-5).
- Not computed (None): nylon, an unknown kind, a wound string whose core nobody told.
- Shares are in percent of the static pull at pitch; bends, knots, rust and age come on top. A
  small share is no promise: no string is called safe here.
"""

from __future__ import annotations

import math
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct

from chalkfret.model.setup import GuitarString, Setup, Winding
from chalkfret.strings.tension import tension

# Diameter in inches and minimum tensile strength in ksi.
WIRE: Final = (
    (0.007, 407.0), (0.008, 399.0), (0.009, 393.0), (0.010, 387.0), (0.011, 382.0),
    (0.012, 377.0), (0.013, 373.0), (0.014, 369.0), (0.015, 365.0), (0.016, 362.0),
    (0.018, 356.0), (0.020, 350.0), (0.022, 345.0), (0.024, 341.0), (0.026, 337.0),
)  # fmt: skip
_FORMULA_KSI: Final = 201.0
_FORMULA_POWER: Final = -0.145
WIRE_PERCENT: Final = 2.5  # how far the two sources are apart
ELASTIC_LEAST: Final = 65.0  # percent of the breaking strength
ELASTIC_MOST: Final = 75.0


class Zone(StrEnum):
    """Where a string stands against the elastic limit; none of them is a promise."""

    BELOW = "below"
    AT_LIMIT = "at_limit"  # 65 to 75 %: it may stretch for good
    PAST_LIMIT = "past_limit"


class Strength(Struct, frozen=True):
    """A string's pull as a share of the least breaking strength of its steel."""

    percent: float
    of_elastic_percent: tuple[float, float]  # of the limit's upper and lower end
    uncertainty_percent: float  # of the share, either way: weight and wire together

    @property
    def zone(self) -> Zone:
        """Below, within or past the range in which the elastic limit lies."""
        if self.percent < ELASTIC_LEAST:
            return Zone.BELOW
        return Zone.AT_LIMIT if self.percent < ELASTIC_MOST else Zone.PAST_LIMIT


def wire_ksi(diameter: float) -> float:
    """The least tensile strength in ksi of music wire of a diameter in inches."""
    if not WIRE[0][0] <= diameter <= WIRE[-1][0]:
        return float(_FORMULA_KSI * diameter**_FORMULA_POWER)
    for (thin, strong), (thick, weak) in pairwise(WIRE):
        if diameter <= thick:
            return strong + (weak - strong) * (diameter - thin) / (thick - thin)
    raise AssertionError(diameter)


def core_of(string: GuitarString) -> float | None:
    """The diameter in inches of the steel that carries the pull, where it is known."""
    if string.winding is Winding.PLAIN:
        return string.gauge
    if string.winding in (Winding.NYLON, Winding.OTHER):
        return None
    return string.core_gauge


def area_in2(diameter: float) -> float:
    """The cross-section in square inches of a round wire."""
    return math.pi / 4 * diameter**2


@lru_cache(maxsize=4096)
def strength(string: GuitarString, setup: Setup) -> Strength | None:
    """How near one of the setup's strings is to breaking, or None where it is not computed."""
    pull, core = tension(string, setup), core_of(string)
    if pull is None or core is None:
        return None
    percent = 100 * pull.lb / (area_in2(core) * wire_ksi(core) * 1000)
    return Strength(
        percent,
        (100 * percent / ELASTIC_MOST, 100 * percent / ELASTIC_LEAST),
        pull.uncertainty_percent + WIRE_PERCENT,
    )
