"""The empty state: what to do first, in three lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import HEADING, Look
from chalkfret.words.text import _


class EmptyState(QWidget):
    """What to do first, in three lines."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._column = QVBoxLayout()
        outer = QHBoxLayout(self)
        outer.addStretch(2)
        outer.addLayout(self._column, 3)
        outer.addStretch(2)
        self._heading = QLabel(_("No lesson is open."))
        self._texts: list[QLabel] = []
        look.changed.connect(self._dress)

    def show_lines(self, lines: Sequence[tuple[str, str, Callable[[], object]]]) -> None:
        """A line each: what the button says, what follows it, and what it does."""
        self._column.addStretch(2)
        self._column.addWidget(self._heading)
        self._column.addSpacing(self._look.unit(2))
        for text, more, run in lines:
            row = QHBoxLayout()
            button = QPushButton(text)
            button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            button.clicked.connect(run)
            said = QLabel(more)
            said.setTextFormat(Qt.TextFormat.PlainText)
            said.setWordWrap(True)
            self._texts.append(said)
            row.addWidget(button)
            row.addSpacing(self._look.unit())
            row.addWidget(said, 1)
            self._column.addLayout(row)
            self._column.addSpacing(self._look.unit())
        self._column.addStretch(3)
        self._dress()

    def _dress(self) -> None:
        self._heading.setFont(self._look.font(HEADING))
        for label in self._texts:
            in_colour(label, self._look, "soft")
