"""A list is typed into from its top, whatever it shows."""

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.pieces.choice import Choice
from chalkfret.model import Mode
from tests.builder import lesson, section
from tests.desk.hands import press, type_text


@pytest.fixture
def choice(qtbot):
    made = Choice({1: "none", 2: "Dorian ♭2", 3: "Phrygian", 4: "Dorian", 5: "D minor", 6: "Delta"})
    qtbot.addWidget(made)
    made.heard = []
    made.chosen.connect(made.heard.append)
    made.show_value(3)
    made.show()
    made.setFocus()
    qtbot.waitUntil(made.hasFocus)
    return made


def test_the_shortest_match_of_a_fresh_word_is_chosen(choice):
    type_text("dor")
    assert choice.value == 4


def test_words_with_spaces_can_be_typed(choice):
    type_text("d m")
    assert choice.value == 5


def test_after_a_pause_a_new_word_begins(choice):
    type_text("dor")
    QTest.qWait(QApplication.keyboardInputInterval() + 50)
    type_text("n")
    assert choice.value == 1


def test_a_letter_typed_again_goes_on(choice):
    type_text("d")
    assert choice.value == 6
    type_text("d")
    assert choice.value == 2
    assert choice.heard == [6, 2]


def test_what_begins_no_word_changes_nothing(choice):
    type_text("xyz")
    assert (choice.value, choice.heard) == (3, [])


def test_dorian_is_typed_over_phrygian(show):
    window = show(lesson(section("A", "q 6:0 3 5 7")))
    press("F4")
    type_text("E")
    press("Tab")
    type_text("phrygian")
    mode_of = lambda: window.document.lesson.sections[0].head.key.mode  # noqa: E731
    assert mode_of() is Mode.PHRYGIAN
    QTest.qWait(QApplication.keyboardInputInterval() + 50)
    press("Shift+Tab")
    type_text("E")
    press("Tab")
    type_text("dor")
    assert mode_of() is Mode.DORIAN
