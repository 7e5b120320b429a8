"""The real window, offscreen, with a lesson"""

from collections.abc import Callable

import pytest
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication

from chalkfret.desk.app import application
from chalkfret.desk.look import Look
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.model import Lesson


@pytest.fixture
def look(qapp: QApplication) -> Look:
    application()
    made = Look()
    made.show_dark(False)
    return made


@pytest.fixture
def text_size(look):
    """Set the system's text size in percent; as it was after the test."""
    plain = QApplication.font()

    def set_size(percent):
        font = QFont(plain)
        font.setPointSizeF(plain.pointSizeF() * percent / 100)
        QApplication.setFont(font)
        look.follow_font()

    yield set_size
    QApplication.setFont(plain)
    look.follow_font()


@pytest.fixture
def window(qtbot, look: Look) -> Window:
    made = Window(look, open_settings())
    # What a test changed is not asked about when its window closes.
    qtbot.addWidget(made, before_close_func=lambda one: one.document.undo_stack.setClean())
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    made.activateWindow()
    return made


@pytest.fixture
def show(qtbot, window: Window) -> Callable[[Lesson], Window]:
    """Open a lesson in the window, on its Riffs page, with the focus in the grid."""

    def show_lesson(lesson: Lesson) -> Window:
        window.files.show_copy(lesson)
        window.show_page("riffs")
        grid = window.page("riffs").grid
        qtbot.waitUntil(grid.hasFocus)
        return window

    return show_lesson
