"""Wheel and touchpad over the grid: smooth along both axes, and pinched, or with Ctrl, larger."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication, QNativeGestureEvent, QWheelEvent

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid

_NOTCH: Final = 120  # eighths of a degree, one step of a wheel
_LINES: Final = 3  # steps or strings that a notch scrolls
_ZOOM_NOTCH: Final = 1.1
_ZOOM_PIXELS: Final = 100  # of a touchpad, as much as a notch


class Scroller:
    """Scrolls one grid; what is less than a pixel is kept for the next time."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        self._rest_x = self._rest_y = 0.0

    def wheel(self, event: QWheelEvent) -> None:
        """A turn of the wheel, or two fingers on the touchpad."""
        event.accept()
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._zoom(event)
            return
        x, y = self._pixels(event)
        self._rest_x += x
        self._rest_y += y
        across, down = int(self._rest_x), int(self._rest_y)
        self._rest_x -= across
        self._rest_y -= down
        self.by(-across, -down)

    def by(self, across: int, down: int) -> None:
        """Scroll so many pixels to the right and down."""
        bars = self._grid.horizontalScrollBar(), self._grid.verticalScrollBar()
        for bar, way in zip(bars, (across, down), strict=True):
            if way:
                bar.setValue(bar.value() + way)

    def pinch(self, event: QNativeGestureEvent) -> bool:
        """A gesture of the touchpad; whether it was a pinch."""
        if event.gestureType() is not Qt.NativeGestureType.ZoomNativeGesture:
            return False
        where = self._grid.viewport().mapFromGlobal(event.globalPosition().toPoint())
        self._grid.zoom_by(1.0 + event.value(), where)
        event.accept()
        return True

    def _zoom(self, event: QWheelEvent) -> None:
        pixels = event.pixelDelta().y() if _has_pixels(event) else 0
        notches = pixels / _ZOOM_PIXELS or event.angleDelta().y() / _NOTCH
        if notches:
            where: QPoint = event.position().toPoint()
            self._grid.zoom_by(_ZOOM_NOTCH**notches, where)

    def _pixels(self, event: QWheelEvent) -> tuple[float, float]:
        """How far to scroll; Shift turns down into across, where the system does not by itself."""
        has_pixels = _has_pixels(event)
        moved = event.pixelDelta() if has_pixels else event.angleDelta()
        x, y = float(moved.x()), float(moved.y())
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier and not x:
            x, y = y, 0.0
        if has_pixels:
            return x, y
        m = self._grid.metrics
        return x / _NOTCH * _LINES * m.step, y / _NOTCH * _LINES * m.string


def _has_pixels(event: QWheelEvent) -> bool:
    """Whether the device says pixels; under X11 what it says there is not to be relied on."""
    return event.hasPixelDelta() and QGuiApplication.platformName() != "xcb"
