"""The first steps, from the first to the last, by real keys."""

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog

from chalkfret.desk.coach.lesson import first_steps_lesson
from chalkfret.desk.coach.steps import STEPS
from chalkfret.files.lesson_file import dumps, load, loads
from tests.desk.hands import press, type_text

DOING = {
    "write": ("0", "3"),
    "move": ("Down",),
    "chord": ("Shift+Down", "5"),
    "length": (".",),
    "fret": ("Alt+Up",),
    "mark": ("M",),
    "undo": ("Ctrl+Z",),
    "copy": ("Ctrl+D",),
    "tempo": ("F3", "Ctrl+A", "8", "4", "Return", "Escape"),
    "save": ("Ctrl+S",),
}


@pytest.fixture
def begun(window, qtbot):
    window.show_empty()
    window.registry.run("first_steps")
    qtbot.waitUntil(window.page("riffs").grid.hasFocus)
    return window


def test_every_step_is_noticed_and_the_last_one_ends_it(begun, qtbot, monkeypatch, tmp_path):
    place = tmp_path / "mine.chalkfret"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(place), ""))
    coach = begun.coach
    for number, step in enumerate(STEPS):
        assert coach.step == number, step.id
        words = coach.line.words
        press(*DOING[step.id])
        qtbot.waitUntil(lambda number=number: coach.step > number, timeout=3000)
        assert coach.step == number + 1, f"{step.id} was taken for the step behind it, too"
        assert coach.line.words != words
    assert load(place) == begun.document.lesson
    assert begun.document.lesson.sections[0].head.tempo.start == 84
    assert "F1" in coach.line.words
    assert not coach.line.skip.isVisible()
    coach.line.leave.click()
    assert not coach.line.isVisible()
    assert begun.page("riffs").grid.hasFocus()


def test_what_was_not_asked_for_is_not_taken_for_it(begun):
    press("Right", "Left", "Shift+Right", "Escape")
    assert begun.coach.step == 0
    press("7")
    assert begun.coach.step == 0, "one note is not two"
    press("8")
    assert begun.coach.step == 1
    press("9", "Ctrl+Z")
    assert begun.coach.step == 1


def test_each_step_names_the_keys_in_force(begun):
    coach = begun.coach
    for _step in range(5):
        coach.skip()
    assert "Press M to" in coach.line.words
    begun.key_choices.give("mark_palm_mute", ("Ctrl+Shift+M",))
    assert "Press Ctrl+Shift+M to" in coach.line.words
    begun.key_choices.reset_all()
    assert "Press M to" in coach.line.words


def test_it_can_be_left_at_any_step_and_the_lesson_stays(begun):
    press("0", "3")
    lesson = begun.document.lesson
    begun.coach.leave()
    assert not begun.coach.line.isVisible()
    assert begun.document.lesson is lesson
    assert begun.page("riffs").grid.hasFocus()
    press("Down")
    assert begun.coach.step is None


def test_another_lesson_ends_it(begun):
    begun.files.new()
    assert begun.coach.step is None
    assert not begun.coach.line.isVisible()


def test_it_can_be_begun_again(begun, qtbot):
    begun.coach.skip()
    begun.registry.run("first_steps")
    qtbot.waitUntil(lambda: begun.coach.step == 0)
    assert begun.coach.line.isVisible()


def test_skipping_leads_through_to_the_end(begun):
    for _step in STEPS:
        begun.coach.line.skip.click()
    assert begun.coach.step == len(STEPS)
    begun.coach.skip()
    assert begun.coach.step == len(STEPS)


def test_the_lesson_is_a_lesson_like_any_other():
    lesson = first_steps_lesson()
    assert loads(dumps(lesson)) == lesson
    assert all(section.head.notes for section in lesson.sections)


def test_its_buttons_are_reached_and_named(begun):
    line = begun.coach.line
    for button in (line.skip, line.leave):
        button.setFocus()
        assert QApplication.focusWidget() is button
        assert button.text()
    begun.coach.skip()
    assert begun.page("riffs").grid.hasFocus()
    type_text("0")


def test_what_else_is_typed_before_what_is_asked_does_not_hang_it(begun):
    press("0", "3", "Down", "2", "Shift+Down", "5", ".")
    assert STEPS[begun.coach.step].id == "fret"
    press("Escape", "Down", "3")
    assert STEPS[begun.coach.step].id == "fret", "one more note is none moved"
    press("1", "2")
    assert STEPS[begun.coach.step].id == "fret", "12 is typed, not raised from 1"
    press("Left", "Alt+Up")
    assert STEPS[begun.coach.step].id == "mark"


def test_a_ticked_step_does_not_move_the_page(begun, qtbot):
    before = begun.coach.line.height()
    press("0", "3")
    assert begun.coach.step == 1
    qtbot.wait(20)
    assert begun.coach.line.height() == before
