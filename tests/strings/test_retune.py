import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import Course, Setup
from chalkfret.model.pitch import midi_of
from chalkfret.model.standards import STANDARDS
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings.cautions import CautionCode, cautions
from chalkfret.strings.retune import from_standard, standard_of, total_change_lb
from chalkfret.strings.tunings import TUNINGS, name_of, named, tunings_for
from tests.builder import tuned


def steps(setup: Setup) -> list[int]:
    """Semitones from standard, low to high."""
    return [step.semitones for step in reversed(from_standard(setup))]


# What players say of these tunings (common practice).
SAID = {
    "E2 A2 D3 G3 B3 E4": [0, 0, 0, 0, 0, 0],
    "D2 A2 D3 G3 B3 E4": [-2, 0, 0, 0, 0, 0],
    "C2 G2 C3 F3 A3 D4": [-4, -2, -2, -2, -2, -2],
    "C2 G2 D3 A3 E4 B4": [-4, -2, 0, 2, 5, 7],
    "B1 E2 A2 D3 F#3 B3": [-5] * 6,
    "A1 D2 G2 C3 E3 A3": [-7] * 6,
    "E1 A1 D2 G2 B2 E3": [0] * 6,
    "B1 E2 A2 D3 G3 B3 E4": [0] * 7,
    "A1 E2 A2 D3 G3 B3 E4": [-2, 0, 0, 0, 0, 0, 0],
    "F#1 B1 E2 A2 D3 G3 B3 E4": [0] * 8,
    "D1 A1 D2 G2": [-2, 0, 0, 0],
    "D3 G3 B3 D4": [0, 0, 0, -2],
    "C3 G3 D4 A4": [0, 0, 0, 0],
    "B0 E1 A1 D2 G2": [0] * 5,
}


@pytest.mark.parametrize("tuning", SAID)
def test_steps_from_standard(tuning: str) -> None:
    assert steps(tuned(tuning)) == SAID[tuning]


def test_a_twelve_string_keeps_its_octaves() -> None:
    courses = tuple(
        Course((
            course.strings[0],
            replace(course.strings[0], pitch=f"{course.strings[0].pitch[:-1]}{octave}"),
        ))
        for course, octave in zip(STANDARD_SETUP.courses, (4, 3, 4, 4, 3, 3), strict=True)
    )  # fmt: skip
    setup = replace(STANDARD_SETUP, courses=courses)
    assert {step.semitones for step in from_standard(setup)} == {0}
    assert len(from_standard(setup)) == 12
    assert name_of(setup) == "Twelve-string standard"


@given(st.integers(3, 12), st.data())
def test_steps_lead_from_standard_to_the_setup(count: int, data: st.DataObject) -> None:
    octaves = st.integers(1, 4)
    pitches = [f"{data.draw(st.sampled_from('CDEFGAB'))}{data.draw(octaves)}" for _ in range(count)]
    setup = plain_setup(pitches, [0.020] * count)
    assert standard_of(setup) in STANDARDS[count]
    for step in from_standard(setup):
        assert midi_of(step.standard) + step.semitones == midi_of(step.pitch)
        assert step.change_lb is not None
        assert (step.change_lb > 0) == (step.semitones > 0)


def test_cents_change_tension_too() -> None:
    string = replace(STANDARD_SETUP.courses[0].strings[0], cents=-14.0)
    setup = replace(STANDARD_SETUP, courses=(Course((string,)), *STANDARD_SETUP.courses[1:]))
    first = from_standard(setup)[0]
    assert (first.semitones, first.cents) == (0, -14.0)
    assert first.change_lb is not None
    assert -0.5 < first.change_lb < 0
    assert total_change_lb(setup) == pytest.approx(first.change_lb)


def test_a_total_change_needs_every_gauge() -> None:
    assert total_change_lb(STANDARD_SETUP) == 0
    assert total_change_lb(tuned("C2 G2 C3 F3 A3 D4")) is None


# --- cautions -------------------------------------------------------------------------------------


def codes(setup: Setup) -> list[CautionCode]:
    return [caution.code for caution in cautions(setup)]


def test_every_setup_says_that_strings_snap_and_whom_to_ask() -> None:
    assert codes(STANDARD_SETUP) == [
        CautionCode.STRINGS_SNAP,
        CautionCode.MAKERS_MANUAL,
        CautionCode.ESTIMATES,
    ]


def test_a_great_change_of_tension_is_said() -> None:
    low = plain_setup(["C2", "G2", "C3", "F3", "A3", "D4"])
    found = {caution.code: caution for caution in cautions(low)}
    assert found[CautionCode.NECK_AND_BRIDGE].lb == pytest.approx(-24.2, abs=0.1)
    drop = plain_setup(["D2", "A2", "D3", "G3", "B3", "E4"])
    assert CautionCode.NECK_AND_BRIDGE not in codes(drop)


def test_an_unknown_change_is_said_and_no_estimate_of_nothing() -> None:
    assert codes(tuned("C2 G2 C3 F3 A3 D4")) == [
        CautionCode.STRINGS_SNAP,
        CautionCode.NECK_AND_BRIDGE,
        CautionCode.MAKERS_MANUAL,
    ]


def test_loose_tight_and_thick_strings_are_said() -> None:
    gauges = [0.070, 0.036, 0.026, 0.017, 0.013, 0.010]
    thick = codes(plain_setup(gauges=gauges))
    assert CautionCode.HEAVY_STRING in thick
    assert CautionCode.NUT_SLOTS in thick
    loose = cautions(plain_setup(["A1", "D2", "G2", "C3", "E3", "A3"]))
    assert CautionCode.LIGHT_STRING in [caution.code for caution in loose]
    assert all(
        caution.course and caution.lb and caution.lb < 9
        for caution in loose
        if caution.code is CautionCode.LIGHT_STRING
    )


# --- the trade's tunings --------------------------------------------------------------------------


def test_no_tuning_stands_twice_and_every_pitch_is_one() -> None:
    assert len({tuning.courses for tuning in TUNINGS}) == len(TUNINGS)
    assert len({tuning.name for tuning in TUNINGS}) == len(TUNINGS)
    for tuning in TUNINGS:
        assert len(tuning.courses) in STANDARDS
        assert all(midi_of(pitch) for course in tuning.courses for pitch in course)


@pytest.mark.parametrize(
    ("typed", "row"),
    [
        ("drop D", "D2 A2 D3 G3 B3 E4"),
        ("DROP  C", "C2 G2 C3 F3 A3 D4"),
        ("dadgad", "D2 A2 D3 G3 A3 D4"),
        ("Whole step down", "D2 G2 C3 F3 A3 D4"),
        ("c# standard", "C#2 F#2 B2 E3 G#3 C#4"),
        ("half-step down", "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"),
        ("baritone B", "B1 E2 A2 D3 F#3 B3"),
        ("open g", "D2 G2 D3 G3 B3 D4"),
    ],
)
def test_a_tuning_by_its_name(typed: str, row: str) -> None:
    tuning = named(typed)
    assert tuning is not None
    assert " ".join(tuning.pitches) == row


def test_what_has_no_name() -> None:
    assert named("") is None
    assert named("drop dead") is None
    assert name_of(tuned("C#2 G2 C3 F3 A3 D4")) is None


def test_a_setup_is_known_by_its_pitches_however_they_are_spelled() -> None:
    assert name_of(tuned("D#2 G#2 C#3 F#3 A#3 D#4")) == "E flat standard"
    assert name_of(STANDARD_SETUP) == "Standard"


def test_tunings_for_a_number_of_strings() -> None:
    assert {len(tuning.courses) for tuning in tunings_for(7)} == {7}
    assert tunings_for(6)[0].name == "Standard"
    assert sum(len(tunings_for(count)) for count in range(3, 13)) == len(TUNINGS)
