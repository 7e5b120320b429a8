import pytest
from msgspec.structs import replace

from chalkfret.model import Course, GuitarString, Setup, Winding
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.strings.cautions import CautionCode, cautions
from chalkfret.strings.sharpness import sharpness
from chalkfret.strings.strength import Zone, strength


def alone(pitch: str, **more: object) -> tuple[GuitarString, Setup]:
    string = replace(GuitarString(pitch, gauge=0.010), **more)
    return string, Setup("one", (Course((string,)),) * 3)


@pytest.mark.parametrize(
    ("pitch", "zone"), [("E4", Zone.BELOW), ("F#4", Zone.AT_LIMIT), ("B4", Zone.PAST_LIMIT)]
)
def test_the_zones_of_a_plain_string(pitch: str, zone: Zone) -> None:
    share = strength(*alone(pitch, gauge=0.009))
    assert share is not None
    assert share.zone is zone


def test_what_is_not_computed() -> None:
    assert strength(*alone("E2", gauge=0.046, winding=Winding.NICKEL_ROUND)) is None
    assert strength(*alone("E2", gauge=0.043, winding=Winding.NYLON)) is None
    assert strength(*alone("E4", gauge=None)) is None
    other = alone("E2", gauge=0.05, winding=Winding.OTHER, unit_weight=3e-4, core_gauge=0.02)
    assert strength(*other) is None
    assert sharpness(*other) is None


def test_a_told_core_carries_the_pull_of_a_wound_string() -> None:
    wound = alone("E2", gauge=0.046, winding=Winding.NICKEL_ROUND, core_gauge=0.018)
    share = strength(*wound)
    assert share is not None
    assert share.percent == pytest.approx(100 * 17.5 / (2.5447e-4 * 356_000), rel=0.01)


def test_wound_sharpness_is_a_span_until_the_core_is_told() -> None:
    guessed = sharpness(*alone("E2", gauge=0.046, winding=Winding.NICKEL_ROUND))
    told = sharpness(*alone("E2", gauge=0.046, winding=Winding.NICKEL_ROUND, core_gauge=0.018))
    assert guessed is not None
    assert told is not None
    assert guessed.estimate
    assert told.estimate
    for fret in range(1, 25):
        assert guessed.at(fret).least < told.at(fret).least < guessed.at(fret).most
        assert told.at(fret).least == told.at(fret).most


def test_a_string_tuned_down_goes_sharper_and_higher_action_does_too() -> None:
    high, low = sharpness(*alone("E4")), sharpness(*alone("A3"))
    assert high is not None
    assert low is not None
    # A fifth down is four ninths of the pull; the logarithm bends hardly at these sizes.
    assert low.struck.most / high.struck.most == pytest.approx(2 ** (14 / 12), rel=0.01)
    string, setup = alone("E4")
    tall = sharpness(string, replace(setup, nut_height_mm=1.0, saddle_height_mm=6.0))
    assert tall is not None
    assert not tall.usual_heights
    assert high.usual_heights
    assert all(tall.at(fret).most > high.at(fret).most for fret in range(1, 25))


def test_strings_near_their_limit_are_warned_of_before_others() -> None:
    course = Course((replace(STANDARD_SETUP.courses[0].strings[0], pitch="F#4"),))
    higher = replace(STANDARD_SETUP, courses=(course, *STANDARD_SETUP.courses[1:]))
    found = cautions(higher)
    assert found[1].code is CautionCode.ELASTIC_LIMIT
    assert found[1].course == 1
    assert found[1].percent == pytest.approx(66, abs=2)
