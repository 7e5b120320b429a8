"""Differences of two lessons: each thing counted once, and nothing missed."""

from hypothesis import given
from msgspec.structs import replace

from chalkfret.model import Bars, Tempo
from chalkfret.model.lesson_differences import Change, Differences, Named, differences
from chalkfret.model.start import empty_bar, new_lesson
from tests.builder import lesson, part, section
from tests.files.anything import sound_lessons

A = section("A", "q 6:0 3 5 7 | 6:0 3 5 7 | 5:1 2 3 4")
B = section("B", "q 6:0 0 0 0")


def only(found):
    """The one section that differs."""
    (change,) = found.sections
    assert found == Differences(sections=found.sections)
    return change


def test_equal_lessons_differ_in_nothing():
    assert not differences(lesson(A, B), lesson(A, B))


def test_a_changed_fret_is_one_note_of_one_bar():
    change = only(differences(lesson(A), lesson(section("A", A_CHANGED))))
    assert (change.letter, change.bars, change.notes) == ("A", Change(changed=1), Change(changed=1))
    assert (change.first, change.last) == (2, 2)


A_CHANGED = "q 6:0 3 5 7 | 6:0 3 9 7 | 5:1 2 3 4"


def test_a_bar_put_in_is_one_new_bar_and_its_notes():
    after = section("A", "q 6:0 3 5 7 | 4:1 r 2 r | 6:0 3 5 7 | 5:1 2 3 4")
    change = only(differences(lesson(A), lesson(after)))
    assert (change.bars, change.notes) == (Change(new=1), Change(new=2))
    back = only(differences(lesson(after), lesson(A)))
    assert (back.bars, back.notes) == (Change(gone=1), Change(gone=2))


def test_a_note_moved_to_another_string_is_one_new_and_one_gone():
    after = section("A", "q 6:0 3 5 7 | 6:0 3 5 7 | 5:1 2 4:3 5:4")
    assert only(differences(lesson(A), lesson(after))).notes == Change(new=1, gone=1)


def test_heads_title_sections_and_order():
    faster = replace(A, head=replace(A.head, tempo=Tempo(120.0), name="Slow"))
    assert only(differences(lesson(A), lesson(faster))).fields == ("name", "tempo")
    found = differences(lesson(A, title="Old"), lesson(A, B, title="New"))
    assert found == Differences(title=("Old", "New"), new_sections=(Named("B", 1),))
    assert differences(lesson(A, B), lesson(A)) == Differences(gone_sections=(Named("B", 1),))
    assert differences(lesson(A, B), lesson(B, A)) == Differences(reordered=True)
    other = lesson(A)
    other = replace(other, head=replace(other.head, credit="Someone"))
    assert differences(lesson(A), other) == Differences(fields=("credit",))


def test_a_second_guitar_is_a_new_part_and_its_notes():
    both = section("A", "q 6:0 3 5 7 | 6:0 3 5 7 | 5:1 2 3 4", "q 5:0 3 5 7")
    found = differences(lesson(A), lesson(both))
    assert found.new_parts == (Named("Guitar 2"),)
    assert found.sections[0].notes == Change(new=4)
    assert found.sections[0].bars == Change(changed=1)
    renamed = lesson(A, parts=(replace(part("Guitar 1"), name="Low"),))
    assert differences(lesson(A), renamed) == Differences(changed_parts=(Named("Low"),))


def test_two_thousand_bars_are_compared_at_once():
    long = new_lesson(bars=2000)
    long_section = long.sections[0]
    other = section("X", "q 6:0 3 5 7").bars[0]
    changed = replace(long_section, bars=long_section.bars.with_bars({3: other, 1990: other}))
    found = differences(long, replace(long, sections=(changed,))).sections[0]
    assert found.bars == Change(changed=2)
    assert (found.first, found.last) == (4, 1991)
    shorter = replace(long_section, bars=Bars.of([empty_bar(1)] * 1999))
    assert differences(long, replace(long, sections=(shorter,))).sections[0].bars == Change(gone=1)


@given(sound_lessons, sound_lessons)
def test_two_lessons_differ_where_they_are_not_equal(one, other):
    assert bool(differences(one, other)) == (one != other)
    assert not differences(one, one)
