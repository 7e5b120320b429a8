"""Bars pasted as a whole are what laying their notes one by one comes to."""

from unittest.mock import patch

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.edits import CannotEdit, Moment, Span, Spot, selection
from chalkfret.edits.selection import copy, paste
from chalkfret.edits.whole_bars import begins_tied, easy_bars
from chalkfret.model import QUARTER, Lesson
from tests.builder import lesson, section
from tests.strategies import lessons


def laid(before: Lesson, spot: Spot, clip, **more) -> Lesson | str:
    """What a paste makes, or the code with which it is refused."""
    try:
        return paste(before, spot, clip, **more)
    except CannotEdit as refused:
        return refused.fault.code


def one_by_one(_lesson, _landing, notes):
    return {}, notes


@given(lessons(tidy=False), st.data())
def test_whole_bars_are_pasted_as_their_notes_would_be(before, data):
    source = data.draw(st.integers(0, len(before.sections) - 1))
    bars = before.sections[source].bars
    first = data.draw(st.integers(0, len(bars) - 1))
    count = data.draw(st.integers(1, len(bars) - first))
    start = data.draw(st.sampled_from([0, 0, 0, QUARTER // 2]))
    start = start if start < bars[first].head.ticks else 0
    parts = tuple(range(len(before.parts)))
    span = Span(Moment(source, first, start), Moment(source, first + count, 0), parts)
    clip = copy(before, span)
    target = data.draw(st.integers(0, len(before.sections) - 1))
    bar = data.draw(st.integers(0, len(before.sections[target].bars) - 1))
    onset = data.draw(st.sampled_from([0, 0, 0, QUARTER // 2]))
    onset = onset if onset < before.sections[target].bars[bar].head.ticks else 0
    spot = Spot(target, bar, 0, onset, 1)
    frets = data.draw(st.sampled_from([0, 0, 1, -2]))
    found = laid(before, spot, clip, frets=frets, grow=True)
    with patch.object(selection, "easy_bars", one_by_one):
        assert found == laid(before, spot, clip, frets=frets, grow=True)


def whole(line: str, bars: int):
    """The easy bars of a paste of a line's first bars onto themselves, and the notes that rest."""
    made = lesson(section("A", line))
    span = Span(Moment(0, 0, 0), Moment(0, bars, 0), (0,))
    clip = copy(made, span)
    return easy_bars(made, span, clip.parts[0].notes)


def test_bars_that_hold_their_notes_are_easy() -> None:
    easy, rest = whole("q 6:0 3 5 7 | h 5:2+4:2 r | r", 3)
    assert list(easy) == [0, 1, 2]
    assert [len(notes) for notes in easy.values()] == [4, 2, 0]
    assert not rest


def test_what_sounds_over_a_bar_line_is_laid_note_by_note() -> None:
    easy, rest = whole("q 6:0 3 5 7 | w 6:0 | w 6:0t | q 6:1 r r r", 4)
    assert list(easy) == [0, 3]
    assert [placed.note.fret for placed in rest] == [0]
    easy, rest = whole("w 6:0 | w 6:0~t | w 6:3", 3)  # tied, with a mark of its own
    assert list(easy) == [2]
    assert len(rest) == 2


def test_a_part_that_begins_a_bar_tied_is_known() -> None:
    made = lesson(section("A", "w 6:0 | w 6:0t", "w 6:0 | h 6:0 6:0t"))
    assert begins_tied(made, 0)
    assert not begins_tied(made, 1)
