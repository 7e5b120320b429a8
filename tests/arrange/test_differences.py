"""What one part does otherwise than another."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.arrange.differences import (
    Difference,
    DifferentBars,
    Kind,
    bar_difference,
    difference_in,
    section_differences,
)
from chalkfret.model import Bars, Capo, Retune, setup_in, with_notes
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.theory.sounding import named_pitch
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

SAME = Difference(Kind.SAME)
PLAIN = (part("One"), part("Two"))


def told(one, two, parts=PLAIN, key=None):
    """What the second of two riffs of one bar does otherwise, and the frets that make it."""
    made = section("A", one, two, key=key)
    found = difference_in(made, made.bars[0], parts, 0, 1)
    return found.what, [note.fret for note in found.notes]


@pytest.mark.parametrize(
    ("one", "two", "kind", "frets"),
    [
        ("q 6:0 3", "q r r", Kind.SILENT, []),
        ("q r r", "q 6:0 3", Kind.ALONE, [0, 3]),
        ("q 6:0 3 5", "e 6:0 3 q 6:5 7", Kind.RHYTHM, [3, 5, 7]),
        ("q 6:0 3 5", "q 6:0 3", Kind.RHYTHM, []),
        ("q 6:0 3 5 7", "q 6:0 3 6 9", Kind.NOTES, [6, 9]),
        ("q 6:0 3", "q 6:0+5:2 6:3", Kind.NOTES, [2]),
        ("q 6:0 3x", "q 6:0 3", Kind.NOTES, [3]),
        ("q 6:0m 3m", "q 6:0m 3", Kind.MARKS, [3]),
        ("q 6:0 e 3 r", "q 6:0 3", Kind.LENGTHS, [3]),
        ("q 6:5 7", "q 5:0 2", Kind.PLACES, [0, 2]),
        ("q 6:3x", "q 6:9x", Kind.PLACES, [9]),
    ],
)
def test_each_kind_is_told_with_the_notes_that_make_it(one, two, kind, frets):
    assert told(one, two) == (Difference(kind), frets)


@pytest.mark.parametrize(
    ("one", "two", "semitones"),
    [
        ("q 6:0 3 5", "q 4:2 5 7", 12),
        ("q 4:2 5 7", "q 6:0 3 5", -12),
        ("q 6:0+5:2 3+5:5", "q 5:2+4:4 5+4:7", 7),
        ("q 6:0 3x", "q 6:1 3x", 1),
    ],
)
def test_the_same_rhythm_at_one_interval_is_parallel(one, two, semitones):
    what, _frets = told(one, two)
    assert what == Difference(Kind.PARALLEL, semitones=semitones)


def test_thirds_of_the_scale_are_parallel_by_its_steps_where_there_is_a_scale():
    one, two = "q 1:0 2 3 5", "q 1:3 5 7 8"  # E F# G A under G A B C
    assert told(one, two)[0] == Difference(Kind.NOTES)
    assert told(one, two, key="E minor")[0] == Difference(Kind.PARALLEL, steps=2)
    assert told(two, one, key="E minor")[0] == Difference(Kind.PARALLEL, steps=-2)


def test_what_is_heard_decides_not_the_fret():
    low = (part("One"), part("Two", tuned("D2 G2 C3 F3 A3 D4")))  # all strings a tone lower
    assert told("q 6:0 3", "q 6:0 3", low)[0] == Difference(Kind.PARALLEL, semitones=-2)
    assert told("q 6:0 3", "q 6:2 5", low)[0] == Difference(Kind.PLACES)
    capo = (part("One"), part("Two", replace(STANDARD_SETUP, capo=Capo(2))))
    assert told("q 6:2 5", "q 6:0 3", capo)[0] == Difference(Kind.PLACES)


def test_a_retuning_of_the_section_is_respected():
    made = section("A", "q 6:0", "q 6:0", retunes=(Retune("two", tuned("D2 A2 D3 G3 B3 E4")),))
    found = section_differences(made, PLAIN, 0, 1)
    assert found == (DifferentBars(0, 0, Difference(Kind.PARALLEL, semitones=-2)),)


def test_a_sound_is_the_same_however_it_is_tied_and_a_held_one_is_no_attack():
    assert told("h 6:0 6:3", "q 6:0 6:0t 6:3 6:3t")[0] == SAME
    assert told("h 6:0 6:3", "h 6:0t 6:3")[0] == Difference(Kind.RHYTHM)


def test_a_trill_counts_by_its_interval():
    what, _frets = told("q 6:10k", "q 5:5")
    assert what == Difference(Kind.MARKS)


def test_repeats_of_a_difference_are_merged():
    made = section(
        "A",
        "q 6:0 | q 6:0 | q 6:0 | q 6:0 | q 6:0 | q 6:0",
        "q 6:0 | r | r | q 4:2 | q 6:0 | q 6:1",
    )
    assert section_differences(made, PLAIN, 0, 1) == (
        DifferentBars(1, 2, Difference(Kind.SILENT)),
        DifferentBars(3, 3, Difference(Kind.PARALLEL, semitones=12)),
        DifferentBars(5, 5, Difference(Kind.PARALLEL, semitones=1)),
    )


# --- properties -----------------------------------------------------------------------------------


@given(lessons(tidy=False))
def test_a_part_does_nothing_otherwise_than_itself(lesson):
    for each in lesson.sections:
        for index in range(len(lesson.parts)):
            assert section_differences(each, lesson.parts, index, index) == ()


@given(lessons(tidy=False))
def test_a_copy_of_a_part_does_nothing_otherwise(lesson):
    twin = (lesson.parts[0], replace(lesson.parts[0], id="twin", name="Twin"))
    for each in lesson.sections:
        bars = Bars.of(replace(bar, notes=(bar.notes[0], bar.notes[0])) for bar in each.bars)
        head = replace(each.head, retunes=(), cues=())
        assert section_differences(replace(each, head=head, bars=bars), twin, 0, 1) == ()


@given(lessons(tidy=False))
def test_turned_round_it_is_the_mirror_image(lesson):
    mirrored = {Kind.SILENT: Kind.ALONE, Kind.ALONE: Kind.SILENT}
    last = len(lesson.parts) - 1
    for each in lesson.sections:
        for bar in each.bars:
            there = difference_in(each, bar, lesson.parts, 0, last)
            back = difference_in(each, bar, lesson.parts, last, 0).what
            assert there.what.kind is mirrored.get(back.kind, back.kind)
            assert (there.what.semitones, there.what.steps) == (-back.semitones, -back.steps)
            assert set(there.notes) <= set(bar.notes[last])


@given(lessons(), st.data())
def test_an_edit_of_a_bar_changes_what_is_said_of_that_bar_alone(lesson, data):
    each = data.draw(st.sampled_from(lesson.sections))
    index = data.draw(st.integers(0, len(each.bars) - 1))
    last = len(lesson.parts) - 1

    def all_bars(made):
        return [difference_in(made, bar, lesson.parts, 0, last) for bar in made.bars]

    before = all_bars(each)
    edited = each.bars.with_bars({index: with_notes(each.bars[index], last, ())})
    after = all_bars(replace(each, bars=edited))
    assert [one == two for one, two in zip(before, after, strict=True)].count(False) <= 1
    before.pop(index), after.pop(index)
    assert before == after


@given(lessons(), st.integers(1, 11))
def test_a_part_moved_along_its_strings_is_parallel_by_as_much(lesson, frets):
    """Held against plain arithmetic: what is moved by so many frets sounds so many higher."""
    for each in lesson.sections:
        setup = setup_in(each, lesson.parts[0])
        for bar in each.bars:
            notes = bar.notes[0]
            moved = tuple(replace(note, fret=note.fret + frets) for note in notes)
            pitched = {
                named_pitch(setup, new) - named_pitch(setup, old)
                for old, new in zip(notes, moved, strict=True)
                if not any(str(mark) == "dead" for mark in old.marks)
            }
            if pitched != {frets}:
                continue  # natural harmonics and short strings do not move
            found = bar_difference(
                replace(bar, notes=(notes, moved)), (0, 1), (setup, setup), each.head.key
            )
            assert found.what == Difference(Kind.PARALLEL, semitones=frets)


def test_what_is_known_of_a_bar_is_not_reckoned_again():
    bar_difference.cache_clear()
    riffs = [" | ".join(f"q 6:{fret}" for fret in range(shift, shift + 20)) for shift in (0, 2)]
    made = section("A", *riffs)
    section_differences(made, PLAIN, 0, 1)
    assert bar_difference.cache_info().misses == 20
    bars = made.bars.with_bars({7: with_notes(made.bars[7], 1, ())})
    section_differences(replace(made, bars=bars), PLAIN, 0, 1)
    assert bar_difference.cache_info().misses == 21


def test_parts_of_a_lesson_of_three_are_held_against_one_another_by_index():
    made = lesson(section("A", "q 6:0", "q 6:0", "q 4:2"))
    each = made.sections[0]
    assert section_differences(each, made.parts, 0, 1) == ()
    assert section_differences(each, made.parts, 2, 1) == (
        DifferentBars(0, 0, Difference(Kind.PARALLEL, semitones=-12)),
    )
