"""Lesson to text to lesson: what text can carry comes back as it was, whatever the width."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.files.lesson_file import load
from chalkfret.files.text_tab import carried, read_text, write_text
from chalkfret.model import validate
from chalkfret.places import DEMO_LESSONS
from tests.edits.tidy import check_sound
from tests.strategies import lessons


@given(lessons(), st.integers(30, 120))
def test_what_text_carries_comes_back(lesson, width):
    reading = read_text(write_text(lesson, width=width))
    assert reading.faults == ()
    assert reading.lesson == carried(lesson)


@given(lessons(tidy=False))
def test_notes_that_overlap_come_back_cut(lesson):
    assert read_text(write_text(lesson)).lesson == carried(lesson)


@given(lessons())
def test_what_is_carried_is_a_sound_lesson_and_carries_itself(lesson):
    once = carried(lesson)
    check_sound(once)
    assert carried(once) == once


@pytest.mark.parametrize("path", sorted(DEMO_LESSONS.glob("*.chalkfret")), ids=lambda p: p.stem)
def test_demo_lessons_come_back(path):
    lesson = load(path)
    reading = read_text(write_text(lesson))
    assert reading.faults == ()
    assert reading.lesson == carried(lesson)


_PIECES = st.sampled_from([
    "e|", "B|", "|", "||:", ":||", "--", "-----", "---0---", "x4", "\n", "\n\n", "> ", " ", "7b9",
    "h", "p", "(5)", "((", "<12>", "[A] Intro", "Tempo: 96", "q e e", "1 + 2 +", "PM---|", "+", "=",
    "–", "│", "99", "\t", "Tuning: drop D", "capo 2", "Part: one", "Notes:", "    ", "[1.]", "4/4",
    "pickup", "~", "/", "\\", "r", "*", "o", "rest 4 bars", "Retuned: ", "Times: 64",
])  # fmt: skip


@given(st.text() | st.lists(_PIECES | st.text(max_size=3), max_size=60).map("".join))
def test_any_text_is_read_without_an_error(text):
    reading = read_text(text)
    if reading.lesson is None:
        assert reading.faults[0].code == "tab_nothing"
    else:
        assert validate(reading.lesson) == ()
        check_sound(reading.lesson)


_ROWS = st.lists(
    st.text(st.sampled_from("-----|0123h/\\(=)<>bpx~:*+r "), min_size=4, max_size=40), min_size=6,
    max_size=6,
)  # fmt: skip


@given(
    st.lists(_ROWS, min_size=1, max_size=3),
    st.sampled_from(["", "q  e  e  q\n", "1 + 2 + 3 + 4\n"]),
)
def test_any_staff_is_read_without_an_error(staves, above):
    names = "eBGDAE"
    text = "\n\n".join(
        above + "\n".join(f"{name}|{row}|" for name, row in zip(names, rows, strict=True))
        for rows in staves
    )
    reading = read_text(text)
    assert reading.lesson is not None
    check_sound(reading.lesson)


def test_tab_in_a_teachers_notes_is_not_taken_for_music():
    from msgspec.structs import replace

    from tests.builder import lesson as made_of
    from tests.builder import section

    notes = "\n".join(f"{name}|--7--5--|" for name in "eBGDAE") + "\n\n> as I said\n\nPM--|"
    one = section("A", "q 6:0 3 5 3")
    made = made_of(replace(one, head=replace(one.head, notes=notes)))
    reading = read_text(write_text(made))
    assert reading.lesson == carried(made)
    assert reading.lesson.sections[0].head.notes == notes
    assert reading.faults == ()
