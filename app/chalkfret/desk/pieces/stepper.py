"""A whole or broken number with a button on either side to make it smaller or larger."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QToolButton, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Field, set_room
from chalkfret.desk.pieces.tools import tool
from chalkfret.words.text import _


class Stepper(QWidget):
    """``field`` between its two buttons, for the mouse; the keys are Up and Down."""

    typed = Signal(object)

    def __init__(
        self,
        look: Look,
        name: str,
        read: Callable[[str], Any],
        write: Callable[[Any], str],
        step: Callable[[Any, int], Any],
        widest: str,
    ) -> None:
        super().__init__()
        self.field = Field(read, write, step)
        self.field.setAccessibleName(name)
        self.field.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.field.typed.connect(self.typed)
        self.setFocusProxy(self.field)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self._button(look, "less", name, -1))
        layout.addWidget(self.field)
        layout.addWidget(self._button(look, "add", name, 1))
        follow(self, look, lambda: set_room(self.field, widest))

    def show_value(self, value: Any) -> None:
        """Show the value that holds."""
        self.field.show_value(value)

    def _button(self, look: Look, shape: str, name: str, steps: int) -> QToolButton:
        words = _("{what}: more") if steps > 0 else _("{what}: less")
        button = tool(look, shape, words.format(what=name), quiet=True)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        button.setAutoRepeat(True)
        button.clicked.connect(lambda: self.field.nudge(steps))
        return button
