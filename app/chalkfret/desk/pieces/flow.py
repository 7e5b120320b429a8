"""A layout that sets its items like words: in a row, and on in the next where there is no room."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget


class Flow(QLayout):
    """Items keep their size hints; each row is as high as its highest item, centred in it."""

    def __init__(self, parent: QWidget | None = None, gap: int = 8) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setSpacing(gap)
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._place(QRect(0, 0, width, 0), move=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, move=True)

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size.grownBy(self.contentsMargins())

    def sizeHint(self) -> QSize:
        width = sum(item.sizeHint().width() for item in self._seen())
        height = max((item.sizeHint().height() for item in self._seen()), default=0)
        gaps = self.spacing() * max(0, len(self._seen()) - 1)
        return QSize(width + gaps, height).grownBy(self.contentsMargins())

    def _seen(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _place(self, rect: QRect, move: bool) -> int:
        """Put the items into rows (only reckoned where not ``move``); the height they take."""
        inner = rect.marginsRemoved(self.contentsMargins())
        y = inner.y()
        row: list[tuple[QLayoutItem, int]] = []
        x = inner.x()
        for item in self._seen():
            width = min(item.sizeHint().width(), max(inner.width(), item.minimumSize().width()))
            if row and x + width > inner.right() + 1:
                y += self._set_row(row, inner.x(), y, move) + self.spacing()
                row, x = [], inner.x()
            row.append((item, width))
            x += width + self.spacing()
        y += self._set_row(row, inner.x(), y, move)
        return y - rect.y() + self.contentsMargins().bottom()

    def _set_row(self, row: list[tuple[QLayoutItem, int]], x: int, y: int, move: bool) -> int:
        heights = [_height(item, width) for item, width in row]
        highest = max(heights, default=0)
        if move:
            for (item, width), height in zip(row, heights, strict=True):
                item.setGeometry(
                    QRect(QPoint(x, y + (highest - height) // 2), QSize(width, height))
                )
                x += width + self.spacing()
        return highest


def _height(item: QLayoutItem, width: int) -> int:
    if item.hasHeightForWidth():
        return item.heightForWidth(width)
    return item.sizeHint().height()


class FlowRow(QWidget):
    """Widgets in a row that wraps, as high as its rows are in any layout.

    Not all layouts ask how high a widget is at a width (a form does not), so it is told to them.
    """

    def __init__(self, *widgets: QWidget, gap: int = 8) -> None:
        super().__init__()
        self.flow = Flow(self, gap)
        for widget in widgets:
            self.flow.addWidget(widget)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._tell_height()

    def event(self, event: QEvent) -> bool:
        done = super().event(event)
        if event.type() == QEvent.Type.LayoutRequest:
            self._tell_height()
        return done

    def _tell_height(self) -> None:
        height = self.flow.heightForWidth(self.width())
        if height != self.minimumHeight():
            self.setMinimumHeight(height)
