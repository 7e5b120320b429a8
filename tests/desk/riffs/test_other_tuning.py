"""The line that puts a guitar into another tuning beside the first, by real keys."""

import pytest

from tests.builder import lesson, part, section, tuned
from tests.desk.hands import press

DROP_C = tuned("C2 G2 C3 F3 A3 D4")


@pytest.fixture
def page(show):
    written = lesson(section("A", "q 6:0 6:3 5:5 5:7"), parts=(part("Guitar", DROP_C),))
    return show(written).page("riffs")


def test_one_press_puts_the_riff_in_standard_tuning_beside_the_first(page):
    press("Ctrl+Shift+U")
    line = page.eye.other_tuning
    assert line.isVisible()
    assert line.tuning.value == ("trade", "Standard")
    assert line.list.item(0).text() == "4 notes are not quite as written."
    document = page._document
    before = document.lesson
    line.put.click()
    after = document.lesson
    assert [one.name for one in after.parts] == ["Guitar", "Guitar (Standard)"]
    assert len(after.sections[0].bars[0].notes[1]) == 4
    assert not line.isVisible()
    document.undo_stack.undo()
    assert document.lesson is before


def test_the_same_frets_are_told_and_escape_puts_the_line_away(page):
    press("Ctrl+Shift+U")
    line = page.eye.other_tuning
    line.keep.setCurrentIndex(1)
    line.keep.activated.emit(1)
    assert "Section A" in line.list.item(0).text()
    press("Escape")
    assert not line.isVisible()
    assert page.grid.hasFocus()
