"""Presses planned keys in the real window."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.window import Window
from chalkfret.model import Lesson
from tests.hand.lessons import empty


def write(window: Window, lesson: Lesson, keys: Iterable[str]) -> Lesson:
    """Press the keys in the window, which shows the lesson emptied; what has become of it."""
    window.document.undo_stack.setClean()  # what was written before is not asked about
    window.files.show_copy(empty(lesson))
    window.show_page("riffs")
    press(window, keys)
    return window.document.lesson


def press(window: Window, keys: Iterable[str]) -> None:
    """Press keys one by one, as Qt gets them from the keyboard."""
    grid = window.page("riffs").grid
    grid.setFocus()
    for key in keys:
        combination = QKeySequence(key)[0]
        focus = QApplication.focusWidget() or grid
        QTest.keyClick(focus, combination.key(), combination.keyboardModifiers())


@contextmanager
def window_alone() -> Iterator[Window]:
    """A window offscreen, outside of pytest, with settings of its own."""
    from chalkfret.desk.app import application
    from chalkfret.desk.look import Look
    from chalkfret.desk.settings import open_settings

    application()
    window = Window(Look(), open_settings())
    window.resize(1280, 800)
    window.show()
    QTest.qWaitForWindowExposed(window)
    window.activateWindow()
    yield window
    window.document.undo_stack.setClean()
    window.close()
