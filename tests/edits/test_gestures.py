"""Repeat, fill, write into several cells, lengths over a span."""

from fractions import Fraction

import pytest

from chalkfret.edits import CannotEdit, Moment, Span, sections
from chalkfret.edits.bars import insert
from chalkfret.edits.draft import same_where_equal
from chalkfret.edits.gestures import (
    beat_span,
    cut_beat,
    fill,
    repeat_bar,
    repeat_span,
    scale_lengths,
    write_chord,
)
from chalkfret.edits.notes import set_fret
from chalkfret.edits.selection import copy, paste
from chalkfret.model import QUARTER, Lesson
from tests.builder import lesson, riff, section
from tests.edits.test_notes import at, low, refusal, rows

Q = QUARTER


def span(start: tuple[int, int], end: tuple[int, int]) -> Span:
    return Span(Moment(0, *start), Moment(0, *end), (0,))


def test_one_fret_into_several_cells() -> None:
    before = low("q r r r r", "q r r r r")
    after = write_chord(
        before, dict.fromkeys((at(0, Q, 6), at(0, Q, 5), at(0, Q, 6, part=1)), 7), Q
    )
    assert rows(after) == riff("q r 6:7+5:7 r r")
    assert rows(after, 1) == riff("q r 6:7 r r")
    assert write_chord(after, dict.fromkeys((at(0, Q, 6), at(0, Q, 5)), 7), Q) is after


def test_the_last_beat_again() -> None:
    before = low("e 6:0 3 q r r r")
    assert rows(repeat_span(before, beat_span(before, 0, 0, Q // 2, (0,)))) == riff(
        "e 6:0 3 0 3 h r"
    )
    assert rows(repeat_span(before, beat_span(before, 0, 0, 0, (0,)), frets=2)) == riff(
        "e 6:0 3 2 5 h r"
    )
    assert beat_span(before, 0, 0, Q + 1, (0,)) == span((0, Q), (0, 2 * Q))


def test_the_beat_before_the_bar_line_goes_into_the_next_bar() -> None:
    before = low("q r r r 6:3")
    assert rows(repeat_span(before, beat_span(before, 0, 0, 3 * Q, (0,)))) == riff(
        "q r r r 6:3 | q 6:3 r r r"
    )


def test_the_last_bars_again() -> None:
    before = low("q 6:0 1 2 3 | q 6:4 5 6 7", "w 5:0 | w 5:2")
    after = repeat_bar(before, 0, 0, (0,))
    assert rows(after) == riff("q 6:0 1 2 3 | q 6:0 1 2 3")
    assert rows(after, 1) == riff("w 5:0 | w 5:2")
    grown = repeat_bar(before, 0, 1, (0, 1), count=2, frets=1)
    assert rows(grown)[2:] == riff("q 6:1 2 3 4 | q 6:5 6 7 8")
    assert rows(grown, 1)[2:] == riff("w 5:1 | w 5:3")


def test_repeating_needs_one_section_and_room() -> None:
    before = lesson(section("A", "w 6:0"), section("B", "w 6:1"))
    with pytest.raises(CannotEdit):
        repeat_span(before, Span(Moment(0, 0, 0), Moment(1, 0, Q), (0,)))
    with pytest.raises(CannotEdit) as error:
        repeat_span(before, span((0, 0), (1, 0)), grow=False)
    assert refusal(error)[:3] == ("beyond_section", "A", 1)
    with pytest.raises(CannotEdit):
        repeat_bar(before, 0, 0, (0,), count=2)


def test_fill_to_the_bar_line() -> None:
    before = low("e 6:0 3 5 q r r e r")
    assert rows(fill(before, span((0, 0), (0, 3 * Q // 2)))) == riff("e 6:0 3 5 0 3 5 0 3")
    filled = fill(low("e. 6:0 3 q r r e r"), span((0, 0), (0, 3 * Q // 2)))
    assert rows(filled) == riff("e. 6:0 3 0 3 0 s 3")
    assert fill(filled, span((0, 0), (0, 3 * Q // 2))) is filled
    assert fill(before, span((0, 0), (1, 0))) is before
    held = fill(low("q 6:0 r r r | w 6:5"), span((0, 0), (0, Q)))
    assert rows(held) == riff("q 6:0 0 0 0 | w 6:5")


def thirds() -> Lesson:
    return cut_beat(low("e3 6:5 7 8 q r r r | w r"), 0, 0, 0, 3)


def steps_of(lesson: Lesson, bar: int = 0) -> tuple[int, ...]:
    return lesson.sections[0].bars[bar].head.steps


def test_copies_are_cut_as_their_beats_are() -> None:
    before, beat = thirds(), beat_span(thirds(), 0, 0, 0, (0,))
    assert steps_of(repeat_span(before, beat)) == (3, 3, 4, 4)
    assert steps_of(repeat_span(before, beat, times=2)) == (3, 3, 3, 4)
    assert steps_of(fill(before, beat)) == (3, 3, 3, 3)
    assert steps_of(repeat_bar(before, 0, 0, (0,)), 1) == (3, 4, 4, 4)
    straight = beat_span(before, 0, 0, Q, (0,))
    back = paste(repeat_span(before, beat), at(0, Q), copy(before, straight))
    assert steps_of(back) == (3, 4, 4, 4)


def test_a_copy_takes_no_step_from_a_note_of_another_guitar() -> None:
    before = cut_beat(low("e3 6:5 7 8 q r r r", "q r e 6:1 1 h r"), 0, 0, 0, 3)
    assert steps_of(repeat_span(before, beat_span(before, 0, 0, 0, (0,)))) == (3, 4, 4, 4)


def test_half_a_beat_or_a_beat_of_another_length_is_not_cut() -> None:
    before = thirds()
    half = copy(before, span((0, 0), (0, Q // 3)))
    assert not half.beats
    whole = copy(before, beat_span(before, 0, 0, 0, (0,)))
    assert [(one.at, one.length, one.steps) for one in whole.beats] == [(0, Q, 3)]
    assert steps_of(paste(before, at(0, Q + Q // 2), whole)) == (3, 4, 4, 4)


def test_lengths_over_a_span() -> None:
    before = low("e 6:0 r 3 r q 5 r | q 6:7 r r r")
    double = scale_lengths(before, span((0, 0), (1, 0)), Fraction(2))
    assert rows(double) == riff("q 6:0 3 h 5 | q 6:7 r r r")
    assert rows(scale_lengths(double, span((0, 0), (1, 0)), Fraction(1, 2))) == rows(before)
    tied = low("q r r r 6:5 | h 6:5t r")
    assert rows(scale_lengths(tied, span((0, 0), (2, 0)), Fraction(1, 3))) == riff(
        "q r r r 6:5 | q r r r r"
    )
    with pytest.raises(CannotEdit):
        scale_lengths(before, span((0, 0), (1, 0)), Fraction(0))


def test_edits_in_a_row_that_lead_back_give_the_very_same_bars() -> None:
    before = lesson(section("A", "q 6:0 r r r | q 6:1 r r r"), section("B", "q 6:2 r r r"))
    there = set_fret(set_fret(before, at(0, 0), 7, Q), at(0, 0, section=1), 7, Q)
    back = set_fret(there, at(0, 0), 0, Q)
    kept = same_where_equal(before, back)
    assert kept.sections[0] is before.sections[0]
    assert kept.sections[1] is back.sections[1]
    assert same_where_equal(before, set_fret(back, at(0, 0, section=1), 2, Q)) is before
    partly = same_where_equal(before, set_fret(back, at(1, 0), 9, Q)).sections[0].bars
    assert partly[0] is before.sections[0].bars[0]
    assert rows(back)[1] == riff("q 6:1 r r r")[0]
    assert partly[1].notes[0] == riff("q 6:9 r r r")[0]
    assert same_where_equal(before, before) is before
    longer = insert(before, 0, 1)
    assert same_where_equal(before, longer).sections[0].bars == longer.sections[0].bars
    assert same_where_equal(longer, sections.delete(longer, 0)).sections[0].head.letter == "B"
