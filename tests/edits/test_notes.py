"""One note: written, changed, stretched, moved; ties over bar lines."""

import pytest

from chalkfret.edits import CannotEdit, Spot
from chalkfret.edits.bars import set_steps
from chalkfret.edits.notes import (
    attack_of,
    clear,
    move,
    note_at,
    set_fret,
    set_length,
    set_spelling,
    set_voice,
    sound_length,
    sounding_at,
    stretch,
)
from chalkfret.edits.repeats import set_passes, set_repeat
from chalkfret.model import QUARTER, Bars, Capo, Lesson, Note, Sign
from tests.builder import lesson, part, riff, section, tuned

Q = QUARTER
S = QUARTER // 4


def low(text: str, *more: str) -> Lesson:
    return lesson(section("A", text, *more))


def at(bar: int, onset: int, course: int = 6, part: int = 0, section: int = 0) -> Spot:
    return Spot(section, bar, part, onset, course)


def rows(found: Lesson, part: int = 0, section: int = 0) -> list[tuple[Note, ...]]:
    return [bar.notes[part] for bar in found.sections[section].bars]


def refusal(error: pytest.ExceptionInfo[CannotEdit]) -> tuple[object, ...]:
    fault = error.value.fault
    where = fault.where
    return fault.code, where.section, where.bar, where.part, where.course


# set_fret


def test_a_new_note_gets_its_length() -> None:
    assert rows(set_fret(low("q r r r r"), at(0, Q), 5, 2 * Q)) == riff("q r h 6:5")


def test_a_new_note_ends_what_sounded_and_stops_at_the_next_note() -> None:
    assert rows(set_fret(low("h 6:0 q 3 r"), at(0, Q), 5, 4 * Q)) == riff("q 6:0 5 3 r")


def test_other_strings_and_parts_are_left_alone() -> None:
    before = low("w 6:0+5:2", "w 6:1")
    after = set_fret(before, at(0, 2 * Q, 6), 5, Q)
    assert rows(after)[0][0] is rows(before)[0][0]  # string 5
    assert rows(after, 1) == rows(before, 1)
    assert rows(after, 1)[0] is rows(before, 1)[0]


def test_a_new_note_goes_on_over_the_bar_line() -> None:
    assert rows(set_fret(low("q r r r r | q r r 6:3 r"), at(0, 3 * Q), 5, 6 * Q)) == riff(
        "q r r r 6:5 | h 6:5t q 3 r"
    )
    assert rows(set_fret(low("q r r r r"), at(0, 3 * Q), 5, 6 * Q)) == riff("q r r r 6:5")
    assert rows(set_fret(low("q r r r r | q 6:3 r r r"), at(0, 3 * Q), 5, 6 * Q)) == riff(
        "q r r r 6:5 | q 6:3 r r r"
    )


def test_a_note_that_is_there_keeps_length_and_marks_and_takes_its_ties_along() -> None:
    before = low("q r r r 6:5m | h 6:5t r")
    assert rows(set_fret(before, at(0, 3 * Q), 7, S)) == riff("q r r r 6:7m | h 6:7t r")


def test_a_tied_note_with_another_fret_is_struck_anew() -> None:
    before = low("q r r r 6:5 | w 6:5t | q 6:5t r r r")
    assert rows(set_fret(before, at(1, 0), 7, S)) == riff("q r r r 6:5 | w 6:7 | q 6:7t r r r")
    assert set_fret(before, at(1, 0), 5, S) is before


def test_writing_into_a_held_note_takes_its_tail() -> None:
    before = low("h r 6:5 | w 6:5t | q 6:5t r r r")
    assert rows(set_fret(before, at(1, Q), 7, Q)) == riff("h r 6:5 | q 6:5t 7 r r | q r r r r")
    assert rows(set_fret(before, at(0, 3 * Q), 7, Q)) == riff("h r q 6:5 7 | q r r r r | q r r r r")


def test_the_same_fret_again_is_the_same_lesson() -> None:
    before = low("q 6:0 r r r")
    assert set_fret(before, at(0, 0), 0, S) is before


@pytest.mark.parametrize(
    ("spot", "fret", "length", "code"),
    [
        (at(0, 0), -1, Q, ("fret_range", "A", 1, "Guitar 1", 6)),
        (at(0, 0), 37, Q, ("fret_range", "A", 1, "Guitar 1", 6)),
        (at(0, 0), 3, 0, ("length_range", "A", 1, "Guitar 1", 6)),
        (at(0, 0, 7), 3, Q, ("course_beyond_setup", "A", 1, "Guitar 1", 7)),
        (at(0, 0, 0), 3, Q, ("course_beyond_setup", "A", 1, "Guitar 1", 0)),
        (at(0, 4 * Q), 3, Q, ("no_such_place", "A", 1, None, None)),
        (at(0, -1), 3, Q, ("no_such_place", "A", 1, None, None)),
        (at(1, 0), 3, Q, ("no_such_place", "A", None, None, None)),
        (at(-1, 0), 3, Q, ("no_such_place", "A", None, None, None)),
        (at(0, 0, part=1), 3, Q, ("no_such_place", None, None, None, None)),
        (at(0, 0, section=-1), 3, Q, ("no_such_place", None, None, None, None)),
    ],
)
def test_impossible_notes_are_refused(
    spot: Spot, fret: int, length: int, code: tuple[object, ...]
) -> None:
    with pytest.raises(CannotEdit) as error:
        set_fret(low("q 6:0 r r r"), spot, fret, length)
    assert refusal(error) == code


# clear


def test_clearing_an_attack_takes_its_ties() -> None:
    assert rows(clear(low("q r r r 6:5 | w 6:5t"), at(0, 3 * Q))) == riff("q r r r r | q r r r r")


def test_clearing_a_held_place_shortens() -> None:
    before = low("w 6:5 | w 6:5t")
    assert rows(clear(before, at(0, 2 * Q))) == riff("h 6:5 r | q r r r r")
    assert rows(clear(before, at(1, 0))) == riff("w 6:5 | q r r r r")
    assert rows(clear(before, at(1, Q))) == riff("w 6:5 | q 6:5t r r r")


def test_clearing_nothing_is_the_same_lesson() -> None:
    before = low("q 6:0 r r r")
    assert clear(before, at(0, Q)) is before


def test_a_tie_that_another_bar_still_holds_stays() -> None:
    # Bars 2 and 3 are first and second ending; both hold on from bar 1.
    before = low("w 6:5 | w 6:5t | w 6:5t")
    before = set_repeat(before, 0, 0, 2)
    before = set_passes(before, 0, 1, 1, (1,))
    before = set_passes(before, 0, 2, 1, (2,))
    assert rows(before) == riff("w 6:5 | w 6:5t | w 6:5t")
    assert rows(clear(before, at(0, 0))) == riff("q r r r r | q r r r r | q r r r r")
    assert rows(clear(before, at(1, 0))) == riff("w 6:5 | q r r r r | w 6:5t")


# Lengths


def test_a_longer_note_stops_at_the_next_one_or_goes_on_with_ties() -> None:
    before = low("q 6:5 r 3 r | q r r r r")
    assert rows(set_length(before, at(0, 0), 4 * Q)) == riff("h 6:5 q 3 r | q r r r r")
    assert rows(set_length(before, at(0, 2 * Q), 4 * Q)) == riff("q 6:5 r h 3 | h 6:3t r")
    assert rows(set_length(before, at(0, 2 * Q), 4 * Q, across=False)) == riff(
        "q 6:5 r h 3 | q r r r r"
    )


def test_a_shorter_sound_loses_its_ties_from_its_new_end_on() -> None:
    before = low("q r r r 6:5 | w 6:5t | w 6:5t")
    spot = at(0, 3 * Q)
    assert rows(set_length(before, spot, 3 * Q)) == riff("q r r r 6:5 | h 6:5t r | q r r r r")
    assert rows(set_length(before, spot, Q)) == riff("q r r r 6:5 | q r r r r | q r r r r")
    assert rows(set_length(before, spot, S)) == riff("q r r r s 6:5 r r r | q r r r r | q r r r r")
    assert set_length(before, spot, 9 * Q) is before
    assert set_length(before, spot, 20 * Q) is before  # it ends with the section


def test_the_end_of_a_slide_out_moves_to_the_end() -> None:
    before = low("q r r r 6:5\\ | q r r r r")
    assert rows(set_length(before, at(0, 3 * Q), 2 * Q)) == riff("q r r r 6:5 | q 6:5t\\ r r r")


def test_marks_of_tied_notes_survive_a_change_of_length() -> None:
    before = low("q r r r 6:5 | h 6:5t~ r")
    assert rows(set_length(before, at(0, 3 * Q), 5 * Q)) == riff("q r r r 6:5 | w 6:5t~")


def test_stretching_works_from_anywhere_in_the_sound() -> None:
    before = low("q r r r 6:5 | q 6:5t r r r | q r r r r")
    for spot in (at(0, 3 * Q), at(0, 3 * Q + S), at(1, 0), at(1, S)):
        assert rows(stretch(before, spot, 4))[1] == riff("h 6:5t r")[0]
        assert rows(stretch(before, spot, -4))[1] == ()
        assert stretch(before, spot, -8) is before
    with pytest.raises(CannotEdit) as error:
        stretch(before, at(2, 0), 1)
    assert refusal(error) == ("no_note_here", "A", 3, "Guitar 1", 6)


def test_a_stretched_sound_ends_on_the_steps_of_the_beat_it_ends_in() -> None:
    cut = set_steps(low("q r r r 6:5 | q r r r r"), 0, 0, 3, beat=3)
    cut = set_steps(cut, 0, 1, 5, beat=0)
    longer = stretch(set_length(cut, at(0, 3 * Q), Q // 3), at(0, 3 * Q), 4)
    assert rows(longer)[1] == (Note(0, 2 * Q // 5, 6, 5, marks=(Sign.TIE,)),)
    assert rows(stretch(longer, at(1, 0), -3))[0] == (Note(3 * Q, 2 * Q // 3, 6, 5),)
    off = set_length(cut, at(0, 3 * Q), Q // 2)
    assert rows(stretch(off, at(0, 3 * Q), 1))[0] == (Note(3 * Q, 2 * Q // 3, 6, 5),)
    assert rows(stretch(off, at(0, 3 * Q), -1))[0] == (Note(3 * Q, Q // 3, 6, 5),)


def test_a_sound_that_ends_with_its_section_is_not_stretched() -> None:
    before = low("q r r r 6:5")
    assert stretch(before, at(0, 3 * Q), 2) is before


def test_looking() -> None:
    found = low("q r r r 6:5 | q 6:5t r r r")
    assert note_at(found, at(0, 3 * Q)) == Note(3 * Q, Q, 6, 5)
    assert note_at(found, at(0, 3 * Q + 1)) is None
    assert sounding_at(found, at(1, S)) == at(1, 0)
    assert sounding_at(found, at(1, Q)) is None
    assert attack_of(found, at(1, S)) == at(0, 3 * Q)
    assert attack_of(found, at(1, Q)) is None
    assert sound_length(found, at(0, 3 * Q)) == 2 * Q
    assert sound_length(found, at(1, 0)) == Q
    assert sound_length(found, at(0, 0)) == 0


def test_a_tie_from_nothing_is_its_own_attack() -> None:
    found = low("q 6:5t r r r | q r 6:5t r r")
    assert attack_of(found, at(0, 0)) == at(0, 0)
    assert attack_of(found, at(1, Q)) == at(1, Q)
    within = low("q 6:5 5t r r")
    assert attack_of(within, at(0, Q)) == at(0, 0)
    assert sound_length(within, at(0, 0)) == 2 * Q


# Moving


def test_moving_along_and_across() -> None:
    before = low("q 6:5h r r r | q r r r r", "q r r r r | q r r r r")
    assert rows(move(before, at(0, 0), at(0, 2 * Q, 5))) == riff("q r r 5:5h r | q r r r r")
    across = move(before, at(0, 0), at(1, 0, part=1))
    assert rows(across) == riff("q r r r r | q r r r r")
    assert rows(across, 1) == riff("q r r r r | q 6:5h r r r")
    assert move(before, at(0, 0), at(0, 0)) is before


def test_a_moved_sound_is_tied_where_it_lands() -> None:
    before = low("h 6:5 r | q r r r r")
    moved = move(before, at(0, 0), at(0, 3 * Q))
    assert rows(moved) == riff("q r r r 6:5 | q 6:5t r r r")
    assert move(moved, at(0, 3 * Q), at(0, 0)) == before


def test_moving_with_the_pitch() -> None:
    before = low("q 5:0 r r r")
    assert rows(move(before, at(0, 0, 5), at(0, 0, 6), keep_pitch=True)) == riff("q 6:5 r r r")
    with pytest.raises(CannotEdit) as error:
        move(before, at(0, 0, 5), at(0, 0, 4), keep_pitch=True)
    assert refusal(error) == ("same_pitch_fret", "A", 1, "Guitar 1", 4)
    capo = tuned("E2 A2 D3 G3 B3 E4", capo=Capo(2, (5,)))
    under = lesson(section("A", "q 5:0 r r r"), parts=(part("Low", capo),))
    assert rows(move(under, at(0, 0, 5), at(0, 0, 6), keep_pitch=True)) == riff("q 6:7 r r r")


def test_moving_nothing_is_refused() -> None:
    with pytest.raises(CannotEdit) as error:
        move(low("q 6:0 r r r"), at(0, Q), at(0, 0))
    assert refusal(error)[0] == "no_note_here"
    with pytest.raises(CannotEdit):
        set_length(low("q 6:0 r r r"), at(0, Q), Q)


# Voice and spelling


def test_voice_and_spelling_go_through_the_ties() -> None:
    before = low("w 6:2 | q 6:2t r r r")
    voiced = set_voice(before, at(0, 0), 1)
    assert [row[0].voice for row in rows(voiced)] == [1, 1]
    assert set_voice(voiced, at(0, 0), 1) is voiced
    spelled = set_spelling(before, at(0, 0), "Gb")
    assert [row[0].spelling for row in rows(spelled)] == ["Gb", "Gb"]
    with pytest.raises(CannotEdit) as error:
        set_spelling(before, at(0, 0), "H")
    assert error.value.fault.code == "value_refused"
    assert dict(error.value.fault.figures) == {"field": "spelling", "value": "H"}
    with pytest.raises(CannotEdit):
        set_voice(before, at(0, 0, 1), 1)


def test_a_fret_in_a_long_section_shares_all_but_one_bar() -> None:
    bars = 2_000
    before = low(" | ".join(["e 6:0 0 3 0 5:2 3 6:0 3"] * bars), " | ".join(["w 6:0"] * bars))
    after = set_fret(before, at(1_000, Q), 7, S)
    old, new = before.sections[0], after.sections[0]
    assert new.head is old.head
    assert after.parts is before.parts
    chunks = [one is two for one, two in zip(old.bars.chunks, new.bars.chunks, strict=True)]
    assert chunks.count(False) == 1
    assert sum(one is not two for one, two in zip(old.bars, new.bars, strict=True)) == 1
    assert new.bars[1_000].notes[1] is old.bars[1_000].notes[1]
    assert isinstance(new.bars, Bars)
