"""What opens under a page: as high as it is where there is room, else it scrolls."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import QScrollArea, QSizePolicy, QWidget

_LEAST_LINES = 3  # of text, that are seen also in the smallest window


class Drawer(QScrollArea):
    """Comes and goes with its panel, which is shown and hidden as if it stood here by itself.

    ``page`` from the first: a window of its own, if never seen, would take the keys with it.
    """

    def __init__(self, panel: QWidget, page: QWidget | None) -> None:
        super().__init__(page)
        self.setWidget(panel)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.hide()
        panel.hide()  # Qt shows what is put into an area
        panel.installEventFilter(self)

    def _whole(self) -> QSize:
        panel = self.widget()
        if panel is None:  # it went before its drawer
            return QSize(0, 0)
        return panel.minimumSizeHint().expandedTo(panel.minimumSize())

    def sizeHint(self) -> QSize:
        return self._whole()

    def minimumSizeHint(self) -> QSize:
        whole, bar = self._whole(), self.verticalScrollBar().sizeHint().width()
        least = min(whole.height(), self.fontMetrics().height() * _LEAST_LINES)
        return QSize(whole.width() + bar, least)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.widget():
            if event.type() in (QEvent.Type.ShowToParent, QEvent.Type.HideToParent):
                self.setVisible(event.type() is QEvent.Type.ShowToParent)
            elif event.type() is QEvent.Type.LayoutRequest:
                self.updateGeometry()
        return super().eventFilter(watched, event)
