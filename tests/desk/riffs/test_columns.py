"""Columns of the grid: where bars and ticks stand, and what is reckoned anew."""

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.desk.riffs.columns import Columns, changed_bars, heads_are_same, tuplets
from chalkfret.edits import bars, notes
from chalkfret.edits.place import Spot
from chalkfret.model import QUARTER, BarHead, Meter
from tests.builder import lesson, section

LONG = lesson(
    section("A", " | ".join(["q 6:0 3 5 0"] * 70)),
    section("B", "e 6:0 | e 6:3", meter=(7, 8), heads={1: BarHead(Meter(3, 4), steps=(3, 4, 5))}),
)


def test_bars_stand_behind_one_another():
    columns = Columns(LONG)
    assert columns.bar_column(0, 0) == 0
    assert columns.bar_column(0, 69) == 69 * 16
    assert columns.bar_column(1, 0) == 70 * 16
    assert columns.total == 70 * 16 + 14 + 12


@given(st.integers(0, 70 * 16 + 14 + 12 - 1))
def test_a_column_and_its_place_are_one(column):
    columns = Columns(LONG)
    assert columns.column(*columns.place(column)) == column


def test_a_tick_off_the_steps_lies_between_them():
    columns = Columns(LONG)
    assert columns.column(1, 1, QUARTER // 2) == columns.bar_column(1, 1) + 1.5


def test_an_edit_of_notes_moves_nothing_and_one_of_steps_does():
    columns = Columns(LONG)
    edited = notes.set_fret(LONG, Spot(0, 65, 0, 0, 5), 7, QUARTER)
    assert not columns.show(edited)
    assert columns.heads_seen == 0
    cut = bars.set_steps(edited, 0, 3, 3, beat=1)
    assert columns.show(cut)
    assert columns.heads_seen == 1
    assert columns.total == Columns(cut).total


@given(st.integers(0, 69), st.integers(1, 6), st.booleans())
def test_shown_step_by_step_or_from_nothing_is_the_same(bar, count, insert):
    columns = Columns(LONG)
    after = bars.insert(LONG, 0, bar, count) if insert else bars.delete(LONG, 0, bar % 60, count)
    columns.show(after)
    fresh = Columns(after)
    for index in range(len(after.sections[0].bars) + 1):
        assert columns.bar_column(0, index) == fresh.bar_column(0, index)
    assert columns.bar_column(1, 2) == fresh.bar_column(1, 2)


def test_changed_bars_are_found_by_identity():
    edited = notes.set_fret(LONG, Spot(0, 65, 0, 0, 5), 7, QUARTER)
    assert changed_bars(LONG.sections[0].bars, edited.sections[0].bars) == (65, 65)
    assert changed_bars(LONG.sections[0].bars, LONG.sections[0].bars) is None
    assert heads_are_same(LONG.sections[0].bars, edited.sections[0].bars)


def test_bars_between_columns():
    columns = Columns(LONG)
    places = [(place.section, place.number) for place in columns.bars_between(69 * 16, 70 * 16)]
    assert places == [(0, 69), (1, 0)]


def test_tuplets_are_beats_in_steps_that_no_plain_note_is_as_long_as():
    assert tuplets(BarHead(steps=(3, 4, 5, 8))) == ((0, 3), (7, 5))
    assert tuplets(BarHead(meter=Meter(6, 8))) == (), "three eighths in six sixteenths"
    assert tuplets(BarHead(meter=Meter(6, 8), steps=(3, 4))) == ((3, 4),), "four in three eighths"
