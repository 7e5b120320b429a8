"""The line that finds anything: by real keys, in the real window."""

import time

import pytest
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication

from chalkfret.desk.find.entries import Entries, Entry
from chalkfret.desk.find.line import ROWS_SEEN
from chalkfret.desk.find.rows import spoken
from chalkfret.edits import bars
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section
from tests.desk.hands import press, type_text

TWO = lesson(
    section("A", "q 6:0 3 | h 5", name="Verse"), section("B", "q 5:2 | | q 4:1", name="Bridge")
)


def look_for(window, words):
    press("Ctrl+F")
    type_text(words)
    return window.find_line


def texts(line):
    return [line.model.entry(row).text for row in range(line.model.rowCount())]


def test_an_action_is_found_by_its_words_shows_its_key_and_is_done(show):
    window = show(TWO)
    line = look_for(window, "palm mu")
    assert (line.chosen.text, line.chosen.keys) == ("Palm mute", "M")
    press("Down", "Up", "Return")
    assert not line.isVisible()
    assert window.page("riffs").grid.hasFocus()
    assert window.document.undo_stack.count() == 0, "there is no note under the cursor"
    press("Ctrl+F")
    type_text("add a bar aft")
    press("Return")
    assert len(window.document.lesson.sections[0].bars) == 3


def test_escape_gives_the_keys_back_to_whoever_had_them(show):
    window = show(TWO)
    press("F2")
    name = QApplication.focusWidget()
    press("Ctrl+F", "Escape")
    assert QApplication.focusWidget() is name
    assert not window.find_line.isVisible()


def test_a_section_a_part_and_a_bar_are_gone_to(show):
    window = show(TWO)
    grid = window.page("riffs").grid
    look_for(window, "bridge")
    press("Return")
    assert (grid.here.section, grid.here.bar) == (1, 0)
    look_for(window, "b3")
    press("Return")
    assert (grid.here.section, grid.here.bar) == (1, 2)
    look_for(window, "guitar 1")
    press("Return")
    assert grid.here.part == 0
    assert grid.hasFocus()


def test_a_setting_is_found_and_led_to(show, qtbot):
    window = show(TWO)
    look_for(window, "colours")
    assert "Colours" in texts(window.find_line)
    type_text(" setting")
    press("Return")
    qtbot.waitUntil(lambda: window.settings_window.isVisible())
    assert window.settings_window.focusWidget().accessibleName() == "Colours"
    window.settings_window.close()


def test_what_works_on_another_page_is_done_there(show):
    window = show(TWO)
    look_for(window, "next page")
    press("Return")
    assert window.is_shown("sheet")


def test_what_cannot_be_done_says_why_and_is_not_done(show):
    window = show(TWO)
    line = look_for(window, "undo")
    assert line.chosen.why_not() == "There is nothing to undo."
    press("Return")
    assert line.isVisible()
    assert window.foot.sentence == "There is nothing to undo."
    press("Escape")


def test_without_a_lesson_only_what_can_be_done_without_one_is_not_refused(window):
    window.show_empty()
    line = look_for(window, "palm mute")
    assert line.chosen.why_not() == "Open a lesson first."
    press("Ctrl+A")
    type_text("new")
    while line.chosen.text != "New":
        press("Down")
    press("Return")
    assert window.has_lesson()


def test_what_was_used_lately_comes_first(show):
    window = show(TWO)
    look_for(window, "trill")
    press("Return")
    line = look_for(window, "")
    assert line.chosen.text.startswith("Trill")
    press("Escape")


def test_nothing_found_is_said_and_enter_does_nothing(show):
    window = show(TWO)
    line = look_for(window, "qqqq")
    assert line.chosen is None
    assert not line.list.isVisible()
    press("Return", "Down")
    assert line.isVisible()
    press("Escape")


def test_every_action_is_found_by_its_whole_text_among_the_first(show):
    window = show(TWO)
    entries = Entries(window)
    for action, _where in window.registry.entries():
        found = entries.found(action.plain, ())[:ROWS_SEEN]
        ids = [one.id for one in found if isinstance(one, Entry)]
        assert f"action {action.id}" in ids, action.plain


def test_the_line_and_its_list_have_names_and_rows_are_spoken_whole(show):
    window = show(TWO)
    line = look_for(window, "palm")
    for widget in (line.line, line.list):
        said = QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)
        assert said, widget
    assert spoken(line.chosen) == "Palm mute, M, Riffs"
    press("Escape")


def test_a_click_elsewhere_puts_the_line_away(show, qtbot):
    window = show(TWO)
    line = look_for(window, "palm")
    window.page("riffs").grid.setFocus()
    assert not line.isVisible()
    assert window.page("riffs").grid.hasFocus()


@pytest.mark.parametrize("typed", ["b", "bar", "bar 1", "a 1999", "m", "zzz", "section a bar"])
def test_among_two_thousand_bars_a_letter_is_answered_within_a_frame(show, typed):
    """Of processor time, so that others at work on the machine do not count."""
    window = show(bars.insert(new_lesson(), 0, 1, 1996))
    line = look_for(window, "")
    taken = []
    for _repeat in range(7):
        line.line.setText(typed[:-1])
        QApplication.processEvents()
        before = time.process_time()
        type_text(typed[-1])
        line.repaint()
        taken.append(time.process_time() - before)
    assert line.line.text() == typed
    assert sorted(taken)[3] < 1 / 60
    press("Escape")
