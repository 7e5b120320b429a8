"""The frets of one string to choose from, under the pointer: a riff is written without keys.

It opens with the likeliest fret right under the pointer, so that one more press in the same place
writes it. The pointer and the wheel go from fret to fret; a press writes the one that is
marked. It takes no focus: the keys stay with the grid, and close it.
"""

from __future__ import annotations

from math import ceil
from typing import Final

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QWidget

from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.words.text import _

_ROW: Final = 13  # frets in one row: open to the octave
_STILL: Final = 4  # pixels that the pointer may tremble while the wheel is turned
_NOTCH: Final = 120  # eighths of a degree, one step of a wheel


class FretChooser(QWidget):
    """A small board of frets from 0 to ``most``; ``chosen`` carries the one that was pressed."""

    chosen = Signal(int)
    marked = Signal(int)  # the fret that a press would write

    def __init__(self, parent: QWidget, m: Metrics, most: int, now: int) -> None:
        super().__init__(parent)
        self._m, self._most = m, most
        self.fret = min(now, most)
        self._turned_at: QPoint | None = None
        self._turn = 0
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(_("Frets to choose from"))
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._columns = _ROW

    @property
    def _side(self) -> int:
        return self._m.step

    @property
    def _high(self) -> int:
        return self._m.pill + self._m.px(6)

    def sizeHint(self) -> QSize:
        rows = ceil((self._most + 1) / self._columns)
        rim = 2 * self._m.px(4)
        return QSize(self._columns * self._side + rim, rows * self._high + rim)

    def open_at(self, where: QPoint, room: QRect) -> None:
        """Show it with the marked fret under a point of the parent, within ``room``.

        Near an edge, where there is no room for that, it stands right below the point, or above
        it: what lies under the pointer must not be another fret than the marked one.
        """
        rim = 2 * self._m.px(4)
        self._columns = max(1, min(_ROW, (room.width() - rim) // self._side))
        wanted = QRect(where - self.cell(self.fret).center(), self.sizeHint())
        place = _within(wanted, room)
        if not self.cell(self.fret).contains(where - place.topLeft()):
            away = self._high // 2
            below, above = where.y() + away, where.y() - away - place.height()
            fits = below + place.height() <= room.bottom() + 1
            place.moveTop(below if fits else max(room.top(), above))
        self.setGeometry(place)
        self.show()
        self.raise_()
        self.marked.emit(self.fret)

    def cell(self, fret: int) -> QRect:
        """The place of a fret."""
        row, column = divmod(fret, self._columns)
        rim = self._m.px(4)
        return QRect(rim + column * self._side, rim + row * self._high, self._side, self._high)

    def fret_at(self, where: QPoint) -> int | None:
        """The fret at a point."""
        return next((f for f in range(self._most + 1) if self.cell(f).contains(where)), None)

    def _mark(self, fret: int) -> None:
        fret = min(self._most, max(0, fret))
        if fret != self.fret:
            self.fret = fret
            self.update()
            self.marked.emit(fret)

    # Qt's events

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        where = event.position().toPoint()
        turned = self._turned_at
        if turned is not None and (where - turned).manhattanLength() < _STILL:
            return
        self._turned_at = None
        fret = self.fret_at(where)
        if fret is not None:
            self._mark(fret)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.mouseMoveEvent(event)
            self.chosen.emit(self.fret)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.mousePressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self._turned_at = event.position().toPoint()
        self._turn += event.angleDelta().y()
        notches = int(self._turn / _NOTCH)
        self._turn -= notches * _NOTCH
        self._mark(self.fret + notches)
        event.accept()

    def event(self, event: QEvent) -> bool:
        # What is pressed between the frets is not for the grid behind them.
        if event.type() in (QEvent.Type.MouseButtonRelease, QEvent.Type.ContextMenu):
            event.accept()
            return True
        return super().event(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        m, painter = self._m, QPainter(self)
        painter.fillRect(self.rect(), m.panel)
        painter.setPen(QPen(m.lines, 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        for fret in range(self._most + 1):
            cell = self.cell(fret)
            here = fret == self.fret
            if here:
                painter.fillRect(cell, m.cursor_fill)
                painter.setPen(m.cursor_pen)
                painter.drawRect(cell.adjusted(1, 1, -1, -1))
            painter.setFont(m.strong_font if here else m.text_font)
            painter.setPen(m.ink if here else m.blue)
            painter.drawText(cell, Qt.AlignmentFlag.AlignCenter, str(fret))
        painter.end()


def _within(rect: QRect, room: QRect) -> QRect:
    """The rectangle moved into a larger one."""
    x = max(room.left(), min(rect.left(), room.left() + room.width() - rect.width()))
    y = max(room.top(), min(rect.top(), room.top() + room.height() - rect.height()))
    return QRect(QPoint(x, y), rect.size())
