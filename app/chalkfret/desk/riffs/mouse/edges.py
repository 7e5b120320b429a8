"""The mouse on the grid's two edges: bars are selected along the ruler, names edited in place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QRect, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QHeaderView

from chalkfret.desk.riffs.cursor import Cursor, kept
from chalkfret.desk.riffs.mouse.band import BarBand
from chalkfret.desk.riffs.mouse.rename import Named
from chalkfret.desk.riffs.rows import RowKind

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid


class MouseEdge(QHeaderView):
    """What both edges share; a press gives the grid the keys."""

    _grid: Grid

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._grid.mouse.hand.move(self._where(event), event.modifiers())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self._grid.mouse.hand.release()

    def _where(self, event: QMouseEvent) -> QPoint:
        """The point in the whole grid's coordinates."""
        grid = self._grid
        in_view = grid.viewport().mapFromGlobal(event.globalPosition().toPoint())
        return in_view + QPoint(grid.horizontalOffset(), grid.verticalOffset())

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.HoverMove, QEvent.Type.HoverEnter):
            return True  # a header would show sections to press
        return super().viewportEvent(event)


class MouseRuler(MouseEdge):
    """A press goes to the bar, a drag selects bars of all guitars, a double click edits a title."""

    def title_boxes(self, section: int) -> tuple[QRect, QRect]:
        """Where a section's letter stands, and its name and tempo; they scroll as far as they can.

        In the coordinates of the whole grid.
        """
        grid, m, step = self._grid, self._grid.metrics.edge, self._grid.metrics.step
        found, columns = grid.grid_model.lesson.sections[section], grid.grid_model.columns
        left = columns.bar_column(section, 0) * step
        right = columns.bar_column(section, len(found.bars)) * step
        x = max(left, self.offset())
        plate = m.strong_fm.horizontalAdvance(found.head.letter) + m.unit * 3 // 2
        start = x + plate + m.unit
        room = max(0, right - x - plate - m.unit * 2)
        return QRect(x, 0, plate, m.ruler_top), QRect(start, 0, room, m.ruler_top)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        grid, where = self._grid, self._where(event)
        grid.setFocus()
        if grid.mouse.hand.abandon() or event.button() is not Qt.MouseButton.LeftButton:
            return
        column = where.x() // grid.metrics.step
        section, bar, tick = grid.grid_model.columns.place(column)
        before = (grid.here, grid.anchor)
        here = grid.here
        lesson = grid.grid_model.lesson
        cell = kept(lesson, Cursor(section, bar, tick, here.part, here.course))
        grid.move_to(cell)
        grid.pointed.emit(cell)
        grid.mouse.hand.press(where, BarBand(grid.mouse.document, grid, before, cell))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        grid = self._grid
        point = QPoint(self._where(event).x(), event.position().toPoint().y())
        section, _bar, _tick = grid.grid_model.columns.place(point.x() // grid.metrics.step)
        letter, title = self.title_boxes(section)
        if point.y() >= letter.bottom():
            return
        what, box = (Named.LETTER, letter) if letter.contains(point) else (Named.SECTION, title)
        grid.mouse.name_wanted.emit(what, section, self.viewport(), self._seen(box))

    def _seen(self, box: QRect) -> QRect:
        moved = box.translated(-self.offset(), 0)
        return moved.intersected(self.viewport().rect()) or moved


class MouseNames(MouseEdge):
    """A press goes to the string, at a part's corner folds it; a double click edits its name."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        grid, where = self._grid, event.position().toPoint()
        grid.setFocus()
        if grid.mouse.hand.abandon() or event.button() is not Qt.MouseButton.LeftButton:
            return
        part = self.part_at(where.y())
        if part is not None:
            if len(grid.grid_model.lesson.parts) > 1 and where.x() < self._corner:
                grid.folds.turn(part)
            return
        row = grid.grid_model.rows[grid.mouse.places.row_at(where.y() + self.offset())]
        if row.kind is RowKind.STRING and where.y() + self.offset() < grid.tops[-1]:
            here = grid.here
            cell = Cursor(here.section, here.bar, here.tick, row.part, row.course)
            grid.move_to(cell)
            grid.pointed.emit(cell)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        where = event.position().toPoint()
        part = self.part_at(where.y())
        if part is None or where.x() < self._corner:
            self.mousePressEvent(event)
            return
        grid = self._grid
        top = grid.tops[grid.grid_model.rows.of_part(part)[0]] - self.offset()
        box = QRect(self._corner, top, self.width() - self._corner, grid.metrics.lane)
        grid.mouse.name_wanted.emit(Named.PART, part, self.viewport(), box)

    @property
    def _corner(self) -> int:
        """Left of here a press folds."""
        several = len(self._grid.grid_model.lesson.parts) > 1
        return self._grid.metrics.edge.unit * 3 if several else self._grid.metrics.edge.unit

    def part_at(self, y: int) -> int | None:
        """The part whose name stands at a height of the viewport."""
        raise NotImplementedError
