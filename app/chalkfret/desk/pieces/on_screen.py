"""Windows as large as they are meant to be, and never larger than the screen they are on."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QWidget

from chalkfret.desk.look import Look

_TITLE_UNITS = 5  # of height that the system's own frame may take


def fit_screen(window: QWidget, look: Look, width: float, height: float) -> None:
    """Give a window this size in units of the look, as far as its screen has room for it."""
    room = window.screen().availableGeometry().size() - QSize(0, look.unit(_TITLE_UNITS))
    window.resize(QSize(look.unit(width), look.unit(height)).boundedTo(room))
