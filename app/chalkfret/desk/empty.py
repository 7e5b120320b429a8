"""The empty state: what to do first, in three lines."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import HEADING, Look
from chalkfret.words.text import _

Line = tuple[str, str, Callable[[], object]]
"""What the button says, what follows it, and what it does."""


class EmptyState(QWidget):
    """What to do first, in a line each."""

    def __init__(self, look: Look, lines: Sequence[Line]) -> None:
        super().__init__()
        self._look = look
        self._body = QWidget()
        self._column = QVBoxLayout(self._body)
        outer = QHBoxLayout(self)
        outer.addStretch(1)
        outer.addWidget(self._body, 20)  # all there is, up to its own greatest width
        outer.addStretch(1)
        self._heading = QLabel(_("No lesson is open."))
        self._texts: list[QLabel] = []
        self._fill(lines)
        look.changed.connect(self._dress)
        self._dress()

    def _fill(self, lines: Sequence[Line]) -> None:
        self._column.addStretch(2)
        self._column.addWidget(self._heading)
        self._column.addSpacing(self._look.unit(2))
        rows = QGridLayout()
        rows.setColumnStretch(1, 1)
        rows.setHorizontalSpacing(self._look.unit(2))
        rows.setVerticalSpacing(self._look.unit(1.5))
        for index, (text, more, run) in enumerate(lines):
            button = QPushButton(text)
            button.clicked.connect(run)
            said = QLabel(more)
            said.setTextFormat(Qt.TextFormat.PlainText)
            said.setWordWrap(True)
            self._texts.append(said)
            rows.addWidget(button, index, 0)
            rows.addWidget(said, index, 1)
            if index == 0:
                self.setFocusProxy(button)
        self._column.addLayout(rows)
        self._column.addStretch(3)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Every line as high as its words, which a grid of rows does not ask for."""
        self._column.activate()
        for label in self._texts:
            label.setMinimumHeight(label.heightForWidth(label.width()))

    def _dress(self) -> None:
        self._body.setMaximumWidth(self._look.unit(84))
        self._heading.setFont(self._look.font(HEADING))
        for label in self._texts:
            in_colour(label, self._look, "soft")
