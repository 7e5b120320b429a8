"""Ten thousand edits can be undone, and cost no more memory than one long lesson may."""

import os
import tempfile
from pathlib import Path

from PySide6.QtWidgets import QApplication

from tests.bench.desk import open_window, settle
from tests.bench.lessons import long_lesson
from tests.bench.started import bare
from tests.desk.hands import press

NAME = "memory after 10,000 edits of a 2,000-bar lesson, all undoable / the bare window's"
BUDGET = 2.5
UNIT = "MB"
EDITS = 10_000

_home = Path(tempfile.mkdtemp())


def prepare() -> None:
    window = open_window(long_lesson(2_000), "riffs")
    window.activateWindow()
    window.page("riffs").grid.setFocus()
    settle()
    stack = window.document.undo_stack
    while stack.count() < EDITS:
        press("7", "5", "Del", "Down", "3", "V", "Right", "2", "Up", "0")
        if stack.count() % 500 < 6:
            press("Ctrl+Home", *["Ctrl+Right"] * (stack.count() // 500))
        QApplication.processEvents()


def measure() -> tuple[float, float]:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE"), bare(_home, 0.5)[1]
