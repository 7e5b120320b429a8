"""Keys are changed in the settings, by real keys, and hold at once and everywhere."""

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QLabel

from chalkfret.desk.actions import Registry
from chalkfret.desk.frame import PageWord
from chalkfret.desk.keys.layouts import GERMAN, Press
from chalkfret.desk.keys.pressed import NoKey, sequence_of
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.model.start import new_lesson
from tests.desk.hands import press
from tests.desk.keys.boards import event_of


@pytest.fixture
def editor(show, qtbot):
    window = show(new_lesson())
    press("Ctrl+,")
    settings = window.settings_window
    settings.show_group("Keys")
    qtbot.waitUntil(settings.isVisible)
    settings.activateWindow()
    settings.keys.table.setFocus()
    yield settings.keys
    settings.close()


def keys_of(editor, action_id):
    return editor._registry.action(action_id).keys


def window_of(editor):
    return editor.window().parent()


def back_to_grid(window, qtbot):
    window.settings_window.close()
    window.activateWindow()
    window.page("riffs").grid.setFocus()
    qtbot.waitUntil(window.page("riffs").grid.hasFocus)


def change(editor, action_id, *keys):
    editor.choose(action_id)
    press("Return", *keys)


def test_a_key_is_changed_by_pressing_it_and_holds_at_once(editor, qtbot):
    window = window_of(editor)
    change(editor, "bar_after", "Ctrl+J")
    assert keys_of(editor, "bar_after") == ("Ctrl+J",)
    assert editor.table.hasFocus()
    assert open_settings().value.keys == {"bar_after": ("Ctrl+J",)}
    assert window.registry.qaction("bar_after").toolTip() == "Add a bar after (Ctrl+J)"
    assert window.registry.qaction("bar_after").shortcut().toString() == "Ctrl+J"
    back_to_grid(window, qtbot)
    press("Ctrl+J")
    assert len(window.document.lesson.sections[0].bars) == 5
    press("Ctrl+Return")
    assert len(window.document.lesson.sections[0].bars) == 5, "the key of before does nothing"


def test_who_would_go_without_is_named_before(editor):
    change(editor, "bar_duplicate", "Ctrl+R")
    assert keys_of(editor, "bar_duplicate") == ("Ctrl+D",), "nothing yet"
    assert "Bar: Repeat, once more each time" in editor.ask.saying.text
    assert QApplication.focusWidget() is editor.ask.use
    press("Space")
    assert keys_of(editor, "bar_duplicate") == ("Ctrl+R",)
    assert keys_of(editor, "bar_repeat") == ()
    editor.choose("bar_repeat")
    assert editor.saying.text == "This has no key now."
    assert editor.reset.isVisible()


def test_a_conflict_can_be_left_as_it_is(editor):
    change(editor, "bar_duplicate", "Ctrl+R", "Escape")
    assert keys_of(editor, "bar_duplicate") == ("Ctrl+D",)
    assert keys_of(editor, "bar_repeat") == ("Ctrl+R",)
    assert editor.table.hasFocus()


def test_another_place_is_no_conflict(editor):
    change(editor, "sheet_next", "Ctrl+R")
    assert keys_of(editor, "sheet_next") == ("Ctrl+R",)
    assert keys_of(editor, "bar_repeat") == ("Ctrl+R",)


def test_everywhere_meets_every_place(editor):
    change(editor, "save", "Ctrl+R")
    assert "Repeat" in editor.ask.saying.text
    editor.ask.leave.click()


def test_a_gesture_keeps_its_keys_and_cannot_be_changed(editor):
    change(editor, "bar_duplicate", "Ctrl+4")
    assert "Write a fret from 10 to 19" in editor.ask.saying.text
    assert editor.ask.capture.hasFocus(), "another key is waited for"
    press("Escape")
    assert keys_of(editor, "bar_duplicate") == ("Ctrl+D",)
    editor.choose("fret_ten")
    assert not editor.change.isEnabled()
    assert editor.saying.text == "This is a gesture of the hand and cannot be changed."
    press("Return")
    assert not editor.ask.isVisible()


def test_one_more_key_and_no_key(editor):
    editor.choose("bar_duplicate")
    editor.more.click()
    press("Ctrl+J")
    assert keys_of(editor, "bar_duplicate") == ("Ctrl+D", "Ctrl+J")
    press("Del")
    assert keys_of(editor, "bar_duplicate") == ()
    assert open_settings().value.keys == {"bar_duplicate": ()}


def test_one_is_put_back_and_all_are(editor):
    change(editor, "bar_after", "Ctrl+J")
    change(editor, "bar_delete", "Ctrl+Shift+X")
    editor.choose("bar_after")
    assert editor.reset.text().endswith("Back to: Ctrl+Return")
    editor.reset.click()
    assert keys_of(editor, "bar_after") == ("Ctrl+Return",)
    assert set(open_settings().value.keys) == {"bar_delete"}
    editor.reset_all.click()
    assert keys_of(editor, "bar_delete") == ("Ctrl+Del",)
    assert open_settings().value.keys == {}
    assert editor.saying.text == "1 action has its own keys again."
    assert not editor.reset_all.isEnabled()


def test_a_key_that_others_chose_is_asked_about_before_it_is_put_back(editor):
    change(editor, "bar_duplicate", "Ctrl+R", "Space")
    editor.choose("bar_repeat")
    editor.reset.click()
    assert "Bar: Duplicate" in editor.ask.saying.text
    editor.ask.use.click()
    assert keys_of(editor, "bar_repeat") == ("Ctrl+R",)
    assert keys_of(editor, "bar_duplicate") == ()


def test_the_find_line_and_f1_say_the_new_key(editor, qtbot):
    window = window_of(editor)
    change(editor, "mark_palm_mute", "Ctrl+J")
    back_to_grid(window, qtbot)
    press("Ctrl+F", *"palm")
    assert window.find_line.chosen.keys == "Ctrl+J"
    press("Escape", "F1")
    assert ("Palm mute", "Ctrl+J") in window.keys_sheet.rows()
    window.key_choices.reset_all()
    assert ("Palm mute", "M") in window.keys_sheet.rows(), "an open list follows"
    window.keys_sheet.close()


def test_tips_of_buttons_and_pages_and_the_empty_state_say_the_new_keys(editor):
    window = window_of(editor)
    tap = window.page("riffs").panel.tempo.tap
    assert tap.toolTip() == "Press in time: the tempo follows (Ctrl+T)"
    window.key_choices.give("tap", ("Ctrl+J",))
    window.key_choices.give("page_sheet", ("Ctrl+Shift+3",))
    window.key_choices.give("new", ("Ctrl+Alt+N",))
    assert tap.toolTip() == "Press in time: the tempo follows (Ctrl+J)"
    words = [one.toolTip() for one in window.findChildren(PageWord)]
    assert "Sheet (Ctrl+Shift+3)" in words
    window.close_lesson()
    said = [label.text() for label in window.findChildren(QLabel)]
    assert "Begin with one guitar and four empty bars: Ctrl+Alt+N." in said
    window.key_choices.reset_all()
    said = [label.text() for label in window.findChildren(QLabel)]
    assert "Begin with one guitar and four empty bars: Ctrl+N." in said


def test_chosen_keys_hold_in_the_next_window_too(editor, qtbot, look):
    change(editor, "save", "Ctrl+J")
    other = Window(look, open_settings())
    qtbot.addWidget(other)
    assert other.registry.action("save").keys == ("Ctrl+J",)


def test_a_key_out_of_reach_elsewhere_is_warned_of(editor):
    editor.choose("bar_after")
    press("Return")
    editor.ask.capture.taken.emit("Ctrl+[")
    assert "German, Spanish, French" in editor.ask.saying.text
    press("Space")
    assert keys_of(editor, "bar_after") == ("Ctrl+[",)


def key(key, held=Qt.KeyboardModifier.NoModifier, text="", code=0):
    return QKeyEvent(QEvent.Type.KeyPress, key, held, code, 0, 0, text)


def test_what_a_press_means():
    shift, ctrl = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier
    assert sequence_of(key(Qt.Key.Key_K, ctrl | shift)) == "Ctrl+Shift+K"
    assert sequence_of(key(Qt.Key.Key_Question, shift)) == "?"
    assert sequence_of(key(Qt.Key.Key_Control, ctrl)) is None
    assert sequence_of(event_of(GERMAN, Press(16, frozenset({"Shift", "Ctrl"})))) == "Ctrl+Shift+7"
    for refused in (Qt.Key.Key_Dead_Acute, Qt.Key.Key_Dead_Circumflex, Qt.Key.Key_Tab):
        with pytest.raises(NoKey):
            sequence_of(key(refused))


def test_settings_of_another_version_break_nothing(qapp):
    registry = Registry(chosen={"gone": ("Ctrl+D",), "kept": ("no key at all",)})
    registry.choose_keys({"gone": ("Ctrl+D",)})
