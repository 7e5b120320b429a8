"""The window is built anew around the same lesson, as when the language changes."""

import gc

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication
from shiboken6 import Shiboken

from chalkfret.desk.app import Desk
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from tests.builder import lesson, section
from tests.desk.hands import press

TWO = lesson(section("A", "q 6:0 3 | h 5"), section("B", "q 5:2"))


@pytest.fixture
def desk(qtbot, look):
    made = Desk(look, open_settings())
    shown(made.window, qtbot)
    yield made
    made.document.undo_stack.setClean()
    made.window.close()
    made.window.deleteLater()
    made.deleteLater()


def shown(window, qtbot):
    window.resize(780, 700)
    window.show()
    qtbot.waitExposed(window)
    window.activateWindow()


def remake(desk, qtbot):
    old = desk.window
    old.outdated.emit()
    qtbot.waitUntil(lambda: desk.window is not old)
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    assert not Shiboken.isValid(old)
    qtbot.waitExposed(desk.window)


def test_lesson_history_page_cursor_and_selection_stay(desk, qtbot):
    desk.window.files.show_copy(TWO)
    desk.window.show_page("riffs")
    qtbot.waitUntil(desk.window.page("riffs").grid.hasFocus)
    press("PgDown", "7", "Down", "Shift+Right", "Shift+Down")
    grid = desk.window.page("riffs").grid
    here, anchor, now = grid.here, grid.anchor, desk.document.lesson
    size = desk.window.size()
    remake(desk, qtbot)
    grid = desk.window.page("riffs").grid
    assert (grid.here, grid.anchor) == (here, anchor)
    assert desk.document.lesson is now
    assert desk.window.size() == size
    assert desk.window.isWindowModified()
    qtbot.waitUntil(grid.hasFocus)
    press("Escape", "Ctrl+Z")
    assert desk.document.lesson is TWO
    press("Ctrl+Shift+Z", "9")
    assert desk.document.lesson not in (TWO, now)


@pytest.mark.parametrize("page", ["strings", "sheet", "handouts"])
def test_the_page_in_front_stays_in_front(desk, qtbot, page):
    desk.window.files.show_copy(TWO)
    desk.window.show_page(page)
    remake(desk, qtbot)
    assert desk.window.page(page).isVisible()


def test_the_empty_state_stays_empty(desk, qtbot):
    desk.window.show_empty()
    remake(desk, qtbot)
    assert desk.window.windowTitle() == "Chalkfret"
    assert not desk.window.has_lesson()


def test_open_settings_and_the_first_steps_go_on(desk, qtbot):
    desk.window.registry.run("first_steps")
    qtbot.waitUntil(desk.window.page("riffs").grid.hasFocus)
    desk.window.coach.skip()
    desk.window.show_settings()
    desk.window.settings_window.show_group("Keys")
    remake(desk, qtbot)
    assert desk.window.settings_window.isVisible()
    assert desk.window.settings_window.group == "Keys"
    assert desk.window.coach.step == 1
    assert desk.window.coach.line.isVisible()
    desk.window.settings_window.close()
    desk.window.activateWindow()
    qtbot.waitUntil(desk.window.page("riffs").grid.hasFocus)
    press("Down")
    assert desk.window.coach.step == 2


def test_a_window_that_is_gone_hears_nothing_and_holds_nothing(desk, qtbot):
    desk.window.files.show_copy(TWO)
    for page in ("strings", "sheet", "handouts", "riffs"):
        desk.window.show_page(page)
    for _time in range(3):
        remake(desk, qtbot)
        qtbot.waitUntil(desk.window.page("riffs").grid.hasFocus)
        press("3", "Ctrl+Z")
        desk.look.show_dark(not desk.look.dark)
        QApplication.processEvents()
    gc.collect()
    windows = [one for one in gc.get_objects() if type(one) is Window and Shiboken.isValid(one)]
    assert windows == [desk.window]
    desk.look.show_dark(False)


def test_a_closed_lesson_leaves_the_empty_state_and_nothing_to_undo(desk, qtbot):
    desk.window.files.show_copy(TWO)
    desk.window.show_page("strings")
    press("Ctrl+W")
    assert not desk.window.has_lesson()
    assert desk.window.windowTitle() == "Chalkfret"
    assert not desk.document.undo_stack.canUndo()
    assert QApplication.focusWidget().text() == "New lesson"
    press("Ctrl+N")
    assert desk.window.page("strings").isVisible()
