"""Slides and bends as they are drawn, notes carried to other strings, bars by a section's width."""

from collections.abc import Callable
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit, Span, bars, cues
from chalkfret.edits.drawing import bend_curve, draw_bend, draw_slide
from chalkfret.edits.notes import note_at
from chalkfret.edits.selection import bars_span, shift, sounds
from chalkfret.model import (
    QUARTER,
    Bend,
    BendPoint,
    CueKind,
    Fault,
    Lesson,
    Note,
    Place,
    Sign,
    Slide,
    SlideWay,
    Trill,
    Vibrato,
    setup_in,
)
from chalkfret.theory.sounding import attack_pitch
from tests.builder import lesson, part, riff, section, tuned
from tests.edits.random_edits import some_span
from tests.edits.test_notes import at, low, rows
from tests.strategies import lessons

Q = QUARTER
SLIDE = Slide(SlideWay.FROM_NOTE)


def refusal(edit: Callable[[], Lesson]) -> Fault:
    """The fault with which an edit is refused."""
    with pytest.raises(CannotEdit) as error:
        edit()
    return error.value.fault


# Slides


def test_a_slide_stands_on_the_later_note_whichever_way_it_is_drawn() -> None:
    before = low("q 6:3 5 r 6:7 | q 6:9 r r r")
    wanted = riff("q 6:3 5/ r 6:7 | q 6:9 r r r")
    assert rows(draw_slide(before, at(0, 0, 6), at(0, Q, 6))) == wanted
    assert rows(draw_slide(before, at(0, Q, 6), at(0, 0, 6))) == wanted
    over = draw_slide(before, at(0, 3 * Q, 6), at(1, 0, 6))
    assert rows(over) == riff("q 6:3 5 r 6:7 | q 6:9/ r r r")


def test_a_slide_drawn_again_or_to_itself_changes_nothing() -> None:
    before = low("h 6:3 q 5/ r")
    assert draw_slide(before, at(0, 0, 6), at(0, 2 * Q, 6)) is before
    assert draw_slide(before, at(0, 0, 6), at(0, Q, 6)) is before  # held there


def test_a_slide_puts_a_hammer_on_out_and_leaves_a_held_note_alone() -> None:
    before = low("q 6:3 3t 5h~ r")
    after = draw_slide(before, at(0, Q, 6), at(0, 2 * Q, 6))
    note = note_at(after, at(0, 2 * Q, 6))
    assert note is not None
    assert note.marks == (SLIDE, Vibrato())
    assert rows(after)[0][:2] == rows(before)[0][:2]


@pytest.mark.parametrize(
    ("one", "other", "code"),
    [
        (at(0, 0, 6), at(0, 0, 5), "no_note_here"),
        (at(0, 0, 6), at(0, Q, 5), "slide_elsewhere"),
        (at(0, 0, 6), at(0, 3 * Q, 6), "slide_over_note"),
    ],
)
def test_a_slide_is_refused_with_its_reason(one, other, code: str) -> None:
    before = low("q 6:3 6:5+5:2 r 6:7")
    assert refusal(lambda: draw_slide(before, one, other)).code == code


# Bends


def test_a_bend_by_its_shape() -> None:
    assert bend_curve(Q, 200, 200) == Bend((BendPoint(0, 0), BendPoint(Q // 4, 200)))
    assert bend_curve(Q, 300, 100) == Bend(
        (BendPoint(0, 0), BendPoint(Q // 4, 300), BendPoint(Q // 2, 300),
         BendPoint(Q * 3 // 4, 100))
    )  # fmt: skip
    assert bend_curve(Q, 200, 200, before=True) == Bend((BendPoint(0, 200),))


def test_a_bend_is_drawn_drawn_over_and_taken_away() -> None:
    before = low("q 6:7~ r r r")
    spot = at(0, 0, 6)
    tone = draw_bend(before, spot, 200, 200)
    assert note_at(tone, spot) == replace(
        rows(before)[0][0], marks=(bend_curve(Q, 200, 200), Vibrato())
    )
    back = draw_bend(tone, spot, 100, 0)
    assert note_at(back, spot).marks == (bend_curve(Q, 100, 0), Vibrato())
    assert rows(draw_bend(back, spot, 0, 0)) == rows(before)
    assert draw_bend(before, spot, 0, 0) is before
    assert refusal(lambda: draw_bend(before, at(0, Q, 6), 100, 100)).code == "no_note_here"
    assert refusal(lambda: draw_bend(before, spot, 1300, 1300)).code == "value_refused"


# Notes to other strings


def test_a_selection_keeps_its_pitches_on_the_next_string() -> None:
    before = low("q 6:5 7 6:5+5:7 r")
    whole = bars_span(before, 0, 0)
    after = shift(before, Span(whole.start, whole.end, (0,), (6,)), courses=-1, keep_pitch=True)
    assert rows(after) == riff("q 5:0 2 0 r")
    low_note = low("q 6:3 r r r")
    fault = refusal(lambda: shift(low_note, bars_span(low_note, 0, 0), courses=-1, keep_pitch=True))
    assert fault.code == "same_pitch_fret"


def test_a_string_that_starts_late_is_fretted_from_the_nut() -> None:
    """The short fifth string of a banjo is open up to its fifth fret (common practice)."""
    setup = tuned("G4 D3 G3 B3 D4")
    short = replace(setup.courses[4].strings[0], first_fret=5)
    courses = (*setup.courses[:4], replace(setup.courses[4], strings=(short,)))
    banjo = part("Banjo", replace(setup, courses=courses))
    before = lesson(section("A", "q 1:7 1:5 r r"), parts=(banjo,))
    after = shift(before, bars_span(before, 0, 0), courses=4, keep_pitch=True)
    assert rows(after) == riff("q 5:7 5:0 r r")


@given(lessons(), st.integers(0, 2**32 - 1))
def test_what_keeps_its_pitch_sounds_as_before(first: Lesson, seed: int) -> None:
    dice = Random(seed)
    span = some_span(first, dice)
    courses = dice.choice([1, -1, 2])
    try:
        before = [(part, note, pitch(first, stretch.section, part, note))
                  for part, stretch, phrase in sounds(first, span)
                  for note in [phrase[0][1]]]  # fmt: skip
        after = shift(first, span, courses=courses, keep_pitch=True)
    except CannotEdit:
        return
    for part_index, note, midi in before:
        if midi is None:
            continue
        found = [
            pitch(after, s, part_index, other)
            for s, one in enumerate(after.sections)
            for bar in one.bars
            for other in bar.notes[part_index]
            if other.onset == note.onset and other.course == note.course + courses
        ]
        assert any(other is not None and abs(other - midi) <= 0.5001 for other in found)


def pitch(of: Lesson, section: int, part: int, note: Note) -> float | None:
    """The pitch that the frets give; None where a mark makes another one of it."""
    if note.has(Sign.DEAD) or any(not isinstance(mark, Sign | Slide) for mark in note.marks):
        return None
    setup = setup_in(of.sections[section], of.parts[part])
    return attack_pitch(setup, note)


def test_a_trill_keeps_its_distance() -> None:
    before = low("q 6:10k r r r")  # to fret 12
    up = shift(before, bars_span(before, 0, 0), frets=3)
    assert rows(up)[0][0].mark(Trill) == Trill(15)
    over = shift(before, bars_span(before, 0, 0), courses=-1, keep_pitch=True)
    assert rows(over)[0][0].mark(Trill) == Trill(7)


# Bars by width


def test_a_section_gets_and_loses_empty_bars_at_its_end() -> None:
    before = low("q 6:0 r r r | r")
    longer = bars.set_count(before, 0, 4)
    assert len(longer.sections[0].bars) == 4
    assert bars.set_count(longer, 0, 2) == before
    assert bars.set_count(before, 0, 2) is before
    assert len(bars.set_count(before, 0, 1).sections[0].bars) == 1


def test_a_bar_with_notes_or_a_cue_never_goes_by_width() -> None:
    before = low("q r | q 6:0 r r r | r | r")
    assert refusal(lambda: bars.set_count(before, 0, 1)).code == "bar_holds_notes"
    assert refusal(lambda: bars.set_count(low("q r | r"), 0, 0)).code == "last_bars"
    cued = cues.add(before, 0, "drive", CueKind.DRIVE, Place(3, 0))
    fault = refusal(lambda: bars.set_count(cued, 0, 3))
    assert (fault.code, dict(fault.figures)) == ("bar_holds_cue", {"label": "drive"})


@given(lessons(), st.integers(0, 2**32 - 1))
def test_no_note_and_no_cue_is_ever_lost_by_width(first: Lesson, seed: int) -> None:
    dice = Random(seed)
    section = dice.randrange(len(first.sections))
    count = len(first.sections[section].bars) + dice.randint(-4, 3)
    try:
        after = bars.set_count(first, section, count)
    except CannotEdit:
        return
    old, new = first.sections[section], after.sections[section]
    assert len(new.bars) == count
    assert sum(len(n) for b in old.bars for n in b.notes) == sum(
        len(n) for b in new.bars for n in b.notes
    )
    assert [cue.id for cue in new.head.cues] == [cue.id for cue in old.head.cues]
