"""Strength and sharpness against published figures.

- Music wire: ``strength.WIRE`` is a wire supplier's table; Shigley, *Mechanical Engineering
  Design*, table 10-4, gives 201 kpsi d^-0.145 for the same wire, an independent source.
- Worked shares of a plain .009 at 25.5 in: computed by hand from the table and a string maker's
  printed tensions (chart 13934), not by this code.
- Anderson and Beausoleil, JASA 156(1):683, 2024: the stretch of their guitar (650 mm, nut 1 mm,
  saddle 4 mm above it, finger up to 10 mm behind the fret) is 25 to 45e-6; their nylon set's
  tensions from mass and frequency, and E A = kappa T of its two plain trebles of one material.
- Totals of bought sets: by the same chart (set lists from memory).
"""

import math

import pytest

from chalkfret.model import Course, GuitarString, Setup
from chalkfret.model.start import plain_setup
from chalkfret.strings.gauges import sets_on
from chalkfret.strings.sharpness import (
    ELASTICITY,
    cents_sharp,
    fret_stretch,
    sharpness,
    stroke_stretch,
)
from chalkfret.strings.strength import WIRE, WIRE_PERCENT, strength, wire_ksi
from chalkfret.strings.tension import pull_lb


@pytest.mark.parametrize(("diameter", "ksi"), WIRE)
def test_two_sources_of_music_wire_agree_as_far_as_is_said(diameter: float, ksi: float) -> None:
    assert wire_ksi(diameter) == ksi
    assert ksi == pytest.approx(201 * diameter**-0.145, rel=WIRE_PERCENT / 100)


def test_beyond_the_table_and_between_its_rows() -> None:
    assert wire_ksi(0.030) == pytest.approx(201 * 0.030**-0.145)
    assert wire_ksi(0.017) == 359.0
    assert wire_ksi(0.006) > 407


@pytest.mark.parametrize(
    ("pitch", "percent"), [("E4", 52.5), ("F#4", 66.1), ("G4", 74.2), ("A4", 93.5)]
)
def test_the_worked_shares_of_a_nine(pitch: str, percent: float) -> None:
    string = GuitarString(pitch, gauge=0.009)
    share = strength(string, Setup("one", (Course((string,)),) * 3))
    assert share is not None
    assert share.percent == pytest.approx(percent, abs=0.15)
    assert share.of_elastic_percent == pytest.approx((percent / 0.75, percent / 0.65), rel=0.003)


def test_gauge_hardly_matters_to_a_plain_strings_share() -> None:
    shares = []
    for gauge in (0.008, 0.009, 0.010, 0.011, 0.012):
        string = GuitarString("E4", gauge=gauge)
        share = strength(string, Setup("one", (Course((string,)),) * 3))
        assert share is not None
        shares.append(share.percent)
    assert max(shares) / min(shares) < 1.06


def test_the_stretch_of_the_papers_guitar() -> None:
    found = [
        fret_stretch(fret, 650.0, 1.0, 4.0, finger)
        for fret in range(1, 13)
        for finger in (0.0, 5.0, 10.0)
    ]
    assert min(found) == pytest.approx(25e-6, abs=1.5e-6)
    assert max(found) == pytest.approx(45e-6, abs=1.5e-6)


# note's frequency, mass in g/m, tension in N, kappa
NYLON = [
    (329.63, 0.374, 68.6, 48.2), (246.94, 0.505, 52.0, 48.7), (196.00, 0.836, 54.2, 58.6),
    (146.83, 1.920, 70.0, 46.0), (110.00, 3.289, 67.3, 48.7), (82.407, 5.470, 62.8, 58.2),
]  # fmt: skip


@pytest.mark.parametrize(("hz", "grams", "newton", "kappa"), NYLON)
def test_the_papers_nylon_set(hz: float, grams: float, newton: float, kappa: float) -> None:
    pounds = pull_lb(grams / 1000 / 17.857967, 650.0 / 25.4, hz)
    assert pounds * 4.4482216 == pytest.approx(newton, rel=0.003)
    # Their conclusion: uncompensated, nylon goes a few cents sharp, not tens.
    assert 0.9 < cents_sharp(kappa, 45e-6) < 2.5


def test_steel_is_what_the_book_says() -> None:
    assert pytest.approx(203.4e9, rel=1e-3) == ELASTICITY * 6894.757
    string = GuitarString("E4", gauge=0.010)
    found = sharpness(string, Setup("one", (Course((string,)),) * 3))
    assert found is not None
    # The printed tension of a .010 in E4 at 25.5 in is 16.2 lb (chart 13934).
    kappa = 29.5e6 * math.pi / 4 * 0.010**2 / 16.2
    assert found.struck.most == pytest.approx(
        600 * math.log2(1 + kappa * stroke_stretch(4.0, 647.7, 0.2)), rel=0.01
    )
    assert not found.estimate


def test_a_stroke_stretches_half_of_the_triangle() -> None:
    height, length, place = 5.0, 650.0, 0.3
    left, right = length * place, length * (1 - place)
    triangle = (math.hypot(left, height) + math.hypot(right, height)) / length - 1
    assert stroke_stretch(height, length, place) == pytest.approx(triangle / 2, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "lb"),
    [("8-38", 70.5), ("9-42", 85.1), ("10-46", 103.5), ("11-49", 118.5), ("12-54", 148.5)],
)
def test_totals_of_bought_sets(name: str, lb: float) -> None:
    found = next(one for one in sets_on(plain_setup()) if one.name == name)
    assert found.total_lb == pytest.approx(lb, abs=0.1)
