"""Bars come, go and are copied; cues keep their music; ties and repeat signs are looked after."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit
from chalkfret.edits.bars import append_empty, delete, duplicate, insert, set_head, set_steps
from chalkfret.edits.notes import clear
from chalkfret.edits.repeats import (
    Repeat,
    clear_repeat,
    repeat_around,
    repeats_of,
    set_passes,
    set_repeat,
)
from chalkfret.model import (
    QUARTER,
    BarHead,
    Bars,
    Cue,
    CueKind,
    Lesson,
    Meter,
    Pause,
    PauseKind,
    Place,
)
from tests.builder import lesson, riff, section
from tests.edits.test_notes import at, low, refusal, rows
from tests.strategies import lessons

Q = QUARTER
FOUR = "q 6:0 r r r | q 6:1 r r r | q 6:2 r r r | q 6:3 r r r"


def cue(start: tuple[int, int], end: tuple[int, int] | None, name: str = "c1") -> Cue:
    return Cue(name, "wah", CueKind.SWEEP, Place(*start), None if end is None else Place(*end))


def cued(*cues: Cue, text: str = FOUR) -> Lesson:
    return lesson(section("A", text, cues=cues))


def spans(found: Lesson) -> list[tuple[tuple[int, int], tuple[int, int] | None]]:
    return [
        ((c.start.bar, c.start.tick), None if c.end is None else (c.end.bar, c.end.tick))
        for c in found.sections[0].head.cues
    ]


def heads(found: Lesson) -> list[BarHead]:
    return [bar.head for bar in found.sections[0].bars]


def frets(found: Lesson) -> list[int | None]:
    """The first fret of each bar, which names the bars of FOUR."""
    return [row[0].fret if row else None for row in rows(found)]


# Insert


def test_inserted_bars_are_like_their_neighbours() -> None:
    odd = BarHead(meter=Meter(7, 8), grouping=(3, 2, 2), steps=(3, 2, 2), repeat_open=True,
                  pauses=(Pause(0, PauseKind.BREAK, 1.0),), simile=True)  # fmt: skip
    before = lesson(section("A", "e 6:0 | q 6:1", heads={0: odd}))
    after = insert(before, 0, 1, 2)
    assert heads(after)[1] == BarHead(meter=Meter(7, 8), grouping=(3, 2, 2), steps=(3, 2, 2))
    assert heads(insert(before, 0, 0))[0] == heads(after)[1]
    assert rows(after) == [rows(before)[0], (), (), rows(before)[1]]
    assert after.sections[0].bars[3] is before.sections[0].bars[1]


def test_bars_inside_an_ending_belong_to_it() -> None:
    before = set_passes(low(FOUR), 0, 1, 2, (1,))
    assert heads(insert(before, 0, 2))[2].passes == (1,)
    assert heads(insert(before, 0, 1))[1].passes == ()
    assert heads(insert(before, 0, 3))[3].passes == ()
    assert heads(insert(before, 0, 4))[4].passes == ()


def test_a_tie_that_lost_its_note_is_struck_anew() -> None:
    before = low("w 6:5 | w 6:5t")
    assert rows(insert(before, 0, 1)) == riff("w 6:5 | q r r r r | w 6:5")
    assert rows(delete(before, 0, 0)) == riff("w 6:5")
    assert insert(before, 0, 2).sections[0].bars[1] is before.sections[0].bars[1]


def test_a_pickup_is_not_copied() -> None:
    before = lesson(section("A", "q 6:0 | w 6:1", heads={0: BarHead(pickup=Q, steps=(3,))}))
    assert heads(insert(before, 0, 0))[0] == BarHead()


@pytest.mark.parametrize(("at", "count"), [(-1, 1), (5, 1), (0, 0)])
def test_bars_that_cannot_be_inserted(at: int, count: int) -> None:
    with pytest.raises(CannotEdit) as error:
        insert(low(FOUR), 0, at, count)
    assert refusal(error)[:2] == ("no_such_place", "A")


def test_as_many_bars_as_the_ticks_need() -> None:
    assert len(append_empty(low(FOUR), 0, 4 * Q + 1).sections[0].bars) == 6
    assert len(append_empty(low(FOUR), 0, 4 * Q).sections[0].bars) == 5


# Cues


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (((0, 0), (1, 0)), ((0, 0), (1, 0))),  # ends with the music before
        (((1, 0), (2, 0)), ((2, 0), (3, 0))),  # starts with the music behind
        (((0, Q), (1, Q)), ((0, Q), (2, Q))),  # sounds across
        (((1, 0), (1, 0)), ((2, 0), (2, 0))),
        (((0, 0), None), ((0, 0), None)),
        (((3, Q), None), ((4, Q), None)),
    ],
)
def test_cues_keep_their_music_when_a_bar_is_inserted(old: tuple, new: tuple) -> None:
    before = cued(cue(*old))
    after = insert(before, 0, 1)
    assert spans(after) == [new]
    assert spans(delete(after, 0, 1)) == [old]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (((0, 0), (1, 0)), ((0, 0), (1, 0))),
        (((0, 0), (1, Q)), ((0, 0), (1, 0))),  # ended inside what went
        (((1, Q), (3, Q)), ((1, 0), (1, Q))),  # started inside what went
        (((0, Q), (3, Q)), ((0, Q), (1, Q))),
        (((3, Q), None), ((1, Q), None)),
        (((2, Q), None), ((1, 0), None)),  # to the section's end
        (((1, 0), (3, 0)), None),  # all its music went
        (((2, Q), (2, 2 * Q)), None),
    ],
)
def test_cues_when_bars_are_deleted(old: tuple, new: tuple | None) -> None:
    assert spans(delete(cued(cue(*old)), 0, 1, 2)) == ([] if new is None else [new])


def test_a_cue_to_the_end_goes_with_the_last_bars() -> None:
    assert spans(delete(cued(cue((2, 0), None)), 0, 2, 2)) == []
    assert spans(delete(cued(cue((1, 0), None)), 0, 2, 2)) == [((1, 0), None)]


def test_a_section_without_moved_cues_keeps_its_head() -> None:
    before = cued(cue((0, 0), (1, 0)))
    assert insert(before, 0, 2).sections[0].head is before.sections[0].head
    assert delete(before, 0, 2).sections[0].head is before.sections[0].head


# Delete


def test_the_last_bar_stays() -> None:
    with pytest.raises(CannotEdit) as error:
        delete(low(FOUR), 0, 0, 4)
    assert refusal(error)[:2] == ("last_bars", "A")
    with pytest.raises(CannotEdit):
        delete(low(FOUR), 0, 3, 2)


@pytest.mark.parametrize(
    ("start", "count", "left"),
    [
        (1, 1, [(1, 1)]),  # the open sign moves to the bar behind
        (2, 1, [(1, 1)]),  # the close sign to the bar before
        (1, 2, []),
        (0, 1, [(0, 1)]),
        (0, 2, [(0, 0)]),
    ],
)
def test_repeat_signs_when_their_bars_are_deleted(
    start: int, count: int, left: list[tuple[int, int]]
) -> None:
    before = set_repeat(low(FOUR), 0, 1, 2, 3)
    found = repeats_of(delete(before, 0, start, count).sections[0].bars)
    assert [(r.first, r.last) for r in found] == left
    assert all(r.times == 3 for r in found)


def test_a_repeat_from_the_sections_start_needs_no_open_sign() -> None:
    close = BarHead(repeat_close=2)
    before = lesson(section("A", FOUR, heads={2: close}))
    found = repeats_of(delete(before, 0, 0).sections[0].bars)
    assert found == (Repeat(0, 1, 2, 1),)


# Duplicate


def test_copies_stand_right_behind() -> None:
    before = low(FOUR)
    assert frets(duplicate(before, 0, 1, 2)) == [0, 1, 2, 1, 2, 3]
    assert frets(duplicate(before, 0, 1, 1, times=3)) == [0, 1, 1, 1, 1, 2, 3]
    assert duplicate(before, 0, 1, 1, times=0) is before
    same = duplicate(before, 0, 1, 2)
    assert same.sections[0].bars[3] is before.sections[0].bars[1]


def test_whole_repeats_come_along_and_others_do_not() -> None:
    before = set_repeat(low(FOUR), 0, 1, 2)
    assert [(r.first, r.last) for r in repeats_of(duplicate(before, 0, 1, 2).sections[0].bars)] == [
        (1, 2), (3, 4),
    ]  # fmt: skip
    assert [(r.first, r.last) for r in repeats_of(duplicate(before, 0, 2, 2).sections[0].bars)] == [
        (1, 2),
    ]  # fmt: skip
    implicit = lesson(section("A", FOUR, heads={1: BarHead(repeat_close=2)}))
    twice = duplicate(implicit, 0, 0, 2)
    assert [(r.first, r.last) for r in repeats_of(twice.sections[0].bars)] == [(0, 1), (2, 3)]


def test_endings_come_along_with_their_repeat() -> None:
    before = set_passes(set_repeat(low(FOUR), 0, 0, 2), 0, 1, 1, (1,))
    before = set_passes(before, 0, 2, 1, (2,))
    after = duplicate(before, 0, 0, 3)
    assert [head.passes for head in heads(after)] == [(), (1,), (2,), (), (1,), (2,), ()]
    assert [head.passes for head in heads(duplicate(before, 0, 1, 1))] == [
        (), (1,), (), (2,), (),
    ]  # fmt: skip


# Heads


def test_fields_of_heads() -> None:
    before = low(FOUR)
    late, early = Pause(Q, PauseKind.BREAK, 1.0), Pause(0, PauseKind.FERMATA, 2.0)
    after = set_head(before, 0, 1, 2, simile=True, pauses=(late, early))
    assert [head.simile for head in heads(after)] == [False, True, True, False]
    assert heads(after)[1].pauses == (early, late)
    assert after.sections[0].bars[1].notes is before.sections[0].bars[1].notes
    assert after.sections[0].bars[0] is before.sections[0].bars[0]
    assert set_head(after, 0, 1, 2, simile=True) is after
    grouped = set_head(set_steps(before, 0, 0, 3), 0, 0, grouping=(2, 2))
    assert heads(grouped)[0] == BarHead(grouping=(2, 2))
    cut = set_steps(grouped, 0, 0, 3)
    assert set_head(cut, 0, 0, grouping=(2, 2)) is cut


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"grouping": (3, 2)}, "grouping_sum"),
        ({"steps": (4, 4)}, "steps_count"),
        ({"steps": (4, 4, 4, 11)}, "steps_uneven"),
        ({"pauses": (Pause(5 * Q, PauseKind.BREAK, 1.0),)}, "pause_beyond_bar"),
        ({"pauses": (Pause(0, PauseKind.BREAK, 900.0),)}, "value_refused"),
        ({"break_after": "line"}, "value_refused"),
        ({"meter": Meter(3, 4)}, "value_refused"),
    ],
)
def test_heads_that_break_a_rule_are_refused_with_their_place(
    fields: dict[str, object], code: str
) -> None:
    with pytest.raises(CannotEdit) as error:
        set_head(low(FOUR), 0, 2, **fields)
    assert refusal(error)[:3] == (code, "A", 3)


def test_steps_of_a_beat_never_change_notes() -> None:
    before = low(FOUR)
    after = set_steps(before, 0, 1, 3, beat=2)
    assert heads(after)[1].steps == (4, 4, 3, 4)
    assert after.sections[0].bars[1].notes is before.sections[0].bars[1].notes
    assert heads(set_steps(after, 0, 1, 4, beat=2))[1].steps == ()
    assert set_steps(after, 0, 1, 3, beat=2) is after
    every = set_steps(before, 0, 0, 5, count=4)
    assert {head.steps for head in heads(every)} == {(5, 5, 5, 5)}
    with pytest.raises(CannotEdit) as error:
        set_steps(before, 0, 0, 11)
    assert refusal(error)[:3] == ("steps_uneven", "A", 1)
    with pytest.raises(CannotEdit) as error:
        set_steps(before, 0, 1, 3, beat=4)
    assert refusal(error)[:3] == ("no_such_place", "A", 2)


# Repeats


def test_repeats_are_set_changed_and_taken_away() -> None:
    before = low(FOUR)
    twice = set_repeat(before, 0, 1, 2)
    assert repeats_of(twice.sections[0].bars) == (Repeat(1, 2, 2, 2),)
    assert set_repeat(twice, 0, 1, 2) is twice
    assert repeats_of(set_repeat(twice, 0, 1, 2, 4).sections[0].bars) == (Repeat(1, 2, 4, 2),)
    assert set_repeat(twice, 0, 1, 2, 1) == before
    assert set_repeat(before, 0, 1, 2, 1) is before
    assert clear_repeat(twice, 0, 2) == before
    two = set_repeat(twice, 0, 3, 1)
    assert [(r.first, r.last) for r in repeats_of(two.sections[0].bars)] == [(1, 2), (3, 3)]
    one = set_repeat(before, 0, 3, 1)
    assert repeats_of(one.sections[0].bars) == (Repeat(3, 3, 2, 3),)


def test_repeats_do_not_overlap() -> None:
    twice = set_repeat(low(FOUR), 0, 1, 2)
    for start, count in [(0, 2), (1, 1), (2, 2), (0, 4)]:
        with pytest.raises(CannotEdit) as error:
            set_repeat(twice, 0, start, count)
        assert refusal(error)[:2] == ("repeats_cross", "A")
        assert dict(error.value.fault.figures) == {"first": 2, "last": 3}
    with pytest.raises(CannotEdit) as error:
        clear_repeat(twice, 0, 0)
    assert refusal(error)[:3] == ("no_repeat_here", "A", 1)
    with pytest.raises(CannotEdit) as error:
        set_repeat(low(FOUR), 0, 0, 2, 65)
    assert refusal(error)[:3] == ("value_refused", "A", 2)


def test_endings_and_the_ties_into_them() -> None:
    before = low("w 6:5 | w 6:5t | w 6:5t | w 6:3")
    repeated = set_repeat(before, 0, 0, 2)
    endings = set_passes(set_passes(repeated, 0, 1, 1, (1,)), 0, 2, 1, (2, 2))
    assert heads(endings)[2].passes == (2,)
    assert repeat_around(endings.sections[0].bars, 2) == Repeat(0, 1, 2, 2)
    assert repeat_around(endings.sections[0].bars, 3) is None
    assert rows(endings) == rows(before)
    # Without the first ending's note only the passes make bar 3 follow bar 1.
    silent = clear(endings, at(1, 0))
    assert rows(silent) == riff("w 6:5 | q r r r r | w 6:5t | w 6:3")
    assert rows(clear_repeat(silent, 0, 0)) == riff("w 6:5 | q r r r r | w 6:5 | w 6:3")
    with pytest.raises(CannotEdit) as error:
        set_passes(before, 0, 0, 1, (0,))
    assert refusal(error)[:3] == ("value_refused", "A", 1)


@given(lessons(most_parts=1), st.data())
def test_a_repeat_ends_with_its_first_close_sign(found: Lesson, data: st.DataObject) -> None:
    bars = list(data.draw(st.sampled_from(found.sections)).bars)
    signs = st.tuples(st.booleans(), st.sampled_from([0, 0, 2, 3]), st.sampled_from([(), (), (1,)]))
    for index, bar in enumerate(bars):
        opens, close, passes = data.draw(signs)
        head = replace(bar.head, repeat_open=opens, repeat_close=close, passes=passes)
        bars[index] = replace(bar, head=head)
    whole = replace(found.sections[0], bars=Bars.of(bars))
    closing = {index for index, bar in enumerate(bars) if bar.head.repeat_close}
    for repeat in repeats_of(whole.bars):
        assert closing & set(range(repeat.first, repeat.last + 1)) == {repeat.last}
        assert all(bars[index].head.passes for index in range(repeat.last + 1, repeat.end + 1))
