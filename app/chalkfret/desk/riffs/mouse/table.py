"""A table view whose mouse is a ``GridMouse``: Qt's events are handed on, and nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QEvent
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QTableView

if TYPE_CHECKING:
    from chalkfret.desk.riffs.mouse.grid_mouse import GridMouse


class MouseTable(QTableView):
    """Hands its events on to ``mouse``, which is there once the view has been made."""

    mouse: GridMouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.mouse.press(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.mouse.press(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.mouse.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.mouse.release(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self.mouse.menu(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.mouse.wheel(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if not self.mouse.key(event):
            super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.mouse.came(event.reason())
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.mouse.gone()
        self.viewport().update()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride and self.mouse.wants(
            cast(QKeyEvent, event)
        ):
            event.accept()  # Escape is for the drag, not for the action that has it
            return True
        return super().event(event)

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.NativeGesture and self.mouse.scroller.pinch(
            cast(QNativeGestureEvent, event)
        ):
            return True
        if event.type() == QEvent.Type.Leave:
            self.mouse.leave()
        return super().viewportEvent(event)
