"""Buttons with our icons, in the palette's colours as they change."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QToolButton

from chalkfret.desk.icons import icon
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow

ICON_UNITS = 2.25  # side of an icon: 18 px at 100 %


def tool(look: Look, shape: str, does: str, text: str = "", *, quiet: bool = False) -> QToolButton:
    """A button with the icon ``shape``; ``does`` says to eyes and ears what it does.

    With ``text`` the words stand beside the icon. A quiet one has no frame until it is touched.
    """
    button = QToolButton()
    button.setProperty("quiet", quiet)
    button.setToolTip(does)
    button.setAccessibleName(does)
    if text:
        button.setText(text)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)

    def dress() -> None:
        side = look.unit(ICON_UNITS)
        button.setIconSize(QSize(side, side))
        button.setIcon(icon(shape, side, look.colour("blue"), look.colour("lines")))

    follow(button, look, dress)
    return button
