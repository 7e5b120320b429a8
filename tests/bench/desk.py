"""The real window with a long lesson, offscreen, and the time from a gesture to its paint."""

import os
import tempfile
import time
from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from chalkfret.desk.app import application
from chalkfret.desk.look import Look
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.model import Lesson
from tests.offscreen import leave_out_noise

FRAME = 1 / 60
KEYS = [
    Qt.Key.Key_5, Qt.Key.Key_3, Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_7, Qt.Key.Key_V,
    Qt.Key.Key_Up, Qt.Key.Key_0, Qt.Key.Key_Left, Qt.Key.Key_Delete,
]  # fmt: skip
"""What hands do most: frets, moves, a mark, and taking a note away."""


class Paints(QObject):
    """Counts the paint events of a widget and of all within it."""

    def __init__(self, within: QWidget) -> None:
        super().__init__()
        self.count = 0
        self._within = within
        QApplication.instance().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint and isinstance(watched, QWidget):
            self.count += watched is self._within or self._within.isAncestorOf(watched)
        return False


def open_window(lesson: Lesson, page: str) -> Window:
    """The window with this lesson, in its own settings folder, all its pages made."""
    os.environ["XDG_CONFIG_HOME"] = tempfile.mkdtemp()
    leave_out_noise()
    app = application()
    window = Window(Look(app), open_settings())
    window.resize(1600, 1000)
    window.show()
    show_lesson(window, lesson)
    window.show_page(page)
    settle()
    return window


def show_lesson(window: Window, lesson: Lesson) -> None:
    """Put another lesson in the place of the one that is open."""
    window.document.replace(lesson, None)
    window.files.opened.emit()
    settle()


def settle() -> None:
    """Let everything happen that was put off."""
    ends = time.monotonic() + 1.0
    while time.monotonic() < ends:
        QApplication.processEvents()


def press_times(window: Window, count: int, section: int = 0) -> list[float]:
    """Seconds from each of so many key presses until all it changed is painted, ascending.

    Every 50 presses the hands go back to the beginning of the section, untimed, so that they
    write over the same few bars in a lesson of any length.
    """
    grid = window.page("riffs").key_home()
    times = []
    for each in range(count):
        if each % 50 == 0:
            QTest.keyClick(grid, Qt.Key.Key_Home, Qt.KeyboardModifier.ControlModifier)
            for _ in range(section):
                QTest.keyClick(grid, Qt.Key.Key_PageDown)
            QApplication.processEvents()
        times.append(painted(lambda key=KEYS[each % len(KEYS)]: QTest.keyClick(grid, key)))
    return sorted(times)


def painted(gesture: Callable[[], object]) -> float:
    """Seconds from a gesture until the window has nothing left to paint."""
    began = time.perf_counter()
    gesture()
    QApplication.processEvents()
    return time.perf_counter() - began


def p95(ascending: list[float]) -> float:
    return ascending[int(len(ascending) * 0.95)]
