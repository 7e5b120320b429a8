"""Bars after models of earlier ones, hand shapes, a second guitar by a rule, beats cut."""

import pytest

from chalkfret.edits import CannotEdit, Spot
from chalkfret.edits.gestures import cut_beat, on_new_steps
from chalkfret.edits.models import groups, models, refret, to_string, write_like
from chalkfret.edits.second_guitar import Rule, follow
from chalkfret.edits.selection import bars_span
from chalkfret.edits.shapes import moved_to, shapes_before, write_shape
from chalkfret.model import QUARTER, Note
from tests.builder import lesson, part, riff, section, tuned

Q = QUARTER


def spot(bar: int, onset: int = 0, course: int = 1, part: int = 0, section: int = 0) -> Spot:
    return Spot(section, bar, part, onset, course)


def test_models_are_the_earlier_bars_that_differ_nearest_first() -> None:
    one = lesson(
        section("A", "q 6:1 | q 6:2 | q 6:3"),
        section("B", "q 6:2 | q r | q 6:3 | q 6:4", meter=(4, 4)),
    )
    assert models(one, spot(3, section=1)) == [(1, 2), (1, 0), (0, 0)]
    assert models(one, spot(4, section=1)) == [(1, 3), (1, 2), (1, 0), (0, 0)], "behind the last"
    assert models(one, spot(3, section=1), (0, 1)) == [(0, 1), (1, 2), (0, 0)]
    assert models(one, spot(3, section=1), (1, 3)) == [(1, 2), (1, 0), (0, 0)], "not itself"
    assert models(one, spot(0)) == []
    with pytest.raises(CannotEdit):
        models(one, spot(9))


def test_only_bars_of_the_same_length_are_models() -> None:
    one = lesson(section("A", "q 6:1", meter=(3, 4)), section("B", "q 6:2 | q r"))
    assert models(one, spot(1, section=1)) == [(1, 0)]


def test_a_bar_becomes_its_model_from_a_tick_on() -> None:
    one = lesson(section("A", "q 6:1 5:2 e 4:3 3 q r | h 6:7 q r q r", "q 1:9 | w 1:5"))
    after = write_like(one, spot(1, Q), (0, 0))
    assert after.sections[0].bars[1].notes[0] == (
        Note(0, 2 * Q, 6, 7), *riff("q 6:1 5:2 e 4:3 3 q r")[0][1:],
    )  # fmt: skip
    assert after.sections[0].bars[1].notes[1] is one.sections[0].bars[1].notes[1]
    assert write_like(after, spot(1, Q), (0, 0)) is after


def test_an_empty_bar_gets_the_steps_of_its_model() -> None:
    one = cut_beat(lesson(section("A", "e3 6:1 2 3 q r r r | w r")), 0, 0, 0, 3)
    assert write_like(one, spot(1), (0, 0)).sections[0].bars[1].head.steps == (3, 4, 4, 4)


def test_notes_are_asked_for_low_string_first_or_once_for_the_hand() -> None:
    one = lesson(section("A", "q 6:0+5:2 6:0 5:2 6:3"))
    each = groups(one, spot(0), hand=False)
    assert [(s.onset // Q, s.course) for (s,) in each] == [(0, 6), (0, 5), (1, 6), (2, 5), (3, 6)]
    hand = groups(one, spot(0), hand=True)
    assert [[(s.onset // Q, s.course) for s in group] for group in hand] == [
        [(0, 6), (1, 6)], [(0, 5), (2, 5)], [(3, 6)],
    ]  # fmt: skip
    after = refret(one, hand[0], 1)
    assert after.sections[0].bars[0].notes[0] == riff("q 6:1+5:2 6:1 5:2 6:3")[0]
    assert refret(after, hand[0], 1) is after


def test_strings_with_a_note_at_the_same_time_are_passed_over() -> None:
    one = lesson(section("A", "q 6:0+5:2 r r r"))
    after, group = to_string(one, (spot(0, course=6),), -1)
    assert after.sections[0].bars[0].notes[0] == riff("q 5:2+4:0 r r r")[0]
    assert group == (spot(0, course=4),)
    with pytest.raises(CannotEdit):
        to_string(one, (spot(0, course=6),), 1)


def test_shapes_are_remembered_wherever_they_stood_on_the_neck() -> None:
    one = lesson(section("A", "q 6:3+5:5 6:5+5:7 4:0+3:0 6:0 | q r r r r"))
    found = shapes_before(one, spot(1))
    assert found == [((4, 0), (3, 0)), ((6, 5), (5, 7))]
    assert shapes_before(one, spot(0)) == []
    after = write_shape(one, spot(1), moved_to(found[1], 1), Q)
    assert after.sections[0].bars[1].notes[0] == riff("q 6:1+5:3 r r r")[0]
    with pytest.raises(CannotEdit):
        write_shape(one, spot(1), moved_to(((6, 5), (5, 3)), 1), Q)


def test_a_second_guitar_in_another_tuning_sounds_the_same() -> None:
    low = part("Low", tuned("C2 G2 C3 F3 A3 D4"))
    one = lesson(section("A", "q 6:7 5:2 r r", "w r"), parts=(low, part("High")))
    after = follow(one, bars_span(one, 0, 0, 1, (0,)), 1, Rule.SAME)
    assert after.sections[0].bars[0].notes[1] == riff("q 6:3 5:0 r r")[0]  # G2, A2


def test_what_the_other_guitar_cannot_sound_goes_an_octave_up_or_is_refused() -> None:
    low = part("Low", tuned("C2 G2 C3 F3 A3 D4"))
    one = lesson(section("A", "w 6:0", "w r"), parts=(low, part("High")))
    after = follow(one, bars_span(one, 0, 0, 1, (0,)), 1, Rule.SAME)
    assert after.sections[0].bars[0].notes[1] == riff("w 5:3")[0]  # C3
    small = part("Small", tuned("C6 C6 C6", fret_count=1))
    two = lesson(section("A", "w 6:0", "w r"), parts=(low, small))
    with pytest.raises(CannotEdit) as refused:
        follow(two, bars_span(two, 0, 0, 1, (0,)), 1, Rule.OCTAVE)
    assert refused.value.fault.code == "no_place_on_guitar"


def test_a_beat_that_is_begun_is_written_in_its_new_steps_and_a_full_one_stays() -> None:
    begun = lesson(section("A", "s 6:1 2 r r q r r r"))
    after = cut_beat(begun, 0, 0, 0, 3)
    assert after.sections[0].bars[0].notes[0] == riff("e3 6:1 2 r q r r r")[0]
    heads = [one.sections[0].bars[0].head for one in (begun, after)]
    assert on_new_steps(heads[0], heads[1], [0, Q // 4]) == [0, Q // 3]
    full = lesson(section("A", "s 6:1 2 3 4 q r r r"))
    assert cut_beat(full, 0, 0, 0, 3).sections[0].bars[0].notes is full.sections[0].bars[0].notes
    assert cut_beat(full, 0, 0, 0, 4) is full
