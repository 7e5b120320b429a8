"""What the Strings page does to a setup, and what it reads."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.strings_page import readers
from chalkfret.desk.strings_page.setups import (
    Doubling,
    doubled,
    doubling_of,
    with_count,
    with_courses,
    with_pitches,
    with_string,
    with_strings_in,
)
from chalkfret.model import Capo, NoteNaming, Winding, tuning_names
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.strings.tunings import named


def test_a_new_tuning_keeps_gauges_and_takes_its_trade_name():
    low = with_pitches(STANDARD_SETUP, ("C2", "G2", "C3", "F3", "A3", "D4"))
    assert tuning_names(low) == ("C2", "G2", "C3", "F3", "A3", "D4")
    assert [c.strings[0].gauge for c in low.courses] == [
        c.strings[0].gauge for c in STANDARD_SETUP.courses
    ]
    assert low.name == "Drop C"
    odd = with_pitches(low, ("C2", "G2", "D3", "F3", "A3", "D4"))
    assert odd.name == "C G D F A D"


def test_a_name_of_the_teachers_own_stays():
    mine = replace(STANDARD_SETUP, name="The old blue one")
    assert with_pitches(mine, ("D2", "A2", "D3", "G3", "B3", "E4")).name == "The old blue one"


def test_the_same_tuning_is_the_same_object():
    assert with_pitches(STANDARD_SETUP, tuning_names(STANDARD_SETUP)) is STANDARD_SETUP


def test_strings_come_and_go_on_the_low_side():
    seven = with_count(STANDARD_SETUP, 7)
    assert tuning_names(seven) == ("B1", *tuning_names(STANDARD_SETUP))
    assert with_count(seven, 6).courses == STANDARD_SETUP.courses
    low = with_pitches(STANDARD_SETUP, ("D2", "G2", "C3", "F3", "A3", "D4"))
    assert tuning_names(with_count(low, 7))[0] == "A1"


def test_a_capo_on_strings_that_go_is_taken_off_them():
    setup = replace(with_count(STANDARD_SETUP, 7), capo=Capo(2, (5, 6, 7)))
    assert with_count(setup, 6).capo == Capo(2, (5, 6))
    assert with_count(setup, 4).capo is None


def test_a_twelve_string_pairs_octaves_below_and_unisons_above():
    twelve = doubled(STANDARD_SETUP, Doubling.TWELVE)
    pairs = [tuple(one.pitch for one in course.strings) for course in reversed(twelve.courses)]
    assert pairs == [
        ("E2", "E3"), ("A2", "A3"), ("D3", "D4"), ("G3", "G4"), ("B3", "B3"), ("E4", "E4"),
    ]  # fmt: skip
    assert doubling_of(twelve) is Doubling.TWELVE
    assert doubled(twelve, Doubling.SINGLE).courses == STANDARD_SETUP.courses
    retuned = with_pitches(twelve, ("D2", "A2", "D3", "G3", "B3", "D4"))
    assert [one.pitch for one in retuned.course(6).strings] == ["D2", "D3"]
    assert [one.pitch for one in retuned.course(1).strings] == ["D4", "D4"]


def test_the_trades_twelve_string_tuning_is_its_courses():
    tuning = named("twelve-string drop D")
    made = with_courses(STANDARD_SETUP, tuning.courses)
    assert [one.pitch for one in made.course(6).strings] == ["D2", "D3"]
    assert made.course(6).strings[0].gauge == STANDARD_SETUP.course(6).strings[0].gauge


def test_a_course_of_its_own_kind_is_mixed():
    setup = with_strings_in(STANDARD_SETUP, 6, 2)
    assert [one.pitch for one in setup.course(6).strings] == ["E2", "E3"]
    assert doubling_of(setup) is Doubling.MIXED
    assert with_strings_in(setup, 6, 1).courses == STANDARD_SETUP.courses


def test_a_first_gauge_says_whether_the_string_is_wound():
    bare = with_string(STANDARD_SETUP, 6, 0, gauge=None, winding=Winding.PLAIN)
    assert with_string(bare, 6, 0, gauge=0.056).course(6).strings[0].winding is not Winding.PLAIN
    assert with_string(bare, 6, 0, gauge=0.012).course(6).strings[0].winding is Winding.PLAIN


@pytest.mark.parametrize(
    ("text", "inches"),
    [("46", 0.046), (".046", 0.046), ("0.046", 0.046), ("9.5", 0.0095), ("9,5", 0.0095),
     ("24 w", 0.024), ("1.17 mm", 0.04606), ("", None), (" 10 ", 0.010)],
)  # fmt: skip
def test_gauges_as_they_are_typed(text, inches):
    assert readers.read_gauge(text) == inches


@pytest.mark.parametrize("text", ["thick", "460", "0.4", "46 cm", "-46"])
def test_what_is_no_gauge_is_said(text):
    with pytest.raises(Unreadable, match=r"(?i)gauge"):
        readers.read_gauge(text)


@given(st.integers(50, 2000).map(lambda n: n / 10_000))
def test_a_written_gauge_reads_as_the_same(inches):
    assert readers.read_gauge(readers.write_gauge(inches)) == pytest.approx(inches, abs=1e-5)


@given(st.floats(300, 1200).map(lambda mm: round(mm, 1)))
def test_a_written_length_reads_as_the_same(mm):
    assert readers.read_length(readers.write_length(mm)) == pytest.approx(mm, abs=0.02)


@pytest.mark.parametrize(
    ("text", "mm"),
    [("25.5", 647.7), ("25.5 in", 647.7), ("25 1/2", 647.7), ("648 mm", 648.0), ("648", 648.0),
     ("64,8 cm", 648.0), ('27"', 685.8)],
)  # fmt: skip
def test_scale_lengths_as_they_are_typed(text, mm):
    assert readers.read_length(text) == pytest.approx(mm)


def test_one_note_without_octave_is_the_nearest():
    read = readers.pitch_reader(NoteNaming.ENGLISH, lambda: "E2")
    assert [read(text) for text in ("D", "F#", "eb", "B", "C3")] == ["D2", "F#2", "Eb2", "B1", "C3"]
    german = readers.pitch_reader(NoteNaming.GERMAN, lambda: "H2".replace("H", "B"))
    assert german("H") == "B2"
    assert german("B") == "Bb2"
    with pytest.raises(Unreadable):
        read("Q")


@pytest.mark.parametrize(
    ("text", "courses"), [("", ()), ("all", ()), ("1-5", (1, 2, 3, 4, 5)), ("6 5, 1", (1, 5, 6)),
                          ("1-6", ()), ("2–3", (2, 3))],
)  # fmt: skip
def test_strings_under_a_capo(text, courses):
    assert readers.courses_reader(lambda: 6)(text) == courses


@pytest.mark.parametrize("text", ["7", "0", "5-2", "a", "1-"])
def test_strings_that_are_not_there(text):
    with pytest.raises(Unreadable):
        readers.courses_reader(lambda: 6)(text)
