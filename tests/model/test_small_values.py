"""Small questions that values answer about themselves."""

import pytest

from chalkfret.model import (
    QUARTER,
    ArtificialHarmonic,
    Bars,
    BeatUnit,
    Bend,
    BendPoint,
    Capo,
    Note,
    Retune,
    Sign,
    Slide,
    SlideWay,
    SwingUnit,
    Vibrato,
    fault,
    in_order,
    mark_name,
    setup_in,
    tuning_names,
    validate,
)
from chalkfret.model.faults import Fault, Where
from chalkfret.model.marks import MARK_ORDER
from chalkfret.model.standards import nearest_standard
from chalkfret.model.start import new_lesson
from tests.builder import lesson, part, section, tuned


def test_notes_know_their_marks() -> None:
    note = Note(QUARTER, 2 * QUARTER, 6, 3, marks=(Sign.HAMMER_ON, Vibrato()))
    assert note.end == 3 * QUARTER
    assert note.has(Sign.HAMMER_ON)
    assert not note.has(Sign.TIE)
    assert note.mark(Vibrato) == Vibrato()
    assert note.mark(Bend) is None


def test_marks_have_one_order() -> None:
    given = (Sign.UP_STROKE, Vibrato(), Sign.TIE, Vibrato(wide=True), Slide(SlideWay.OUT_UP),
             Slide(SlideWay.IN_FROM_BELOW))  # fmt: skip
    assert in_order(given) == (
        Sign.TIE, Slide(SlideWay.IN_FROM_BELOW), Slide(SlideWay.OUT_UP), Vibrato(wide=True),
        Sign.UP_STROKE,
    )  # fmt: skip
    assert mark_name(Sign.PALM_MUTE) == "palm_mute"
    assert mark_name(ArtificialHarmonic()) == "artificial_harmonic"
    assert len(set(MARK_ORDER)) == len(MARK_ORDER)
    assert {sign.value for sign in Sign} <= set(MARK_ORDER)
    assert mark_name(Bend((BendPoint(0, 0),))) in MARK_ORDER


def test_a_setup_by_its_courses() -> None:
    setup = tuned("D2 A2 D3 G3 B3 E4", capo=Capo(2, (1, 2)))
    assert tuning_names(setup) == ("D2", "A2", "D3", "G3", "B3", "E4")
    assert setup.course(6).strings[0].midi == 38.0
    assert [setup.capo_fret(course) for course in (1, 2, 3)] == [2, 2, 0]
    assert setup.scale_of(setup.course(1).strings[0]) == setup.scale_mm
    everywhere = tuned("E2 A2 D3 G3 B3 E4", capo=Capo(3))
    assert everywhere.capo_fret(6) == 3
    assert tuned("E2 A2 D3 G3 B3 E4").capo_fret(6) == 0


def test_a_section_may_retune_a_part() -> None:
    low = part("Low")
    drop = tuned("D2 A2 D3 G3 B3 E4")
    found = lesson(section("A", "q 6:0", retunes=(Retune("low", drop),)), parts=(low,))
    assert setup_in(found.sections[0], low) == drop
    assert setup_in(found.sections[0], part("High")) == part("High").setup


def test_units_in_ticks() -> None:
    assert [unit.ticks * 4 // QUARTER for unit in BeatUnit] == [8, 12, 4, 6, 2, 3, 1]
    assert [unit.ticks * 4 // QUARTER for unit in SwingUnit] == [2, 1]


def test_a_new_lesson_is_sound() -> None:
    fresh = new_lesson("Slate", bars=3)
    assert validate(fresh) == ()
    assert len(fresh.sections[0].bars) == 3
    assert fresh.head.title == "Slate"


def test_bars_by_index() -> None:
    bars = new_lesson(bars=3).sections[0].bars
    assert len(Bars(())) == 0
    for index in (-1, 3):
        with pytest.raises(IndexError):
            bars[index]
    assert bars.with_bars({1: bars[1]}) is bars


def test_faults_in_a_line() -> None:
    assert fault("fret_range", Where("A"), fret=40) == Fault(
        "fret_range", Where("A"), (("fret", 40),)
    )
    assert fault("no_bars").where == Where()


def test_the_nearest_standard_needs_a_clear_lead() -> None:
    assert nearest_standard([10.0, 6.0]) == 0
    assert nearest_standard([10.0, 4.0]) == 1
