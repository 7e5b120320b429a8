"""A list of sentences, one of which can be chosen: as high as its first few, words wrapped."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from chalkfret.desk.look import Look

_ROWS_SEEN = 5


class LinesList(QListWidget):
    """``chosen`` carries the number of a line, from 0, by Enter or a click.

    ``most_share``: of the window's height that it takes at most, where sentences are long.
    """

    chosen = Signal(int)

    def __init__(self, look: Look, name: str, most_share: float | None = None) -> None:
        super().__init__()
        self._look, self._most_share = look, most_share
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.itemActivated.connect(lambda item: self.chosen.emit(self.row(item)))
        self.itemClicked.connect(lambda item: self.chosen.emit(self.row(item)))

    def show_lines(self, lines: Sequence[str]) -> None:
        """Show these sentences; the row that was chosen stays, as far as there is one."""
        row = max(0, self.currentRow())
        self.clear()
        for line in lines:
            item = QListWidgetItem(line)
            item.setToolTip(line)
            self.addItem(item)
        self.setCurrentRow(min(row, len(lines) - 1))
        QTimer.singleShot(0, self, self.fit)  # when it has the width in which words wrap

    def fit(self) -> None:
        """As high as its first rows, each as high as its wrapped words."""
        metrics, unit = self.fontMetrics(), self._look.unit()
        width = self.viewport().width() - 2 * unit
        heights = []
        for row in range(self.count()):
            item = self.item(row)
            room = QRect(0, 0, width, 10_000)
            words = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, item.text())
            heights.append(words.height() + unit)
            item.setSizeHint(QSize(width, heights[-1]))
        height = sum(heights[:_ROWS_SEEN])
        if self._most_share is not None:
            height = min(height, round(self.window().height() * self._most_share))
        frame = self.height() - self.viewport().height()
        self.setFixedHeight(height + max(frame, 4))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.fit()
