"""The line that puts a guitar into another tuning beside the first, by real keys."""

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QMessageBox

from chalkfret.model import StudentSetup
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


def choose(choice, value):
    choice.show_value(value)
    choice.chosen.emit(value)


def test_all_students_setups_are_told_and_one_of_them_shown(page):
    press("Ctrl+Shift+U")
    line = page.eye.other_tuning
    choose(line.tuning, ("students", ""))
    said = [line.list.item(row).text() for row in range(line.list.count())]
    assert len(said) == 4
    assert said[0] == "You have Standard: E A D G B E: play the other fingering, at the same pitch."
    assert said[3] == "You have Drop C: C G C F A D: play it as written."
    assert not line.put.isEnabled()
    line.list.setCurrentRow(0)
    line.list.setFocus()
    press("Return")
    assert line.tuning.value == ("trade", "Standard")
    assert line.list.item(0).text() == "4 notes are not quite as written."
    assert line.put.isEnabled()


def test_the_students_that_the_lesson_names_are_offered(show):
    written = lesson(section("A", "q 6:0 6:3 5:5 5:7"), parts=(part("Guitar", DROP_C),))
    students = (StudentSetup("In D", tuned("D2 A2 D3 G3 B3 E4")),)
    page = show(replace(written, head=replace(written.head, students=students))).page("riffs")
    press("Ctrl+Shift+U")
    line = page.eye.other_tuning
    choose(line.tuning, ("students", ""))
    assert line.list.count() == 1
    line.list.chosen.emit(0)
    assert line.tuning.value == ("student", "0")
    assert line.tuning.currentText() == "In D"


def test_it_begins_a_new_lesson_once_unsaved_work_was_asked_about(page):
    press("Ctrl+Shift+U")
    line, document = page.eye.other_tuning, page._document
    before = document.lesson
    line.begin.click()
    after = document.lesson
    assert after is not before
    assert [one.name for one in after.parts] == ["Guitar"]
    assert after.parts[0].setup.courses[-1].strings[0].pitch == "E2"
    assert document.path is None
    assert not document.undo_stack.canUndo()
    assert not line.isVisible()
    assert page.grid.hasFocus()


def test_unsaved_work_stays_where_the_teacher_says_so(page, monkeypatch):
    press("Ctrl+Shift+U")
    line, document = page.eye.other_tuning, page._document
    line.put.click()
    before, asked = document.lesson, []

    def ask(_files):
        asked.append(True)
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr("chalkfret.desk.lesson_files.LessonFiles.ask_unsaved", ask)
    press("Ctrl+Shift+U")
    line.begin.click()
    assert document.lesson is before
    assert asked
    assert line.isVisible()
