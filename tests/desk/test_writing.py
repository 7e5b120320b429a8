"""What is typed on the way to a value never destroys the value that held before."""

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel

from chalkfret.desk.pieces.saying import Saying
from tests.builder import lesson, section
from tests.desk.hands import press, type_text
from tests.desk.two_guitars import two_guitars

LESSON = lesson(section("A", "q 6:0 3 5 7", tempo=132))


def tempo_of(window):
    return window.document.lesson.sections[0].head.tempo.start


def test_a_refused_tempo_leaves_the_old_one(show):
    window = show(LESSON)
    before = window.document.lesson
    press("F3")
    type_text("5000")
    press("Return")
    field = window.page("riffs").panel.tempo.start
    assert field.text() == "5000"
    assert field.is_refused
    assert window.document.lesson is before
    assert not window.document.dirty
    assert not window.document.undo_stack.canUndo()
    press("Escape")
    assert field.text() == "132"
    assert window.document.lesson is before


def test_typing_is_one_step_and_escape_takes_it_back(show):
    window = show(LESSON)
    before = window.document.lesson
    press("F3")
    type_text("96")
    press("Return")
    press("Ctrl+A")
    type_text("10")
    type_text("0")
    assert tempo_of(window) == 100
    press("Escape")
    assert tempo_of(window) == 96
    assert window.document.undo_stack.count() == 1
    press("Ctrl+Z")
    assert window.document.lesson is before


def test_the_scale_survives_a_tonic_that_is_typed_anew(show):
    window = show(LESSON)
    press("F4")
    type_text("E")
    press("Tab")
    type_text("phry")
    key = window.document.lesson.sections[0].head.key
    press("Shift+Tab", "Backspace")
    type_text("Q")
    assert window.document.lesson.sections[0].head.key == key
    press("Escape")
    assert window.document.lesson.sections[0].head.key == key


def test_a_longer_count_of_strings_on_the_way_to_a_refusal_costs_nothing(show, qtbot):
    window = show(two_guitars())
    setups = [part.setup for part in window.document.lesson.parts]
    press("Alt+2")
    field = window.page("strings").instrument.capo.field
    field.setFocus()
    press("Ctrl+A")
    type_text("399")
    press("Return")
    assert field.is_refused
    assert [part.setup for part in window.document.lesson.parts] == setups


@pytest.mark.parametrize(("width", "percent"), [(1280, 100), (800, 200)])
def test_a_refusal_can_be_read_whole_under_its_field(show, qtbot, text_size, width, percent):
    text_size(percent)
    window = show(LESSON)
    window.resize(width, 640)
    panel = window.page("riffs").panel
    for keys, text, field, group in (
        (("F4",), "Q", panel.key.tonic, panel.key),
        (("F6", "Ctrl+A"), "5/7", panel.bars.meter, panel.bars),
        (("F3",), "5000", panel.tempo.start, panel.tempo),
    ):
        press(*keys)
        type_text(text)
        press("Return")
        saying = group.findChild(Saying)
        assert saying.is_loud
        qtbot.waitUntil(lambda saying=saying: is_read_whole(saying, panel))
        below = saying.mapTo(panel, QPoint()).y() - field.mapTo(panel, QPoint()).y()
        # Near: at most one more row of the same group stands between.
        assert 0 < below < 3 * field.height()
        press("Escape")


def is_read_whole(saying, panel):
    """Whether all its lines lie within what is seen of the panel."""
    top = saying.mapTo(panel.viewport(), QPoint()).y()
    inside = top >= 0 and top + saying.height() <= panel.viewport().height()
    label = saying.findChildren(QLabel)[-1]
    return inside and saying.isVisible() and label.height() >= label.heightForWidth(label.width())


def test_escape_belongs_to_the_field_where_a_page_has_it_too(show, qtbot):
    window = show(LESSON)
    press("Alt+4")
    choices = window.page("handouts").choices
    qtbot.waitUntil(choices.sheet.hasFocus)
    choices.speeds.setFocus()
    press("Ctrl+A")
    type_text("70, abc")
    press("Escape")
    assert choices.speeds.text() == "100"
    assert not choices.is_refused
