"""The empty state: what to do first, in three lines, and the lessons that were open last."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import HEADING, Look
from chalkfret.desk.pieces.dress import small
from chalkfret.desk.pieces.elided import Elided
from chalkfret.words.text import _

Line = tuple[str, str, Callable[[], object]]
"""What the button says, what follows it, and what it does."""


class EmptyState(QWidget):
    """What to do first, in a line each; ``recent`` lessons are offered quietly below."""

    def __init__(self, look: Look, lines: Sequence[Line], recent: Sequence[Line]) -> None:
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
        self._places: list[QLabel] = []
        self._fill(lines, recent)
        look.changed.connect(self._dress)
        self._dress()

    def _fill(self, lines: Sequence[Line], recent: Sequence[Line]) -> None:
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
        if recent:
            self._column.addSpacing(self._look.unit(4))
            self._column.addWidget(small(self._look, _("Open again")))
            self._column.addLayout(self._offer(recent))
        self._column.addStretch(3)

    def _offer(self, recent: Sequence[Line]) -> QGridLayout:
        rows = QGridLayout()
        rows.setColumnStretch(1, 1)
        rows.setHorizontalSpacing(self._look.unit(2))
        for index, (name, folder, run) in enumerate(recent):
            button = QToolButton()
            button.setProperty("quiet", True)
            button.setText(name.replace("&", "&&"))
            button.clicked.connect(run)
            place = Elided()
            place.setText(folder)
            self._places.append(place)
            rows.addWidget(button, index, 0)
            rows.addWidget(place, index, 1)
        return rows

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
        for label in (*self._texts, *self._places):
            in_colour(label, self._look, "soft")
