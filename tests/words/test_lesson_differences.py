"""What differs, as it is said to the teacher."""

from hypothesis import given
from msgspec.structs import replace

from chalkfret.model import SectionHead, Tempo
from chalkfret.model.lesson_differences import differences
from chalkfret.words.lesson_differences import difference_sentences
from tests.builder import lesson, section
from tests.files.anything import sound_lessons

A = section("A", "q 6:0 3 5 7 | 5:0 1 2 3")


def said(before, after, **more):
    return difference_sentences(differences(before, after), **more)


def test_sentences_name_sections_bars_and_notes():
    after = section("A", "q 6:0 3 5 8 | 5:0 1 2 4 | 4:1")
    assert said(lesson(A), lesson(after)) == (
        "Section A: 1 bar is new.",
        "Section A: 2 bars are changed, between bars 1 and 2.",
        "Section A: 1 note is new.",
        "Section A: 2 notes are changed.",
    )
    assert said(lesson(A), lesson(section("A", "q 6:0 3 5 8 | 5:0 1 2 3"))) == (
        "Section A: bar 1 is changed.",
        "Section A: 1 note is changed.",
    )
    faster = replace(A, head=replace(A.head, tempo=Tempo(120.0), difficulty=2, pause_s=1.0))
    assert said(lesson(A), lesson(faster, section("B", "q 6:0"))) == (
        "Section B is new, with 1 bar.",
        "Section A: the tempo was 100 and is 120.",
        "Section A: other settings are changed.",
    )


def test_nothing_and_too_much():
    assert said(lesson(A), lesson(A)) == ("There is no difference.",)
    many = [section(letter, "q 6:0") for letter in "BCDEFGHIJKLMNOP"]
    lines = said(lesson(A), lesson(A, *many), most=5)
    assert len(lines) == 5
    assert lines[-1] == "And 11 more differences."


@given(sound_lessons, sound_lessons)
def test_every_difference_has_its_sentence(one, other):
    lines = said(one, other, most=10_000)
    assert lines
    assert all(line.endswith(".") and "{" not in line.replace(str(one), "") for line in lines[:1])
    assert (lines == ("There is no difference.",)) == (one == other)


def test_every_field_of_a_section_can_be_said():
    one, other = lesson(A), lesson(A)
    for name in SectionHead.__struct_fields__:
        found = differences(one, other)
        change = replace(_section_change(), fields=(name,))
        assert difference_sentences(replace(found, sections=(change,)))[0].startswith("Section A: ")


def _section_change():
    after = section("A", "q 6:0 3 5 8 | 5:0 1 2 3")
    return differences(lesson(A), lesson(after)).sections[0]
