"""Tension against a string maker's published chart, and the trade's own sets.

- data/string_tensions.csv: 949 printed tensions at 25.5 in in five families; the file names its
  source. The formula is the maker's; 0.07 lb is how far it comes from the printed figures.
- Plain steel: density 7.85 g/cm³ as textbooks have it (from memory), within 0.6 %.
- Totals of common sets: computed once from the same chart by the trade's set lists (from memory).
"""

import csv
import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from chalkfret.model import GuitarString, Setup, Winding
from chalkfret.model.setup import Course
from chalkfret.model.start import plain_setup
from chalkfret.strings.tension import MM_PER_INCH, NEWTON_PER_LB, frequency, tension, total_tension
from chalkfret.strings.weights import (
    PLAIN_STEEL,
    WOUND_FITS,
    WeightSource,
    table,
    unit_weight,
)

DATA = Path(__file__).parent / "data" / "string_tensions.csv"
KG_PER_M = 17.857967  # of one pound an inch: 0.45359237 / 0.0254


def printed() -> list[dict[str, str]]:
    lines = [line for line in DATA.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def strung(row: dict[str, str]) -> tuple[GuitarString, Setup]:
    string = GuitarString(row["note"], gauge=float(row["gauge_in"]), winding=Winding(row["family"]))
    setup = Setup("one", (Course((string,)),) * 3, scale_mm=float(row["scale_in"]) * MM_PER_INCH)
    return string, setup


def test_all_949_printed_tensions() -> None:
    rows = printed()
    assert len(rows) == 949
    worst = 0.0
    for row in rows:
        pull = tension(*strung(row))
        assert pull is not None
        assert pull.source is WeightSource.TABLE
        worst = max(worst, abs(pull.lb - float(row["tension_lb"])))
    assert worst <= 0.07


def test_si_units_agree_within_a_tenth_of_a_percent() -> None:
    """T = mu (2 L f)² in kg, m, s; the maker rounds g to 386.4 in/s²."""
    for row in printed():
        string, setup = strung(row)
        pull = tension(string, setup)
        weight = unit_weight(string.winding, string.gauge or 0.0)
        assert pull is not None
        assert weight is not None
        mu = weight.lb_per_in * KG_PER_M
        newton = mu * (2 * setup.scale_mm / 1000 * frequency(string, 440.0)) ** 2
        assert pull.newton == pytest.approx(newton, rel=1e-3)
        assert pull.newton == pytest.approx(pull.lb * NEWTON_PER_LB)


def test_the_plain_steel_formula_fits_the_chart_and_the_textbook() -> None:
    for gauge, weight in table()[Winding.PLAIN]:
        rounding = 0.5e-8 / weight  # the chart prints eight places
        assert PLAIN_STEEL * gauge**2 == pytest.approx(weight, rel=4e-4 + rounding)
    lb_per_cubic_inch = 7.85e3 * 0.0254**3 / 0.45359237
    assert math.pi / 4 * lb_per_cubic_inch == pytest.approx(PLAIN_STEEL, rel=6e-3)


@pytest.mark.parametrize("winding", WOUND_FITS)
def test_the_fit_beyond_the_rows_is_that_of_the_rows(winding: Winding) -> None:
    """numpy's least squares of the relative error gives the same two figures."""
    rows = np.array(table()[winding])
    gauge, weight = rows[:, 0], rows[:, 1]
    matrix = np.stack([gauge**2 / weight, gauge / weight], axis=1)
    fit = np.linalg.lstsq(matrix, np.ones(len(rows)), rcond=None)[0]
    assert WOUND_FITS[winding] == pytest.approx(tuple(fit), rel=2e-4)


@pytest.mark.parametrize(
    ("winding", "most"),
    [
        (Winding.PLAIN, 0.0004),
        (Winding.NICKEL_ROUND, 0.026),
        (Winding.STEEL_ROUND, 0.022),
        (Winding.BRONZE_ROUND, 0.015),
        (Winding.STEEL_FLAT, 0.077),
    ],
)
def test_a_row_left_out_is_found_again_within_the_stated_uncertainty(
    winding: Winding, most: float
) -> None:
    rows = table()[winding]
    for (thin, light), (gauge, weight), (thick, heavy) in zip(
        rows, rows[1:], rows[2:], strict=False
    ):
        per_square = np.interp(gauge, [thin, thick], [light / thin**2, heavy / thick**2])
        assert per_square * gauge**2 == pytest.approx(weight, rel=most)
    stated = unit_weight(winding, rows[0][0])
    assert stated is not None
    assert most * 100 <= stated.uncertainty_percent


def test_between_two_rows_weight_rises_with_gauge() -> None:
    for winding in WOUND_FITS:
        for (thin, light), (thick, heavy) in pairwise(table()[winding]):
            middle = unit_weight(winding, (thin + thick) / 2)
            assert middle is not None
            assert light < middle.lb_per_in < heavy


# Totals of common sets in standard tuning at 25.5 in, lb (set lists from memory).
SETS = {
    ".038 .030 .021 .015 .010 .008": 70.5,
    ".042 .032 .024 .016 .011 .009": 85.1,
    ".046 .036 .026 .017 .013 .010": 103.5,
}


@pytest.mark.parametrize("gauges", SETS)
def test_the_total_of_a_common_set(gauges: str) -> None:
    setup = plain_setup(gauges=[float(gauge) for gauge in gauges.split()])
    assert total_tension(setup).lb == pytest.approx(SETS[gauges], abs=0.05)
