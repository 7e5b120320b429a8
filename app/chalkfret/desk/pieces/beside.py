"""Controls beside one another where there is room for all of them, else one below the other."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QLineEdit, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.form import ROW_GAP_UNITS

_LEAST_UNITS = 7  # of a field that could be of any width


class Beside(QWidget):
    """A row of controls; the first one has the focus of the row."""

    def __init__(self, look: Look, *widgets: QWidget) -> None:
        super().__init__()
        self._look, self._widgets = look, widgets
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        for widget in widgets:
            self._row.addWidget(widget)
        self.setFocusProxy(widgets[0])
        follow(self, look, self._dress)

    def _dress(self) -> None:
        self._turn()

    def _needs(self) -> list[int]:
        return [
            max(widget.minimumSizeHint().width(), min(self._wish(widget), widget.maximumWidth()))
            for widget in self._widgets
            if not widget.isHidden()
        ]

    def _wish(self, widget: QWidget) -> int:
        """A field wants room for its hint, and for a few letters in any case."""
        least = self._look.unit(_LEAST_UNITS)
        if not isinstance(widget, QLineEdit):
            return 0
        metrics = widget.fontMetrics()
        around = metrics.height() * 2
        return max(least, metrics.horizontalAdvance(widget.placeholderText()) + around)

    def _turn(self) -> None:
        needs = self._needs()
        unit = self._look.unit
        fits = sum(needs) + unit() * max(0, len(needs) - 1) <= self.width()
        way = QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom
        self._row.setSpacing(unit() if fits else unit(ROW_GAP_UNITS))
        if way is not self._row.direction():
            self._row.setDirection(way)
            self.updateGeometry()

    def minimumSizeHint(self) -> QSize:
        width = max(self._needs(), default=0)
        return QSize(width, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()
