"""Unit weights of strings: from a published table, between its rows, and beyond them.

Conventions
-----------
- Gauges (diameters d) in inches, unit weights in pounds an inch, uncertainties in percent either
  way, about what a new string of the table's maker weighs. Another maker's wound strings may be
  off by up to ``OTHER_MAKER_PERCENT``: measured -12 to +32 % against the table.
- Source of the table: resources/strings/unit_weights.csv names it.
- Between rows of a family, unit weight / d² is interpolated: leaving one row out misses it by at
  most 2.5 % for round wound and 7.7 % for flat wound strings.
- Plain steel of any gauge weighs 0.22152 d² (7.807 g/cm³; within 0.04 % of the table's rows).
- Beyond a wound family's rows it is a d² + b d, fitted to the family's own rows by least squares of
  the relative error; tests fit it again.
"""

from __future__ import annotations

from bisect import bisect_left
from csv import DictReader
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct

from chalkfret.model.setup import Winding
from chalkfret.places import RESOURCES

OTHER_MAKER_PERCENT: Final = 30.0

PLAIN_STEEL: Final = 0.22152  # lb/in³ times pi/4
WOUND_FITS: Final[dict[Winding, tuple[float, float]]] = {
    Winding.NICKEL_ROUND: (0.17820, 2.376e-4),
    Winding.STEEL_ROUND: (0.18369, 3.657e-4),
    Winding.STEEL_FLAT: (0.18879, 1.5925e-4),
    Winding.BRONZE_ROUND: (0.20291, 3.609e-5),
}
_FLAT_PERCENT: Final = 10.0
_ROUND_PERCENT: Final = 5.0
_PLAIN_PERCENT: Final = 1.0
_BEYOND_FACTOR: Final = 2.0  # outside the rows nothing holds the fit: twice the uncertainty


class WeightSource(StrEnum):
    """Where a unit weight comes from."""

    TYPED = "typed"  # the teacher's own figure
    TABLE = "table"
    BETWEEN = "between"  # interpolated between two rows
    PLAIN_FORMULA = "plain_formula"
    BEYOND = "beyond"  # the family's fitted formula, outside its rows


class Weight(Struct, frozen=True):
    """A string's unit weight in lb/in, where it comes from, and how far it may be off."""

    lb_per_in: float
    source: WeightSource
    uncertainty_percent: float


@lru_cache(maxsize=1)
def table() -> dict[Winding, tuple[tuple[float, float], ...]]:
    """The table: for each family its gauges and unit weights, thin to thick."""
    path = RESOURCES / "strings" / "unit_weights.csv"
    lines = [
        line for line in path.read_text("utf-8").splitlines() if line and not line.startswith("#")
    ]
    rows: dict[Winding, list[tuple[float, float]]] = {}
    for row in DictReader(lines):
        pair = (float(row["gauge_in"]), float(row["unit_weight_lb_per_in"]))
        rows.setdefault(Winding(row["family"]), []).append(pair)
    return {family: tuple(sorted(pairs)) for family, pairs in rows.items()}


@lru_cache(maxsize=1024)
def unit_weight(winding: Winding, gauge: float) -> Weight | None:
    """The unit weight of a string; None for a winding that the table does not know."""
    rows = table().get(winding)
    if rows is None:
        return None
    usual = _usual_percent(winding)
    exact = dict(rows).get(round(gauge, 4))
    if exact is not None:
        return Weight(exact, WeightSource.TABLE, usual)
    if winding is Winding.PLAIN:
        return Weight(PLAIN_STEEL * gauge**2, WeightSource.PLAIN_FORMULA, usual)
    if rows[0][0] < gauge < rows[-1][0]:
        return Weight(_between(rows, gauge), WeightSource.BETWEEN, usual)
    square, linear = WOUND_FITS[winding]
    weight = square * gauge**2 + linear * gauge
    return Weight(weight, WeightSource.BEYOND, usual * _BEYOND_FACTOR)


def _between(rows: tuple[tuple[float, float], ...], gauge: float) -> float:
    at = bisect_left(rows, (gauge, 0.0))
    (thin, light), (thick, heavy) = next(pairwise(rows[at - 1 : at + 1]))
    share = (gauge - thin) / (thick - thin)
    per_square = (1 - share) * light / thin**2 + share * heavy / thick**2
    return per_square * gauge**2


def _usual_percent(winding: Winding) -> float:
    if winding is Winding.PLAIN:
        return _PLAIN_PERCENT
    return _FLAT_PERCENT if winding is Winding.STEEL_FLAT else _ROUND_PERCENT
