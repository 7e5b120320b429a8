"""What is said to a screen reader, whatever it is reading just now."""

from __future__ import annotations

from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QWidget


def announce(speaker: QWidget, words: str) -> None:
    """Have ``words`` spoken as soon as what is being spoken is over."""
    if words and QAccessible.isActive():
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(speaker, words))
