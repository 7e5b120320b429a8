"""A part on another setup: what sounds stays, what does not is told, and the lesson stays sound."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.arrange.same_pitch import Arranged, Why, same_pitch
from chalkfret.edits import parts
from chalkfret.model import QUARTER, Lesson, Setup, Sign, Trill, in_order, validate
from chalkfret.theory.sounding import named_pitch
from tests.builder import lesson, section, tuned
from tests.edits.tidy import loose_ties, overlaps
from tests.strategies import lessons

STANDARD = tuned("E2 A2 D3 G3 B3 E4")
DROP_C = tuned("C2 G2 C3 F3 A3 D4")
BOX = tuned("G2 D3 G3")
SETUPS = [STANDARD, DROP_C, BOX, tuned("D2 A2 D3 F#3 A3 D4"), tuned("G4 C4 E4 A4"),
          tuned("B1 E2 A2 D3 G3 B3 E4")]  # fmt: skip


def one(line: str, **head: object) -> Lesson:
    return lesson(section("A", line, **head))


def pitches(found: Arranged) -> list[int]:
    return [named_pitch(found.setup, note) for _, _, row in found.notes for note in row]


def test_a_run_stays_in_one_position() -> None:
    found = same_pitch(one("e 5:3 5:5 4:2 4:3 4:5 3:2 3:4 3:5", tempo=120), 0, STANDARD)
    assert pitches(found) == [48, 50, 52, 53, 55, 57, 59, 60]
    assert not found.otherwise
    assert found.hand.mean_move == 0


def test_what_is_too_low_goes_up_with_its_whole_phrase() -> None:
    low = lesson(section("A", "q 6:0 6:3 r r | 5:0 5:2 r r", "q r r r r | r r r r"))
    deep = parts.arrange(
        low, 0, DROP_C, [(0, i, b.notes[0]) for i, b in enumerate(low.sections[0].bars)]
    )
    found = same_pitch(deep, 0, STANDARD)
    assert pitches(found) == [48, 51, 43, 45]  # C2 and E flat 2 an octave up; G2 and A2 stay
    assert [(each.why, each.pitch, each.octaves) for each in found.otherwise] == [
        (Why.OCTAVE, 36, 1), (Why.OCTAVE, 39, 1),
    ]  # fmt: skip


def test_hammer_ons_slides_and_ties_stay_on_their_string() -> None:
    written = one("e 3:2 3:4h 3:5/ 3:5t q 4:2 4:4h | h 4:4t 2:1")
    found = same_pitch(written, 0, DROP_C)
    notes = [note for _, _, row in found.notes for note in row]
    assert len({note.course for note in notes[:4]}) == 1
    assert notes[3].has(Sign.TIE)
    assert notes[3].fret == notes[2].fret
    assert notes[6].has(Sign.TIE)
    assert notes[6].course == notes[5].course == notes[4].course
    assert not found.otherwise


def test_a_hammer_on_from_a_string_long_silent_is_bound_to_no_string() -> None:
    found = same_pitch(one("e 3:2 6:3 6:5 r r r 3:4h r"), 0, BOX)
    assert not found.of_kind(Why.STRUCK)
    notes = [note for _, _, row in found.notes for note in row]
    assert notes[-1].has(Sign.HAMMER_ON)


def test_a_chord_that_no_hand_can_hold_loses_as_few_notes_as_need_be_and_says_which() -> None:
    found = same_pitch(one("w 6:0+5:2+4:2+3:1+2:0+1:0"), 0, BOX)
    gone = found.of_kind(Why.NO_HAND, Why.NO_PLACE)
    kept = [note for _, _, row in found.notes for note in row]
    assert len(kept) == 3
    assert len(gone) == 3


def test_there_is_more_time_for_a_shift_when_the_tempo_is_slow() -> None:
    line = "s 6:3 6:5 6:3 6:5 1:12 1:15 1:12 1:15"
    slow, fast = (same_pitch(one(line, tempo=tempo), 0, STANDARD) for tempo in (40, 240))
    assert fast.cost > slow.cost


def test_bends_are_not_put_on_open_strings() -> None:
    found = same_pitch(one("q 5:5b 5:7~"), 0, tuned("D2 G2 D3 G3 A3 E4"))
    assert all(note.fret for _, _, row in found.notes for note in row)


@given(lessons(), st.sampled_from(SETUPS), st.data())
def test_every_note_is_there_or_told_of(first: Lesson, setup: Setup, data: st.DataObject) -> None:
    part = data.draw(st.integers(0, len(first.parts) - 1))
    found = same_pitch(first, part, setup)
    gone = found.of_kind(Why.NO_PLACE, Why.NO_HAND)
    here = sum(
        not note.has(Sign.TIE) for s in first.sections for bar in s.bars for note in bar.notes[part]
    )
    kept = sum(not note.has(Sign.TIE) for _, _, row in found.notes for note in row)
    assert kept + len(gone) >= here  # ties that nothing holds are sounds of their own
    counts = Counter((each.section, each.bar, each.onset, each.course) for each in gone)
    assert all(count == 1 for count in counts.values())
    for _, _, row in found.notes:
        assert all(0 <= note.fret <= setup.fret_count for note in row)


@given(lessons(), st.sampled_from(SETUPS), st.data())
def test_the_result_is_a_sound_new_part_and_undone_by_the_value_before(
    first: Lesson, setup: Setup, data: st.DataObject
) -> None:
    part = data.draw(st.integers(0, len(first.parts) - 1))
    found = same_pitch(first, part, setup)
    instead = parts.arrange(first, part, setup, found.notes)
    assert validate(instead) == ()
    assert loose_ties(instead) == []
    assert overlaps(instead) == []
    if len(first.parts) < 8:
        beside = parts.add_arranged(first, part, setup, found.notes)
        assert validate(beside) == ()
        assert len(beside.parts) == len(first.parts) + 1
        assert parts.remove(beside, part + 1).parts == first.parts
        for old, new in zip(first.sections, beside.sections, strict=True):
            assert all(
                b.notes[: part + 1] == a.notes[: part + 1]
                for a, b in zip(old.bars, new.bars, strict=True)
            )


def test_a_part_with_notes_beyond_the_strings_is_refused() -> None:
    from chalkfret.edits import CannotEdit

    written = one("q 6:0")
    with pytest.raises(CannotEdit):
        parts.add_arranged(written, 0, BOX, [(0, 0, written.sections[0].bars[0].notes[0])])


def test_a_tie_marked_as_a_harmonic_goes_on_from_a_note_that_is_none() -> None:
    found = same_pitch(one("h 6:3 6:3tn"), 0, DROP_C)
    assert [(note.fret, note.length) for note in found.notes[0][2]] == [(0, 2 * QUARTER)] * 2


def test_a_trill_of_a_dead_note_or_of_a_tie_stays_within_the_neck() -> None:
    def down(text: str, index: int) -> Lesson:
        """A note of the text trilled with the fret three below it."""
        found = one(text)
        note = found.sections[0].bars[0].notes[0][index]
        row = list(found.sections[0].bars[0].notes[0])
        row[index] = replace(note, marks=in_order((*note.marks, Trill(note.fret - 3))))
        return parts.arrange(found, 0, found.parts[0].setup, [(0, 0, tuple(row))])

    dead = same_pitch(down("q 6:5x", 0), 0, DROP_C).notes[0][2][0]
    assert dead.fret == 0
    assert dead.mark(Trill) is None
    tied = same_pitch(down("h 5:5 5:5t", 1), 0, DROP_C).notes[0][2]
    trill = tied[1].mark(Trill)
    assert trill is not None
    assert tied[1].fret - trill.fret == 3
