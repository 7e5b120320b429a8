"""Meter and pickup: notes that no longer fit are refused, cut, or flow on."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit, Span
from chalkfret.edits.meters import set_meter, set_pickup
from chalkfret.edits.place import Moment
from chalkfret.edits.repeats import repeats_of, set_passes, set_repeat
from chalkfret.edits.selection import copy
from chalkfret.model import QUARTER, BarHead, Lesson, Meter, Pause, PauseKind
from tests.builder import lesson, riff, section
from tests.edits.test_bars import cue, heads, spans
from tests.edits.test_notes import low, refusal, rows
from tests.edits.test_selection import played_once
from tests.strategies import lessons

Q = QUARTER


# One for one


def test_a_meter_that_fits() -> None:
    before = low("q 6:0 1 2 r | q 6:4 5 6 7")
    after = set_meter(before, 0, 0, 1, Meter(3, 4))
    assert [head.meter for head in heads(after)] == [Meter(3, 4), Meter(4, 4)]
    assert rows(after) == rows(before)
    assert after.sections[0].bars[0].notes is before.sections[0].bars[0].notes
    assert after.sections[0].bars[1] is before.sections[0].bars[1]
    assert set_meter(after, 0, 0, 1, Meter(3, 4)) is after
    grouped = set_meter(before, 0, 0, 2, Meter(9, 8), grouping=(2, 2, 2, 3))
    assert grouped.sections[0].bars[0].head.beats == (Q, Q, Q, Q * 3 // 2)


def test_notes_that_do_not_fit_are_refused_with_their_place() -> None:
    before = lesson(section("A", "q 6:0 r r r | q 6:0 r r r", "q r r r r | q r r r 5:0"))
    with pytest.raises(CannotEdit) as error:
        set_meter(before, 0, 0, 2, Meter(3, 4))
    assert refusal(error) == ("notes_do_not_fit", "A", 2, "Guitar 2", None)
    assert dict(error.value.fault.figures) == {"ticks": Q}


def test_notes_that_do_not_fit_are_cut() -> None:
    before = low("q 6:0 r h 6:5 | q 6:5t r r 7 | q 6:7t r r r")
    after = set_meter(before, 0, 0, 2, Meter(3, 4), "cut")
    assert rows(after) == riff("q 6:0 r 6:5 | q 6:5t r r | q 6:7 r r r")
    assert rows(set_meter(before, 0, 0, 3, Meter(1, 4), "cut")) == riff("q 6:0 | q 6:5 | q 6:7")


def test_what_a_bar_holds_beside_notes() -> None:
    pauses = (Pause(Q, PauseKind.BREAK, 1.0), Pause(4 * Q, PauseKind.FERMATA, 1.0))
    head = BarHead(steps=(3, 3, 3, 3), pauses=pauses, simile=True, repeat_open=True)
    before = lesson(
        section("A", "q 6:0 | q 6:1", heads={0: head}, cues=(cue((0, 3 * Q), (1, 4 * Q)),))
    )
    after = set_meter(before, 0, 0, 2, Meter(2, 4))
    assert heads(after)[0] == BarHead(
        meter=Meter(2, 4), simile=True, repeat_open=True,
        pauses=(pauses[0], replace(pauses[1], tick=2 * Q)),
    )  # fmt: skip
    assert spans(after) == [((0, 2 * Q), (1, 2 * Q))]


@pytest.mark.parametrize(
    ("meter", "grouping", "code"),
    [
        (Meter(4, 3), (), "meter_unit"),
        (Meter(40, 4), (), "value_refused"),
        (Meter(4, 4), (3, 3), "grouping_sum"),
    ],
)
def test_impossible_meters(meter: Meter, grouping: tuple[int, ...], code: str) -> None:
    with pytest.raises(CannotEdit) as error:
        set_meter(low("w 6:0 | w 6:0"), 0, 1, 1, meter, "cut", grouping=grouping)
    assert refusal(error)[:3] == (code, "A", 2)


# Pickup


def test_a_pickup_keeps_the_end_of_the_bar() -> None:
    before = low("q r r r 6:5 | q 6:0 r r r")
    after = set_pickup(before, 0, 0, Q)
    assert heads(after)[0].ticks == Q
    assert rows(after) == riff("q 6:5 | q 6:0 r r r")
    assert set_pickup(after, 0, 0, None) == before
    assert set_pickup(after, 0, 0, 4 * Q) == before
    assert set_pickup(after, 0, 0, Q) is after
    assert rows(set_pickup(after, 0, 0, 2 * Q))[0] == riff("q r 6:5")[0]


def test_what_lies_before_a_pickup_is_refused_or_cut() -> None:
    before = low("q 6:1 h 6:3+5:3 q 6:5")
    with pytest.raises(CannotEdit) as error:
        set_pickup(before, 0, 0, 2 * Q)
    assert refusal(error) == ("notes_do_not_fit", "A", 1, "Guitar 1", None)
    assert dict(error.value.fault.figures) == {"ticks": 2 * Q}
    assert rows(set_pickup(before, 0, 0, 2 * Q, "cut")) == riff("q 6:3+5:3 6:5")


def test_cues_and_pauses_keep_their_music_in_a_pickup() -> None:
    head = BarHead(pauses=(Pause(3 * Q, PauseKind.BREAK, 1.0), Pause(0, PauseKind.BREAK, 1.0)))
    before = lesson(section("A", "q r r r 6:0", heads={0: head}, cues=(cue((0, Q), (0, 4 * Q)),)))
    after = set_pickup(before, 0, 0, 2 * Q)
    assert spans(after) == [((0, 0), (0, 2 * Q))]
    assert [pause.tick for pause in heads(after)[0].pauses] == [0, Q]


def test_a_pickup_is_shorter_than_its_bar() -> None:
    with pytest.raises(CannotEdit) as error:
        set_pickup(low("w 6:0"), 0, 0, 5 * Q)
    assert refusal(error)[:3] == ("pickup_too_long", "A", 1)
    with pytest.raises(CannotEdit) as error:
        set_pickup(low("w 6:0"), 0, 0, 0)
    assert refusal(error)[:3] == ("value_refused", "A", 1)


def test_a_pickup_outlives_a_meter_that_is_longer() -> None:
    short = set_pickup(low("q r r r 6:5"), 0, 0, Q)
    assert heads(set_meter(short, 0, 0, 1, Meter(3, 4)))[0].pickup == Q
    assert heads(set_meter(short, 0, 0, 1, Meter(1, 4)))[0].pickup is None


# Reflow


def test_the_music_flows_on_over_the_new_bar_lines() -> None:
    before = low("q 6:0 1 2 3 | w 5:7 | q 6:9 r r r")
    after = set_meter(before, 0, 0, 2, Meter(3, 4), "reflow")
    assert rows(after) == riff("q 6:0 1 2 | q 6:3 h 5:7 | h 5:7t q r | q 6:9 r r r")
    assert [head.meter.count for head in heads(after)] == [3, 3, 3, 4]
    assert after.sections[0].bars[3] is before.sections[0].bars[2]
    back = set_meter(low("q 6:0 1 2 | q 6:3 h 5:7"), 0, 0, 2, Meter(3, 4))
    assert rows(set_meter(back, 0, 0, 2, Meter(4, 4), "reflow")) == riff("q 6:0 1 2 3 | h 5:7 r")


def test_the_pickup_stays_when_the_music_flows() -> None:
    before = set_pickup(low("q r r r 6:5 | q 6:0 1 2 3"), 0, 0, Q)
    after = set_meter(before, 0, 0, 2, Meter(2, 4), "reflow")
    assert [head.ticks for head in heads(after)] == [Q, 2 * Q, 2 * Q]
    assert rows(after) == riff("q 6:5 | q 6:0 1 | q 6:2 3")


def test_cues_and_pauses_flow_with_the_music() -> None:
    head = BarHead(pauses=(Pause(Q, PauseKind.BREAK, 1.0), Pause(4 * Q, PauseKind.BREAK, 2.0)))
    before = lesson(
        section(
            "A", "w 6:0 | w 6:1 | w 6:2", heads={1: head},
            cues=(cue((0, Q), (1, Q)), cue((1, 3 * Q), (2, Q), "c2"), cue((2, Q), None, "c3")),
        )
    )  # fmt: skip
    after = set_meter(before, 0, 0, 2, Meter(3, 4), "reflow")
    assert spans(after) == [
        ((0, Q), (1, 2 * Q)), ((2, Q), (3, Q)), ((3, Q), None),
    ]  # fmt: skip
    assert [head.pauses and head.pauses[0].tick for head in heads(after)] == [(), 2 * Q, 2 * Q, ()]
    behind = set_meter(before, 0, 1, 1, Meter(3, 4), "reflow")
    assert spans(behind)[0] == ((0, Q), (1, Q))
    all_in_one = set_meter(before, 0, 0, 3, Meter(12, 4), "reflow")
    assert [pause.tick for pause in heads(all_in_one)[0].pauses] == [5 * Q, 8 * Q]
    last = lesson(section("A", "w 6:0", heads={0: head}))
    assert heads(set_meter(last, 0, 0, 1, Meter(2, 4), "reflow"))[1].pauses[0].tick == 2 * Q


def test_repeats_flow_only_on_bar_lines() -> None:
    six = low("w 6:0 | w 6:1 | w 6:2 | w 6:3 | w 6:4 | w 6:5")
    whole = set_repeat(six, 0, 0, 3)
    after = set_meter(whole, 0, 0, 6, Meter(3, 4), "reflow")
    assert [(r.first, r.last) for r in repeats_of(after.sections[0].bars)] == [(0, 3)]
    for start, count in [(1, 2), (0, 2)]:
        with pytest.raises(CannotEdit) as error:
            set_meter(set_repeat(six, 0, start, count), 0, 0, 6, Meter(3, 4), "reflow")
        assert refusal(error)[:2] == ("reflow_repeat", "A")
    ending = set_passes(whole, 0, 0, 3, (1,))
    flowed = set_meter(ending, 0, 0, 6, Meter(3, 4), "reflow")
    assert [head.passes for head in heads(flowed)] == [(1,)] * 4 + [()] * 4
    with pytest.raises(CannotEdit) as error:
        set_meter(set_passes(six, 0, 1, 1, (1,)), 0, 0, 6, Meter(3, 4), "reflow")
    assert refusal(error)[:2] == ("reflow_repeat", "A")


def test_a_tie_into_music_that_moved_away_is_struck_anew() -> None:
    before = low("w 6:5 | w 6:5t")
    after = set_meter(before, 0, 0, 1, Meter(3, 4), "reflow")
    assert rows(after) == riff("h. 6:5 | q 6:5t r r | w 6:5")


@given(lessons(most_sections=1), st.sampled_from([(3, 4), (4, 4), (7, 8), (15, 16)]))
def test_reflowed_music_is_the_same_music(drawn: Lesson, meter: tuple[int, int]) -> None:
    found = played_once(drawn)
    after = set_meter(found, 0, 0, len(found.sections[0].bars), Meter(*meter), "reflow")
    old, new = everything(found), everything(after)
    old_clip, new_clip = copy(found, old), copy(after, new)
    assert old_clip.parts == new_clip.parts
    assert 0 <= new_clip.length - old_clip.length < Meter(*meter).ticks


def everything(found: Lesson) -> Span:
    bars = found.sections[0].bars
    return Span(Moment(0, 0, 0), Moment(0, len(bars), 0), tuple(range(len(found.parts))))


def test_other_bars_stay_the_same_objects() -> None:
    before = low(" | ".join(["w 6:0"] * 200))
    after = set_meter(before, 0, 100, 1, Meter(5, 4))
    old, new = before.sections[0].bars, after.sections[0].bars
    assert [one is two for one, two in zip(old.chunks, new.chunks, strict=True)] == [
        True, False, True, True,
    ]  # fmt: skip


def test_a_bar_that_a_reflow_leaves_as_it_was_is_the_same_object() -> None:
    """Found by fuzzing: a rest behind the changed bar was made anew."""
    heads = {0: BarHead(meter=Meter(6, 8)), 1: BarHead(meter=Meter(3, 4))}
    before = lesson(section("A", "q 6:0 1 2 | ", heads=heads))
    after = set_meter(before, 0, 0, 2, Meter(3, 4), "reflow")
    assert after.sections[0].bars[0].head.meter == Meter(3, 4)
    assert after.sections[0].bars[1] is before.sections[0].bars[1]
