"""The real window, offscreen, with a lesson"""

import gc
import threading
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QThreadPool, QTimer
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication
from shiboken6 import Shiboken

from chalkfret.desk.app import application
from chalkfret.desk.look import Look
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.model import Lesson


@pytest.fixture(scope="session", autouse=True)
def collector_in_this_thread() -> Iterator[None]:
    """As in the program (desk/collecting.py): a worker's other threads must not destroy windows."""
    gc.disable()
    gc.freeze()
    yield
    gc.enable()
    # Without a screen Qt keeps what was copied beyond the end of Python, which made it.
    if isinstance(QApplication.instance(), QApplication):
        QApplication.clipboard().clear()


@pytest.fixture(autouse=True)
def nothing_left_running() -> Iterator[None]:
    """A test of the window leaves no window, no running timer and no thread behind."""
    before = _running()
    threads = set(threading.enumerate())
    yield
    assert QThreadPool.globalInstance().waitForDone(5_000), "a worker is still running"
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()  # a window in a reference cycle is left for Python to find, not leaked
    left = _running() - before
    assert not left, f"left behind: {', '.join(sorted(what for _, what in left))}"
    still = {thread.name for thread in set(threading.enumerate()) - threads if thread.is_alive()}
    assert not still, f"threads left behind: {still}"


def _running() -> set[tuple[int, str]]:
    """All top-level widgets and all timers that run, each by its identity and a description."""
    found = [
        (id(widget), f"{type(widget).__name__} {widget.objectName()!r}")
        for widget in QApplication.topLevelWidgets()
    ]
    for each in gc.get_objects():
        if isinstance(each, QTimer) and Shiboken.isValid(each) and each.isActive():
            owner = type(each.parent()).__name__
            found.append((id(each), f"a running timer of {owner}"))
    return set(found)


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
