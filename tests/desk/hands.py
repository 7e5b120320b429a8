"""Hands for tests of the window: keys pressed by their names, text typed where the focus is."""

import time
from pathlib import Path

from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication


def press(*keys: str) -> None:
    """Press keys in whatever has the focus: ``press("5", "Ctrl+2", "Shift+Right")``."""
    for key in keys:
        combination = QKeySequence(key)[0]
        focus = QApplication.focusWidget()
        assert focus is not None, f"nothing has the focus to take {key}"
        QTest.keyClick(focus, combination.key(), combination.keyboardModifiers())


def type_text(text: str) -> None:
    """Type into whatever has the focus."""
    QTest.keyClicks(QApplication.focusWidget(), text)


def files_done(window) -> None:
    """Wait until the window has read or written what it is reading or writing."""
    ends = time.monotonic() + 20
    while window.files.is_busy:
        assert time.monotonic() < ends, "still reading or writing"
        QTest.qWait(1)


def open_lesson(window, path: Path) -> None:
    """Open a lesson and wait until it is there, or refused."""
    window.files.open(path)
    files_done(window)


def save_lesson(window) -> None:
    """Save, and wait until it is done."""
    window.files.save()
    files_done(window)
