from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import Course, GuitarString, Setup, Winding
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings import gauges as finder
from chalkfret.strings.gauges import (
    as_in_standard,
    best_gauge,
    best_set,
    bought_sets,
    even_sets,
    gauges_of,
    nearest_bought,
    physical,
    pull_with,
    sets_on,
    strung_with,
)
from chalkfret.strings.weights import WeightSource, unit_weight

kinds = st.sampled_from(
    [
        Winding.PLAIN,
        Winding.NICKEL_ROUND,
        Winding.STEEL_ROUND,
        Winding.STEEL_FLAT,
        Winding.BRONZE_ROUND,
    ]
)
pitches = st.builds(
    lambda name, octave: f"{name}{octave}", st.sampled_from("CDEFGAB"), st.integers(1, 4)
)


@settings(max_examples=300)
@given(kinds, pitches, st.floats(500, 900), st.floats(1, 80), st.integers(0, 5))
def test_no_real_gauge_comes_nearer(
    kind: Winding, pitch: str, scale: float, wanted: float, first_fret: int
) -> None:
    string = GuitarString(pitch, gauge=0.02, winding=kind, scale_mm=scale, first_fret=first_fret)
    setup = Setup("one", (Course((string,)),) * 3)
    best = best_gauge(string, setup, wanted)
    assert best is not None
    every = [pull_with(string, setup, gauge, kind) for gauge, _weight in gauges_of(kind)]
    assert best.lb == pytest.approx(pull_with(string, setup, best.gauge, kind))
    assert abs(best.lb - wanted) == pytest.approx(
        min(abs(lb - wanted) for lb in every if lb is not None), abs=1e-9
    )


def test_the_same_guitar_in_standard_wants_the_gauges_it_has() -> None:
    found = best_set(STANDARD_SETUP, as_in_standard(STANDARD_SETUP))
    assert strung_with(STANDARD_SETUP, found) == STANDARD_SETUP


def test_a_lower_tuning_wants_thicker_strings_and_a_longer_scale_less_so() -> None:
    low = plain_setup(["B1", "E2", "A2", "D3", "F#3", "B3"])
    wanted = as_in_standard(low)
    short, long = (best_set(one, wanted) for one in (low, replace(low, scale_mm=711.2)))
    for before, one, other in zip(physical(low), short, long, strict=True):
        assert one is not None
        assert other is not None
        assert before.gauge is not None
        assert before.gauge < one.gauge
        assert other.gauge < one.gauge


def test_fan_frets_are_reckoned_string_by_string() -> None:
    fanned = replace(
        STANDARD_SETUP,
        courses=tuple(
            Course((replace(course.strings[0], scale_mm=647.7 + 8 * number),))
            for number, course in enumerate(STANDARD_SETUP.courses)
        ),
    )
    found = best_set(fanned, as_in_standard(STANDARD_SETUP))
    assert found[0] is not None
    assert found[5] is not None
    assert found[0].gauge == 0.010
    assert found[5].gauge < 0.046


def test_nylon_has_no_real_gauges() -> None:
    string = GuitarString("E4", gauge=0.028, winding=Winding.NYLON)
    setup = Setup("one", (Course((string,)),) * 3)
    assert best_gauge(string, setup, 15.0) is None
    assert even_sets(setup) == ()


@settings(max_examples=15, deadline=None)
@given(st.lists(pitches, min_size=3, max_size=3), st.floats(600, 700))
def test_no_other_set_of_three_is_more_even(names: list[str], scale: float) -> None:
    setup = replace(plain_setup(names, [0.046, 0.036, 0.026]), scale_mm=scale)
    every = [
        [
            lb
            for gauge, _weight in gauges_of(string.winding)
            if (lb := pull_with(string, setup, gauge, string.winding)) is not None
            and 9.0 <= lb <= 28.0
        ]
        for string in physical(setup)
    ]
    sets = even_sets(setup)
    assert bool(sets) == all(every)
    if sets:
        least = min(100 * (max(one) / min(one) - 1) for one in product(*every))
        assert sets[0].spread_percent == pytest.approx(least, abs=1e-9)
        assert list(sets) == sorted(sets, key=lambda one: one.spread_percent)


def test_the_nearest_bought_set_is_the_one_that_is_on() -> None:
    found = nearest_bought(STANDARD_SETUP, as_in_standard(STANDARD_SETUP))
    assert found is not None
    assert found.bought.name == "10-46"
    assert found.swaps == ()


def test_what_to_change_in_a_bought_set() -> None:
    drop = plain_setup(["B1", "F#2", "B2", "E3", "G#3", "C#4"])
    wanted = as_in_standard(drop)
    found = nearest_bought(drop, wanted)
    assert found is not None
    for one in sets_on(drop):
        apart = sum(abs(a.lb - (b or 0)) for a, b in zip(one.strings, wanted, strict=True))
        best = sum(abs(a.lb - (b or 0)) for a, b in zip(found.bought.strings, wanted, strict=True))
        assert best <= apart
    for swap in found.swaps:
        goal = wanted[swap.string] or 0
        assert abs(swap.better.lb - goal) < abs(swap.bought.lb - goal)


def test_bought_sets_are_of_real_gauges_thin_to_thick() -> None:
    for name, row in bought_sets():
        thin, thick = name.split("-")
        assert row[0][0] == pytest.approx(float(f"0.0{thin:0>2}"))
        assert row[-1][0] == pytest.approx(float(f"0.0{thick}"))
        assert [gauge for gauge, _wound in row] == sorted(gauge for gauge, _wound in row)
        for gauge, wound in row:
            kind = Winding.NICKEL_ROUND if wound else Winding.PLAIN
            weight = unit_weight(kind, gauge)
            assert weight is not None
            if weight.source is WeightSource.BETWEEN:  # one that the table's maker does not print
                assert (name, gauge) in {("9-65", 0.065), ("10-74", 0.064), ("10-74", 0.074),
                                         ("11-64", 0.064)}  # fmt: skip
            else:
                assert weight.source is WeightSource.TABLE, (name, gauge)
    assert finder.sets_on(replace(STANDARD_SETUP, courses=STANDARD_SETUP.courses[:5])) == ()
