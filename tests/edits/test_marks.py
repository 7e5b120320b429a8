"""Marks on one note and over a span."""

import pytest

from chalkfret.edits import CannotEdit, Moment, Span
from chalkfret.edits.marks import (
    clear_marks_in,
    is_marked,
    set_marks,
    toggle_mark,
    toggle_mark_in,
    with_mark,
    without_mark,
)
from chalkfret.model import (
    QUARTER,
    ArtificialHarmonic,
    Bend,
    BendPoint,
    Finger,
    FingerName,
    Mark,
    NaturalHarmonic,
    Sign,
    Slide,
    SlideWay,
    Trill,
    Vibrato,
)
from tests.builder import riff
from tests.edits.test_notes import at, low, refusal, rows

Q = QUARTER
BAR = Span(Moment(0, 0, 0), Moment(0, 1, 0), (0,))


def test_toggling_puts_a_mark_on_and_off() -> None:
    before = low("q 6:0 r r r")
    muted = toggle_mark(before, at(0, 0), Sign.PALM_MUTE)
    assert rows(muted) == riff("q 6:0m r r r")
    assert toggle_mark(muted, at(0, 0), Sign.PALM_MUTE) == before
    both = toggle_mark(muted, at(0, Q // 2), Sign.ACCENT)  # held there
    assert rows(both) == riff("q 6:0m> r r r")


def test_a_mark_with_other_figures_takes_the_place() -> None:
    before = toggle_mark(low("q 6:0 r r r"), at(0, 0), Vibrato())
    wide = toggle_mark(before, at(0, 0), Vibrato(wide=True))
    assert rows(wide)[0][0].marks == (Vibrato(wide=True),)


@pytest.mark.parametrize(
    ("old", "new", "left"),
    [
        (Sign.HAMMER_ON, Sign.PULL_OFF, 1),
        (Sign.HAMMER_ON, Slide(SlideWay.FROM_NOTE), 1),
        (Slide(SlideWay.IN_FROM_BELOW), Slide(SlideWay.IN_FROM_ABOVE), 1),
        (Slide(SlideWay.IN_FROM_BELOW), Slide(SlideWay.OUT_UP), 2),
        (Slide(SlideWay.OUT_DOWN), Slide(SlideWay.OUT_UP), 1),
        (NaturalHarmonic(12.0), ArtificialHarmonic(), 1),
        (Sign.DOWN_STROKE, Sign.UP_STROKE, 1),
        (Finger(FingerName.RING), Finger(FingerName.INDEX), 1),
        (Sign.PALM_MUTE, Sign.LET_RING, 2),
    ],
)
def test_marks_that_cannot_be_together(old: Mark, new: Mark, left: int) -> None:
    marks = with_mark((old,), new)
    assert new in marks
    assert len(marks) == left
    assert without_mark(marks, new) == ((old,) if left == 2 else ())


def test_a_tie_needs_a_note_to_go_on_from() -> None:
    before = low("q 6:5 5 7 r")
    tied = toggle_mark(before, at(0, Q), Sign.TIE)
    assert rows(tied) == riff("q 6:5 5t 7 r")
    for onset in (0, 2 * Q):
        with pytest.raises(CannotEdit) as error:
            toggle_mark(before, at(0, onset), Sign.TIE)
        assert refusal(error) == ("tie_from_nothing", "A", 1, "Guitar 1", 6)
    assert toggle_mark(tied, at(0, Q), Sign.TIE) == before


def test_marks_set_as_a_whole() -> None:
    before = low("q 6:0m r r r")
    after = set_marks(before, at(0, 0), (Sign.ACCENT, Sign.HAMMER_ON))
    assert rows(after)[0][0].marks == (Sign.HAMMER_ON, Sign.ACCENT)
    assert set_marks(after, at(0, 0), (Sign.HAMMER_ON, Sign.ACCENT)) is after
    with pytest.raises(CannotEdit) as error:
        set_marks(before, at(0, Q), ())
    assert refusal(error)[0] == "no_note_here"


@pytest.mark.parametrize(
    ("mark", "field"),
    [
        (Bend(()), "marks[0].curve"),
        (Trill(40), "marks[0].fret"),
        (NaturalHarmonic(0.0), "marks[0].node"),
    ],
)
def test_marks_out_of_bounds_are_refused(mark: object, field: str) -> None:
    with pytest.raises(CannotEdit) as error:
        set_marks(low("q 6:0 r r r"), at(0, 0), (mark,))
    assert error.value.fault.code == "value_refused"
    assert dict(error.value.fault.figures)["field"] == field


def test_a_bend_that_runs_back_is_refused() -> None:
    with pytest.raises(CannotEdit) as error:
        set_marks(low("q 6:0 r r r"), at(0, 0), (Bend((BendPoint(10, 0), BendPoint(5, 0))),))
    assert refusal(error)[:3] == ("bend_runs_back", "A", 1)


def test_a_span_gets_the_mark_or_loses_it() -> None:
    before = low("q 6:0m 1 2 3 | q 6:3t 4 r r")
    one = toggle_mark_in(before, BAR, Sign.PALM_MUTE)
    assert is_marked(one, BAR, Sign.PALM_MUTE)
    assert not is_marked(before, BAR, Sign.PALM_MUTE)
    assert rows(one) == riff("q 6:0m 1m 2m 3m | q 6:3t 4 r r")
    assert rows(toggle_mark_in(one, BAR, Sign.PALM_MUTE)) == riff("q 6:0 1 2 3 | q 6:3t 4 r r")
    both = Span(Moment(0, 0, 0), Moment(0, 2, 0), (0,))
    assert rows(toggle_mark_in(before, both, Sign.PALM_MUTE)) == riff(
        "q 6:0m 1m 2m 3m | q 6:3t 4m r r"
    )
    assert (
        toggle_mark_in(before, Span(Moment(0, 1, 2 * Q), Moment(0, 2, 0), (0,)), Sign.TAP) is before
    )


def test_ties_over_a_span_go_where_they_hold() -> None:
    before = low("q 6:5 5h 7 7")
    tied = toggle_mark_in(before, BAR, Sign.TIE)
    assert rows(tied) == riff("q 6:5 5t 7 7t")
    assert rows(toggle_mark_in(tied, BAR, Sign.TIE)) == riff("q 6:5 5 7 7")


def test_all_marks_but_ties_are_cleared() -> None:
    before = low("q 6:5m> 5t~ 7h 7")
    assert rows(clear_marks_in(before, BAR)) == riff("q 6:5 5t 7 7")
    plain = low("q 6:5 5t r r")
    assert clear_marks_in(plain, BAR) is plain
