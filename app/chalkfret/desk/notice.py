"""Sentences that must be read, above the page."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import HEADING, Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import readable
from chalkfret.words.text import _


class Notice(QWidget):
    """Sentences that must be read, above the page; Escape or its button puts it away."""

    closed = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._heading, self._list = QLabel(), QLabel()
        for label in (self._heading, self._list):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        readable(self._list)
        self._close = QPushButton(_("Close"))
        self._close.clicked.connect(self.put_away)
        self._list.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setWidget(self._list)
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        top.addWidget(self._close)
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(top)
        self._layout.addWidget(self._scroll)
        look.changed.connect(self._dress)
        self._dress()
        self.hide()

    def _dress(self) -> None:
        look = self._look
        self._layout.setContentsMargins(look.unit(2), look.unit(), look.unit(2), look.unit())
        self._heading.setFont(look.font(HEADING))
        in_colour(self._heading, look, "warning")
        self._fit()

    def _fit(self) -> None:
        """As high as the sentences are, but never more than a third of the window."""
        needed = self._list.heightForWidth(self._scroll.viewport().width()) + 2
        most = max(self._look.unit(6), self.window().height() // 3)
        self._scroll.setMinimumHeight(min(needed, self._look.unit(6)))
        self._scroll.setMaximumHeight(min(needed, most))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def show_sentences(self, heading: str, sentences: Sequence[str]) -> None:
        """Show them, one a line."""
        self._heading.setText(heading)
        self._list.setText("\n".join(f"–  {sentence}" for sentence in sentences))
        self.setAccessibleName(heading)
        self._scroll.setAccessibleName(heading)
        announce(self, "\n".join((heading, *sentences)))
        self.show()
        self._fit()
        self.take_focus()

    def take_focus(self) -> None:
        """Go to its button."""
        self._close.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @property
    def heading(self) -> str:
        """What is said above the sentences."""
        return self._heading.text()

    @property
    def text(self) -> str:
        """The sentences that are shown."""
        return self._list.text()

    def put_away(self) -> None:
        """Hide it."""
        self.hide()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
