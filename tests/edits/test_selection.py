"""Selections: copied, cut, pasted, cleared, shifted; clips."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit, Clip, ClipNote, ClipPart, Moment, Span, Spot
from chalkfret.edits.clip import is_sound
from chalkfret.edits.draft import settled
from chalkfret.edits.selection import (
    bars_span,
    change_notes,
    clear_span,
    copy,
    cut,
    is_empty,
    paste,
    shift,
    span_ticks,
)
from chalkfret.model import QUARTER, Bars, Bend, BendPoint, Lesson, LessonHead, Note, Sign
from tests.builder import lesson, part, riff, section, tuned
from tests.edits.test_notes import at, low, refusal, rows
from tests.strategies import lessons

Q = QUARTER


def span(start: tuple[int, int], end: tuple[int, int], *courses: int, parts: int = 1) -> Span:
    return Span(Moment(0, *start), Moment(0, *end), tuple(range(parts)), courses)


# Copy and paste


def test_paste_lands_on_the_strings_it_came_from() -> None:
    before = low("q 6:0 5:2 r r | q r r r r")
    clip = copy(before, span((0, 0), (0, 2 * Q)))
    assert clip.length == 2 * Q
    assert rows(paste(before, at(1, Q, 1), clip)) == riff("q 6:0 5:2 r r | q r 6:0 5:2 r")


def test_paste_replaces_what_the_clip_covers() -> None:
    before = low("q 6:0 r r r | w 6:7+1:3")
    whole = copy(before, span((0, 0), (1, 0)))
    assert rows(paste(before, at(1, 0), whole)) == riff("q 6:0 r r r | q 6:0 r r r")
    string = copy(before, span((0, 0), (1, 0), 6))
    assert rows(paste(before, at(1, 0), string))[1] == (
        Note(0, 4 * Q, 1, 3),
        Note(0, Q, 6, 0),
    )
    shifted = paste(before, at(1, 0), string, courses=-5)
    assert rows(shifted)[1] == (Note(0, Q, 1, 0), Note(0, 4 * Q, 6, 7))


def test_paste_repeats_and_shifts() -> None:
    before = low("e 6:0 1 q r r r | q r r r r")
    clip = copy(before, span((0, 0), (0, Q)))
    after = paste(before, at(0, 2 * Q), clip, 4, frets=5, courses=-1)
    assert rows(after) == riff("e 6:0 1 q r e 5:5 6 5 6 | e 5:5 6 5 6 h r")


def test_a_long_paste_is_split_into_tied_notes() -> None:
    before = low("w 6:5 | q r r r r | q r r r r")
    clip = copy(before, span((0, 0), (1, 0)))
    assert rows(paste(before, at(1, 3 * Q), clip))[1:] == riff("q r r r 6:5 | h. 6:5t q r")


def test_tied_notes_are_one_in_the_clip_and_tied_again() -> None:
    before = low("q r r r 6:5 | h 6:5t r | q r r r r")
    clip = copy(before, span((0, 3 * Q), (1, 0)))
    assert clip.parts[0].notes == (ClipNote(0, Note(0, 3 * Q, 6, 5)),)
    assert rows(paste(before, at(2, 0), clip))[2] == riff("h. 6:5 q r")[0]
    assert paste(before, at(0, 3 * Q), clip) is before


def test_a_tied_note_with_a_mark_of_its_own_stays_one() -> None:
    before = low("q r r r 6:5 | h 6:5t~ r")
    clip = copy(before, span((0, 0), (2, 0)))
    assert len(clip.parts[0].notes) == 2
    assert paste(before, at(0, 0), clip) is before


def test_several_parts_and_several_sections() -> None:
    before = lesson(section("A", "q 6:0 1 2 3", "w 5:7"), section("B", "q 6:4 5 6 7", "w 5:9"))
    clip = copy(before, Span(Moment(0, 0, 2 * Q), Moment(1, 0, Q), (0, 1)))
    assert clip.length == 3 * Q
    assert [n.at for n in clip.parts[0].notes] == [0, Q, 2 * Q]
    assert [n.at for n in clip.parts[1].notes] == [2 * Q]
    assert rows(paste(before, at(0, 0), clip)) == riff("q 6:2 3 4 3")
    over = Span(Moment(0, 0, 3 * Q), Moment(1, 1, 0), (0,))
    assert span_ticks(before, over) == 5 * Q


def test_paste_beyond_the_section_is_refused_or_grows_it() -> None:
    before = low("w 6:0 | w 6:1")
    clip = copy(before, span((0, 0), (2, 0)))
    with pytest.raises(CannotEdit) as error:
        paste(before, at(1, 0), clip)
    assert refusal(error)[:3] == ("beyond_section", "A", 2)
    assert dict(error.value.fault.figures) == {"ticks": 4 * Q}
    assert rows(paste(before, at(1, 0), clip, grow=True)) == riff("w 6:0 | w 6:0 | w 6:1")


@pytest.mark.parametrize(
    ("frets", "courses", "code", "bar"),
    [(-1, 0, "fret_range", 2), (36, 0, "fret_range", 2), (0, 1, "course_beyond_setup", 2)],
)
def test_what_does_not_fit_is_refused_with_its_place(
    frets: int, courses: int, code: str, bar: int
) -> None:
    before = low("q 6:0 1 r r | q r r r r")
    clip = copy(before, span((0, 0), (0, 2 * Q)))
    with pytest.raises(CannotEdit) as error:
        paste(before, at(1, 0), clip, frets=frets, courses=courses)
    assert refusal(error)[:3] == (code, "A", bar)


def test_a_clip_of_more_parts_than_there_are_is_refused() -> None:
    before = low("w 6:0", "w 6:0")
    clip = copy(before, bars_span(before, 0, 0))
    with pytest.raises(CannotEdit) as error:
        paste(before, at(0, 0, part=1), clip)
    assert error.value.fault.code == "clip_parts"
    assert dict(error.value.fault.figures) == {"have": 1, "need": 2}


def test_unsound_clips_are_refused() -> None:
    note = Note(0, Q, 6, 0)
    bend = Bend((BendPoint(5, 0), BendPoint(0, 0)))
    for notes in (
        (ClipNote(Q, note), ClipNote(0, note)),
        (ClipNote(0, note), ClipNote(0, note)),
        (ClipNote(0, replace(note, onset=1)),),
        (ClipNote(0, replace(note, marks=(bend,))),),
        (ClipNote(0, replace(note, marks=(Sign.ACCENT, Sign.TIE))),),
        (ClipNote(0, replace(note, course=5)),),
    ):
        clip = Clip(Q, (ClipPart((6,), notes),))
        assert not is_sound(clip)
        with pytest.raises(CannotEdit):
            paste(low("w 6:0"), at(0, 0), clip)
    good = Clip(Q, (ClipPart((6,), (ClipNote(0, note),)),))
    assert is_sound(good)
    with pytest.raises(CannotEdit):
        paste(low("w 6:0"), at(0, 0), good, times=0)


def test_a_tail_that_is_stopped_is_not_written() -> None:
    # The clip's sound goes on beyond the clip; where it lands, another note stops it.
    before = low("q r r r 6:5 | h 6:5t~ r | q r r r 6:3 | q r r r r")
    clip = copy(before, span((0, 3 * Q), (1, 0)))
    assert rows(paste(before, at(2, 2 * Q), clip))[2:] == riff("q r r 6:5 3 | q r r r r")
    assert rows(paste(before, at(3, 3 * Q), clip))[3:] == riff("q r r r 6:5")


def played_once(found: Lesson) -> Lesson:
    """The first section alone, without repeats and endings."""
    first = found.sections[0]
    bars = Bars.of(
        replace(bar, head=replace(bar.head, repeat_open=False, repeat_close=0, passes=()))
        for bar in first.bars
    )
    once = replace(first, head=replace(first.head, times=1), bars=bars)
    return settled(replace(found, sections=(once,), head=LessonHead()), 0)


@given(lessons(most_sections=1), st.data())
def test_pasting_what_was_copied_where_it_was_changes_nothing(
    drawn: Lesson, data: st.DataObject
) -> None:
    found = played_once(drawn)
    bars = found.sections[0].bars
    first = data.draw(st.integers(0, len(bars) - 1))
    last = data.draw(st.integers(first, len(bars) - 1))
    start = data.draw(st.sampled_from(bars[first].head.beat_starts))
    end = data.draw(st.integers(start + 1 if first == last else 1, bars[last].head.ticks))
    courses = data.draw(st.sampled_from([(), (1, 2), (3,)]))
    where = Span(Moment(0, first, start), Moment(0, last, end), (0,), courses)
    spot = Spot(0, first, 0, start, 1)
    once = paste(found, spot, copy(found, where))
    assert paste(once, spot, copy(once, where)) is once
    held_into = any(n.onset < start < n.end and where.takes(n.course) for n in bars[first].notes[0])
    assert held_into or once is found


# Clear and cut


def test_clearing_silences_the_span() -> None:
    before = low("h 6:0 q r 3 | w 6:3t")
    assert rows(clear_span(before, span((0, Q), (0, 2 * Q)))) == riff("q 6:0 r r 3 | w 6:3t")
    assert rows(clear_span(before, span((0, 3 * Q), (1, 0)))) == riff("h 6:0 r | q r r r r")
    assert rows(clear_span(before, span((1, Q), (2, 0)))) == riff("h 6:0 q r 3 | q 6:3t r r r")
    assert clear_span(before, span((0, 0), (2, 0), 5)) is before


def test_cut_gives_both() -> None:
    before = low("q 6:0 1 2 3")
    after, clip = cut(before, span((0, Q), (0, 3 * Q)))
    assert rows(after) == riff("q 6:0 r r 3")
    assert paste(after, at(0, Q), clip) == before


def test_spans_that_are_none_are_refused() -> None:
    before = low("q 6:0 1 2 3")
    for bad, code in [
        (span((0, Q), (0, Q)), "span_empty"),
        (Span(Moment(0, 0, 0), Moment(0, 1, 0), ()), "span_empty"),
        (Span(Moment(0, 0, 0), Moment(0, 1, 0), (1,)), "no_such_place"),
        (Span(Moment(0, 0, 0), Moment(0, 1, 1), (0,)), "no_such_place"),
        (Span(Moment(0, 0, 0), Moment(1, 0, 0), (0,)), "no_such_place"),
        (Span(Moment(0, 0, -1), Moment(0, 1, 0), (0,)), "no_such_place"),
    ]:
        with pytest.raises(CannotEdit) as error:
            clear_span(before, bad)
        assert error.value.fault.code == code
    assert is_empty(before, span((0, 0), (1, 0), 5))
    assert not is_empty(before, span((0, 3 * Q), (1, 0)))


def test_notes_changed_by_a_function() -> None:
    before = low("q 6:0 1 2 3")
    after = change_notes(before, span((0, Q), (0, 3 * Q)), lambda n: replace(n, voice=1))
    assert [note.voice for note in rows(after)[0]] == [0, 1, 1, 0]


# Shift


def test_shift_along_the_neck_takes_ties_along() -> None:
    before = low("q 6:0 r r 3 | h 6:3t r")
    assert rows(shift(before, span((0, 0), (1, 0)), frets=2)) == riff("q 6:2 r r 5 | h 6:5t r")
    assert rows(shift(before, span((1, 0), (2, 0)), frets=2)) == riff("q 6:0 r r 3 | h 6:5 r")
    assert shift(before, span((0, 0), (1, 0))) is before


def test_shift_across_strings_and_in_time() -> None:
    before = low("q 6:0 1 r r | q r r r r")
    both = span((0, 0), (0, 2 * Q))
    assert rows(shift(before, both, courses=-1)) == riff("q 5:0 1 r r | q r r r r")
    assert rows(shift(before, both, ticks=3 * Q)) == riff("q r r r 6:0 | q 6:1 r r r")
    second = shift(shift(before, both, ticks=4 * Q), span((1, 0), (1, Q)), ticks=-Q)
    assert rows(second) == riff("q r r r 6:0 | q r 6:1 r r")
    assert shift(shift(before, both, ticks=Q), span((0, Q), (0, 3 * Q)), ticks=-Q) == before


def test_shift_writes_over_what_it_meets() -> None:
    moved = shift(low("q 6:0 r h 6:7"), span((0, 0), (0, Q)), ticks=3 * Q)
    assert rows(moved) == riff("q r r 6:7 0")


@pytest.mark.parametrize(
    ("by", "code"),
    [
        ({"frets": -1}, "fret_range"),
        ({"frets": 36}, "fret_range"),
        ({"courses": 1}, "course_beyond_setup"),
        ({"courses": -6}, "course_beyond_setup"),
        ({"ticks": -1}, "before_section"),
        ({"ticks": 4 * Q}, "beyond_section"),
        ({"ticks": Q, "frets": -1}, "fret_range"),
    ],
)
def test_a_shift_that_does_not_fit_is_refused(by: dict[str, int], code: str) -> None:
    with pytest.raises(CannotEdit) as error:
        shift(low("q 6:0 1 r r"), span((0, 0), (1, 0)), **by)
    assert refusal(error)[:3] == (code, "A", 1)


def test_parts_with_fewer_strings_refuse_the_low_ones() -> None:
    before = lesson(
        section("A", "w 6:0", "w 4:0"),
        parts=(part("Low"), part("Bass", tuned("E1 A1 D2 G2"))),
    )
    clip = copy(before, bars_span(before, 0, 0, parts=(0,)))
    with pytest.raises(CannotEdit) as error:
        paste(before, at(0, 0, part=1), clip)
    assert refusal(error) == ("course_beyond_setup", "A", 1, "Bass", 6)
    assert rows(paste(before, at(0, 0, part=1), clip, courses=-2), 1) == riff("w 4:0")
