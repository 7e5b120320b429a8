"""Fields: what is typed and understood counts at once; what is not stays, and is explained."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from chalkfret.desk.pieces.fields import Field, Unreadable


def read_even(text):
    if not text.strip():
        raise Unreadable("An even number, please.", unfinished=True)
    if not text.isdecimal() or int(text) % 2:
        raise Unreadable("Even numbers only.")
    return int(text)


@pytest.fixture
def field(qtbot):
    made = Field(
        read_even, lambda number: f"{number:02d}", lambda number, steps: number + 2 * steps
    )
    qtbot.addWidget(made)
    made.show_value(4)
    made.heard, made.told_words = [], []
    made.typed.connect(made.heard.append)
    made.told.connect(lambda words, loud: made.told_words.append((words, loud)))
    made.show()
    made.setFocus()
    qtbot.waitUntil(made.hasFocus)
    return made


def type_anew(field, text):
    field.selectAll()
    QTest.keyClicks(field, text)


def test_readable_text_is_a_value_as_it_is_typed(field):
    type_anew(field, "28")
    assert field.heard == [2, 28]
    assert field.text() == "28"


def test_refused_text_stays_and_says_why(field):
    type_anew(field, "7")
    assert field.text() == "7"
    assert field.heard == []
    assert field.told_words[-1] == ("Even numbers only.", True)
    assert field.accessibleDescription() == "Even numbers only."
    field.clearFocus()
    assert field.text() == "7"
    field.show_value(4)  # the lesson changed elsewhere: what was typed still stands
    assert field.text() == "7"


def test_unfinished_text_is_not_told_off_until_it_is_left(field):
    field.selectAll()
    QTest.keyClick(field, Qt.Key.Key_Backspace)
    assert field.told_words[-1] == ("An even number, please.", False)
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert field.told_words[-1] == ("An even number, please.", True)


def test_escape_goes_back_to_the_value_that_holds(field):
    type_anew(field, "7")
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "04"
    assert field.told_words[-1] == ("", False)


def test_enter_writes_the_value_as_it_is_usually_written(field):
    type_anew(field, "8")
    assert field.text() == "8"
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == "08"


def test_another_value_from_elsewhere_replaces_the_text(field):
    type_anew(field, "8")
    field.show_value(10)  # undone, for example
    assert field.text() == "10"


def test_up_and_down_step(field):
    QTest.keyClick(field, Qt.Key.Key_Up)
    QTest.keyClick(field, Qt.Key.Key_Up)
    QTest.keyClick(field, Qt.Key.Key_Down)
    assert field.heard == [6, 8, 6]
    assert field.text() == "06"


def test_a_value_that_the_lesson_refuses_is_typed_text_that_stays(field):
    field.typed.connect(lambda _value: field.refuse("Not in this lesson."))
    type_anew(field, "6")
    assert field.text() == "6"
    assert field.value == 4
    assert field.told_words[-1] == ("Not in this lesson.", True)


def test_a_refusal_brings_back_what_held_before_the_typing(field):
    type_anew(field, "28")
    QTest.keyClick(field, Qt.Key.Key_7)  # 287
    assert field.text() == "287"
    assert (field.value, field.heard) == (4, [2, 28, 4])
    QTest.keyClick(field, Qt.Key.Key_Backspace)
    assert field.heard[-1] == 28
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert (field.text(), field.value, field.heard[-1]) == ("04", 4, 4)


def test_enter_ends_the_typing(field):
    type_anew(field, "28")
    QTest.keyClick(field, Qt.Key.Key_Return)
    type_anew(field, "6")
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.value == 28
