import math

import pytest
from msgspec.structs import replace

from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    BendPoint,
    Capo,
    Course,
    NaturalHarmonic,
    Note,
    Setup,
    Sign,
)
from chalkfret.theory.sounding import attack_pitch, fretted_pitch, hz, named_pitch, open_pitch
from tests.builder import riff, tuned

LOW = tuned("C2 G2 C3 F3 A3 D4")


def note(word: str, *marks: object) -> Note:
    return replace(riff(f"q {word}")[0][0], marks=marks)


def detuned(setup: Setup, course: int, **change: object) -> Setup:
    courses = list(setup.courses)
    string = replace(courses[course - 1].strings[0], **change)
    courses[course - 1] = Course((string,))
    return replace(setup, courses=tuple(courses))


def test_a_fret_counts_from_the_open_string() -> None:
    assert open_pitch(LOW, 6) == 36
    assert attack_pitch(LOW, note("6:3")) == 39
    assert attack_pitch(LOW, note("1:0")) == 62


def test_a_fret_counts_from_the_capo_where_it_lies() -> None:
    part_capo = replace(LOW, capo=Capo(2, (1, 2, 3, 4, 5)))
    assert open_pitch(part_capo, 6) == 36
    assert open_pitch(part_capo, 5) == 45
    assert attack_pitch(part_capo, note("5:3")) == 48


def test_cents_are_part_of_the_pitch_but_not_of_the_name() -> None:
    setup = detuned(LOW, 6, cents=-50.0)
    assert attack_pitch(setup, note("6:3")) == 38.5
    assert named_pitch(setup, note("6:3")) == 39


def test_a_short_string_sounds_its_pitch_up_to_where_it_starts() -> None:
    setup = detuned(LOW, 1, first_fret=5)
    assert fretted_pitch(setup, 1, 0) == 62
    assert fretted_pitch(setup, 1, 7) == 64
    assert open_pitch(replace(setup, capo=Capo(2)), 1) == 62
    assert fretted_pitch(replace(setup, capo=Capo(2)), 1, 5) == 64


def test_natural_harmonics_ring_over_the_open_string() -> None:
    assert attack_pitch(LOW, note("6:12", NaturalHarmonic(12.0))) == 48
    assert attack_pitch(LOW, note("6:7", NaturalHarmonic(7.0))) == pytest.approx(
        36 + 19.02, abs=0.01
    )
    capo = replace(LOW, capo=Capo(2))
    assert attack_pitch(capo, note("6:12", NaturalHarmonic(12.0))) == 50


def test_artificial_harmonics_ring_over_the_fretted_note() -> None:
    assert attack_pitch(LOW, note("6:3", ArtificialHarmonic())) == 51
    fifth = attack_pitch(LOW, note("6:3", ArtificialHarmonic(7.0)))
    assert fifth == pytest.approx(39 + 12 * math.log2(3))


def test_a_pre_bend_is_in_the_attack_and_a_bend_is_not() -> None:
    pre = Bend((BendPoint(0, 200), BendPoint(100, 0)))
    bend = Bend((BendPoint(0, 0), BendPoint(100, 200)))
    assert attack_pitch(LOW, note("6:3", pre)) == 41
    assert named_pitch(LOW, note("6:3", pre)) == 41
    assert attack_pitch(LOW, note("6:3", bend)) == 39


def test_a_dead_note_gives_the_pitch_of_its_fret() -> None:
    assert attack_pitch(LOW, note("6:3", Sign.DEAD)) == 39


def test_the_second_string_of_a_course_has_its_own_pitch() -> None:
    low, high = LOW.courses[5].strings[0], replace(LOW.courses[5].strings[0], pitch="C3")
    setup = replace(LOW, courses=(*LOW.courses[:5], Course((low, high))))
    assert attack_pitch(setup, note("6:3")) == 39
    assert attack_pitch(setup, note("6:3"), string=1) == 51


def test_a4_is_the_setups() -> None:
    assert hz(69, 432.0) == 432.0
    assert hz(57, 442.0) == 221.0
