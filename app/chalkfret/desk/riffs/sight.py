"""What of the grid is seen: how large, and how the view goes along with the cursor.

Conventions
-----------
- A zoom of 1.0 is as large as the rest of the window; it lies between ``LEAST`` and ``MOST``.
- What is under the anchor stays under it when the zoom changes: a point of the viewport, the
  cursor's where none is given and the cursor is in sight.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, QPoint, Signal

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid

LEAST: Final = 0.5
MOST: Final = 3.0
STEPS: Final = (0.5, 0.67, 0.8, 0.9, 1.0, 1.1, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0)
_BAND = 0.3  # of the view's width, at either edge: a cursor that is followed stays out of it


class Sight(QObject):
    """The zoom of the grid, and whether the view follows the cursor."""

    changed = Signal()

    def __init__(self, grid: Grid) -> None:
        super().__init__(grid)
        self._grid = grid
        self.zoom = 1.0
        self.follows = False

    # Zoom

    @property
    def percent(self) -> int:
        """The zoom in percent."""
        return round(self.zoom * 100)

    def step(self, way: int) -> None:
        """To the next larger (1) or smaller (-1) of the usual sizes."""
        if way > 0:
            self.zoom_to(next((one for one in STEPS if one > self.zoom * 1.01), MOST))
        else:
            self.zoom_to(next((one for one in reversed(STEPS) if one < self.zoom * 0.99), LEAST))

    def zoom_to(self, zoom: float, anchor: QPoint | None = None) -> None:
        """Show the grid at this zoom, or at the nearest there is."""
        zoom = min(MOST, max(LEAST, zoom))
        if abs(zoom - self.zoom) < 1e-4:
            return
        grid = self._grid
        point = anchor if anchor is not None else self._still_point()
        across, down = grid.horizontalScrollBar(), grid.verticalScrollBar()
        column = (across.value() + point.x()) / grid.metrics.step
        row, share = self._row_of(down.value() + point.y())
        at_top = anchor is None and down.value() == 0
        self.zoom = zoom
        grid.size_anew()
        across.setValue(round(column * grid.metrics.step) - point.x())
        tops = grid.tops
        y = tops[row] + share * (tops[row + 1] - tops[row])
        down.setValue(0 if at_top else round(y) - point.y())
        if at_top:
            self.show_cursor()
        self.changed.emit()

    def _row_of(self, y: int) -> tuple[int, float]:
        """The row at a height of the whole grid, and the share of it that lies above."""
        tops = self._grid.tops
        row = min(max(0, bisect_right(tops, y) - 1), len(tops) - 2)
        return row, (y - tops[row]) / max(1, tops[row + 1] - tops[row])

    def _still_point(self) -> QPoint:
        """The cursor, or the middle of the view where the cursor is not in sight."""
        grid, view = self._grid, self._grid.viewport().rect()
        across, down = grid.horizontalScrollBar().value(), grid.verticalScrollBar().value()
        cursor = grid.cell_rect(grid.here).translated(-across, -down).topLeft()
        return cursor if view.contains(cursor) else view.center()

    # The cursor

    def follow(self, follows: bool) -> None:
        """Keep the cursor near the middle from now on, or let it run to the edges."""
        self.follows = follows
        self.show_cursor()
        self.changed.emit()

    def show_cursor(self) -> None:
        """Scroll so that the cursor is in sight.

        Followed, it stays near the middle; else leaving the view turns most of a page at once.
        """
        grid = self._grid
        rect, view = grid.cell_rect(grid.here), grid.viewport().rect()
        across, down = grid.horizontalScrollBar(), grid.verticalScrollBar()
        if self.follows:
            edge = round(view.width() * _BAND)
            if rect.left() < across.value() + edge:
                across.setValue(rect.left() - edge)
            elif rect.right() > across.value() + view.width() - edge:
                across.setValue(rect.right() - view.width() + edge)
        elif rect.left() - grid.metrics.step < across.value():
            across.setValue(rect.left() - view.width() * 3 // 4)
        elif rect.right() + grid.metrics.step > across.value() + view.width():
            across.setValue(rect.left() - view.width() // 4)
        if rect.top() < down.value():
            down.setValue(max(0, rect.top() - grid.metrics.lane))
        elif rect.bottom() > down.value() + view.height():
            down.setValue(rect.bottom() + grid.metrics.degrees - view.height())

    @property
    def columns(self) -> tuple[float, float]:
        """The columns at the view's left and right edges."""
        grid = self._grid
        left, step = grid.horizontalOffset(), grid.metrics.step
        return left / step, (left + grid.viewport().width()) / step
