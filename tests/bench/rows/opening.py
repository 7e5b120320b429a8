"""A long lesson is open, painted and taking keys within a second of choosing it."""

import itertools
import tempfile
import time
from pathlib import Path

from PySide6.QtWidgets import QApplication

from chalkfret.files.lesson_file import save
from tests.bench.desk import open_window
from tests.bench.lessons import long_lesson
from tests.desk.hands import press

NAME = "opening a 2,000-bar lesson until a key is painted / one second"
BUDGET = 1.0

_windows = []
_seeds = itertools.count(2)


def prepare() -> None:
    window = open_window(long_lesson(20), "riffs")
    window.activateWindow()
    _windows.append(window)


def measure() -> tuple[float, float]:
    window, document = _windows[0], _windows[0].document
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.chalkfret"
        save(long_lesson(2_000, next(_seeds)), path)  # of other notes: nothing is known of them
        began = time.perf_counter()
        window.files.open(path)
        while document.path != path or not window.page("riffs").grid.hasFocus():
            QApplication.processEvents()
        press("7")
        QApplication.processEvents()
        took = time.perf_counter() - began
    assert document.dirty
    document.undo_stack.setClean()
    return took, 1.0
