"""A box for words of several lines that are the lesson's: it sends them as they are typed."""

from __future__ import annotations

from math import ceil
from typing import cast

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QPlainTextEdit

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow

_MOST_LINES = 8


class Prose(QPlainTextEdit):
    """Tab leaves the box; undo is the lesson's, as everywhere."""

    typed = Signal(str)

    def __init__(
        self,
        look: Look,
        name: str,
        hint: str,
        most: int,
        lines: int = 3,
        most_lines: int = _MOST_LINES,
    ) -> None:
        super().__init__()
        self._least, self._most_lines = lines, most_lines
        self.setAccessibleName(name)
        self.setPlaceholderText(hint)
        self.setTabChangesFocus(True)
        self.setUndoRedoEnabled(False)
        self._most = most
        self.textChanged.connect(self._send)
        layout = self.document().documentLayout()
        layout.documentSizeChanged.connect(lambda _size: self._fit())
        follow(self, look, self._fit)

    def _fit(self) -> None:
        """As high as its words are, from ``lines`` to ``most_lines``, and no line cut."""
        lines = max(self._least, min(self._most_lines, self._lines()))
        frame = self.height() - self.viewport().height()
        if frame < 0:  # hidden and resized: what is inside follows when it is shown
            return
        around = frame + 2 * self.document().documentMargin()
        height = ceil(self.fontMetrics().lineSpacing() * lines + around) + 1
        if height != self.height():
            self.setFixedHeight(height)

    def _lines(self) -> int:
        return round(self.document().documentLayout().documentSize().height())  # Qt counts lines

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def show_text(self, text: str) -> None:
        """Show the text that holds, without moving the cursor of who is typing it."""
        if text != self.toPlainText():
            self.blockSignals(True)
            self.setPlainText(text)
            self.blockSignals(False)

    def _send(self) -> None:
        text = self.toPlainText()
        if len(text) > self._most:
            self.show_text(text[: self._most])
            text = text[: self._most]
        self.typed.emit(text)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride:
            key_event = cast(QKeyEvent, event)
            for key in (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo):
                if key_event.matches(key):
                    event.ignore()
                    return True
        return super().event(event)
