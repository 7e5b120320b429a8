"""Which bar may be heard before which; what holds a tie."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits.notes import set_fret, set_length, sound_length
from chalkfret.edits.repeats import set_repeat
from chalkfret.edits.selection import bars_span, copy, paste, shift
from chalkfret.edits.sounds import LONGEST
from chalkfret.edits.ties import bars_after, bars_before
from chalkfret.model import QUARTER, Bar, BarHead, Bars, Lesson, Section
from chalkfret.timeline.unroll import played
from tests.builder import lesson, riff, section
from tests.edits.test_notes import at, low, rows

Q = QUARTER
EMPTY = low("q r r r r").sections[0]

heads = st.builds(
    BarHead,
    repeat_open=st.booleans(),
    repeat_close=st.sampled_from([0, 0, 2, 3]),
    passes=st.sampled_from([(), (), (1,), (2,)]),
)


@st.composite
def signed(draw: st.DrawFn) -> Lesson:
    """Two sections of empty bars with any signs."""
    found = []
    for letter in "AB":
        bars = Bars.of(Bar(head, ((),)) for head in draw(st.lists(heads, min_size=1, max_size=6)))
        head = replace(EMPTY.head, letter=letter, times=draw(st.integers(1, 3)))
        found.append(Section(letter.lower(), head, bars))
    return replace(low("q r r r r"), sections=tuple(found))


@given(signed())
def test_bars_that_sound_in_turn_are_known_to_follow(found: Lesson) -> None:
    in_turn = [(s, bar.bar) for s, one in enumerate(found.sections) for bar in played(one)]
    for before, after in pairwise(in_turn):
        assert before in bars_before(found, *after)
        assert after in bars_after(found, *before)


@given(signed())
def test_before_and_after_agree(found: Lesson) -> None:
    places = [(s, b) for s, one in enumerate(found.sections) for b in range(len(one.bars))]
    for place in places:
        for other in bars_before(found, *place):
            assert place in bars_after(found, *other)
        for other in bars_after(found, *place):
            assert place in bars_before(found, *other)


def test_a_bar_that_goes_on_into_itself() -> None:
    tied = set_repeat(low("q r r r r | w 6:5t | q r r r r"), 0, 1, 1)
    assert rows(tied)[1] == riff("w 6:5t")[0]
    assert sound_length(tied, at(1, 0)) == 4 * Q
    assert rows(set_fret(tied, at(1, 0), 7, Q))[1] == riff("w 6:7t")[0]
    assert rows(set_length(tied, at(1, 0), Q))[1] == riff("q 6:5 r r r")[0]


def test_a_sound_longer_than_a_note_may_be() -> None:
    count = LONGEST // (4 * Q) + 8
    before = low(" | ".join(["w 6:5"] + ["w 6:5t"] * (count - 1)))
    clip = copy(before, bars_span(before, 0, 0, count))
    assert [n.note.length for n in clip.parts[0].notes] == [LONGEST, 8 * 4 * Q]
    assert paste(before, at(0, 0), clip) is before


def test_ties_inside_a_shifted_span_move_once() -> None:
    before = low("q r r r 6:3 | h 6:3t r")
    assert rows(shift(before, bars_span(before, 0, 0, 2), frets=2)) == riff(
        "q r r r 6:5 | h 6:5t r"
    )
    late = shift(before, bars_span(before, 0, 1), ticks=Q)
    assert rows(late) == riff("q r r r 6:3 | q r h 6:3 q r")


def test_ties_over_a_section_line() -> None:
    before = lesson(section("A", "w 6:5"), section("B", "w 6:5t"))
    assert bars_before(before, 1, 0) == [(0, 0)]
    assert bars_after(before, 1, 0) == []
    assert rows(set_fret(before, at(0, 0), 7, Q), section=1) == riff("w 6:7t")
