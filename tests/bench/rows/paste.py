"""Pasting hundreds of bars is done before the hand is back on the keys."""

from PySide6.QtWidgets import QApplication

from chalkfret.desk.riffs.cursor import Cursor
from tests.bench.desk import open_window, painted, settle
from tests.bench.lessons import long_lesson
from tests.desk.hands import press

NAME = "paste of 500 bars painted, lesson of 2,000 bars / one second"
BUDGET = 0.1

_windows = []


def prepare() -> None:
    window = open_window(long_lesson(2_000, section_bars=500), "riffs")
    window.activateWindow()
    window.page("riffs").grid.setFocus()
    settle()
    _windows.append(window)
    press("Ctrl+Home", "Ctrl+A", "Ctrl+C")
    settle()
    measure()


def measure() -> tuple[float, float]:
    document, grid = _windows[0].document, _windows[0].page("riffs").grid
    grid.move_to(Cursor(section=1))
    QApplication.processEvents()
    before = document.lesson
    took = painted(lambda: press("Ctrl+V"))
    assert document.lesson.sections[1].bars == document.lesson.sections[0].bars
    press("Ctrl+Z")
    assert document.lesson is before
    QApplication.processEvents()
    return took, 1.0
