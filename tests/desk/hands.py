"""Hands for tests of the window: keys pressed by their names, text typed where the focus is."""

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
