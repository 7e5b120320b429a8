import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import Capo, GuitarString, Winding
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.strings.tension import tension, total_tension
from chalkfret.strings.weights import WeightSource, unit_weight

STEELS = [w for w in Winding if w not in (Winding.NYLON, Winding.OTHER)]
PLAIN_TEN = GuitarString("E4", gauge=0.010)


def pull(string: GuitarString, **setup: object) -> float:
    found = tension(string, replace(STANDARD_SETUP, **setup))
    assert found is not None
    return found.lb


def test_unknown_gauge_or_material_is_not_computed() -> None:
    assert tension(GuitarString("E4"), STANDARD_SETUP) is None
    for winding in (Winding.NYLON, Winding.OTHER):
        string = GuitarString("E4", gauge=0.028, winding=winding)
        assert tension(string, STANDARD_SETUP) is None


def test_a_typed_unit_weight_comes_first() -> None:
    string = GuitarString("E4", winding=Winding.NYLON, unit_weight=0.00002215)
    found = tension(string, STANDARD_SETUP)
    assert found is not None
    assert found.source is WeightSource.TYPED
    assert found.lb == pytest.approx(pull(PLAIN_TEN), rel=1e-3)


@pytest.mark.parametrize(
    ("winding", "gauge", "source"),
    [
        (Winding.PLAIN, 0.010, WeightSource.TABLE),
        (Winding.PLAIN, 0.0125, WeightSource.PLAIN_FORMULA),
        (Winding.PLAIN, 0.030, WeightSource.PLAIN_FORMULA),
        (Winding.NICKEL_ROUND, 0.046, WeightSource.TABLE),
        (Winding.NICKEL_ROUND, 0.045, WeightSource.BETWEEN),
        (Winding.NICKEL_ROUND, 0.090, WeightSource.BEYOND),
        (Winding.STEEL_FLAT, 0.012, WeightSource.BEYOND),
    ],
)
def test_what_a_weight_is_computed_from(
    winding: Winding, gauge: float, source: WeightSource
) -> None:
    weight = unit_weight(winding, gauge)
    assert weight is not None
    assert weight.source is source


def test_uncertainty_grows_beyond_the_table() -> None:
    inside, beyond = (unit_weight(Winding.NICKEL_ROUND, gauge) for gauge in (0.08, 0.09))
    flat = unit_weight(Winding.STEEL_FLAT, 0.04)
    assert inside is not None
    assert beyond is not None
    assert flat is not None
    assert (inside.uncertainty_percent, beyond.uncertainty_percent) == (5.0, 10.0)
    assert flat.uncertainty_percent == 10.0


@given(st.sampled_from(STEELS), st.floats(0.006, 0.15), st.floats(0.0005, 0.01))
def test_a_much_thicker_string_is_heavier(winding: Winding, gauge: float, more: float) -> None:
    """At the seams between table and fit a step may be uneven, never by a tenth of the gauge."""
    thin, thick = unit_weight(winding, gauge), unit_weight(winding, gauge * 1.1 + more)
    assert thin is not None
    assert thick is not None
    assert thin.lb_per_in < thick.lb_per_in


@given(st.floats(300.0, 600.0), st.floats(-100.0, 100.0))
def test_tension_goes_with_the_square_of_length_and_pitch(scale: float, cents: float) -> None:
    base = pull(PLAIN_TEN, scale_mm=300.0)
    assert pull(PLAIN_TEN, scale_mm=scale) == pytest.approx(base * (scale / 300.0) ** 2)
    sharp = pull(replace(PLAIN_TEN, cents=cents), scale_mm=300.0)
    assert sharp == pytest.approx(base * 2 ** (cents / 600))


def test_an_octave_down_is_a_quarter_of_the_tension() -> None:
    assert pull(replace(PLAIN_TEN, pitch="E3")) == pytest.approx(pull(PLAIN_TEN) / 4)


def test_a_capo_does_not_wind_a_string_up() -> None:
    assert pull(PLAIN_TEN, capo=Capo(5)) == pull(PLAIN_TEN)


def test_a_string_of_its_own_length_and_one_that_starts_late() -> None:
    own = replace(PLAIN_TEN, scale_mm=600.0)
    assert pull(own) == pytest.approx(pull(PLAIN_TEN, scale_mm=600.0))
    late = replace(PLAIN_TEN, first_fret=12)
    assert pull(late) == pytest.approx(pull(PLAIN_TEN) / 4)


def test_a4_moves_all_tensions() -> None:
    assert pull(PLAIN_TEN, a4=432.0) == pytest.approx(pull(PLAIN_TEN) * (432 / 440) ** 2)


def test_outside_common_sets() -> None:
    loose = tension(replace(PLAIN_TEN, pitch="A3"), STANDARD_SETUP)
    tight = tension(GuitarString("E4", gauge=0.014), STANDARD_SETUP)
    usual = tension(PLAIN_TEN, STANDARD_SETUP)
    assert loose is not None
    assert tight is not None
    assert usual is not None
    assert (loose.outside_common_sets, tight.outside_common_sets) == (True, True)
    assert not usual.outside_common_sets


def test_a_total_counts_what_it_leaves_out() -> None:
    total = total_tension(STANDARD_SETUP)
    assert total.unknown == 0
    courses = (replace(STANDARD_SETUP.courses[0], strings=(GuitarString("E4"),)),)
    less = total_tension(replace(STANDARD_SETUP, courses=courses + STANDARD_SETUP.courses[1:]))
    assert less.unknown == 1
    assert less.lb == pytest.approx(total.lb - pull(PLAIN_TEN))
