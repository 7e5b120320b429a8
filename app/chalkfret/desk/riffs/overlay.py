"""What lies over the notes of the grid: the cursor, the selection, and what to do first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QPainter, QPen

from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.columns import column_in_bar
from chalkfret.desk.riffs.hint import is_silent, paint_hint
from chalkfret.edits.place import Span

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid


def paint_hints(painter: QPainter, grid: Grid, area: QRect) -> None:
    """What to do first, under the strings of every silent section."""
    m, columns, bottom = grid.metrics, grid.grid_model.columns, grid.tops[-1]
    if area.bottom() <= bottom:
        return
    places = columns.bars_between(area.left() // m.step, area.right() // m.step)
    for index in {place.section: None for place in places}:
        section = grid.grid_model.lesson.sections[index]
        if is_silent(section):
            left = columns.bar_column(index, 0) * m.step
            right = columns.bar_column(index, len(section.bars)) * m.step
            seen = grid.verticalOffset() + grid.viewport().height()
            paint_hint(painter, m, QRect(left, bottom, right - left, seen - bottom))


def paint_cursor(painter: QPainter, grid: Grid) -> None:
    """The cursor's cell, dashed while the keys go elsewhere."""
    m, rect = grid.metrics, grid.cell_rect(grid.here)
    if moves.behind(grid.grid_model.lesson, grid.here):
        inset = m.px(2)
        painter.fillRect(rect.adjusted(inset, inset, -inset, -inset), m.ochre)
        return
    painter.fillRect(rect, m.cursor_fill)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(m.ochre, m.px(3)) if grid.hasFocus() else m.away_pen)
    inset = m.px(1)
    painter.drawRect(rect.adjusted(inset, inset, -inset, -inset))


def paint_selection(painter: QPainter, grid: Grid) -> None:
    """The rectangle that is selected."""
    m, rows, columns, span = grid.metrics, grid.grid_model.rows, grid.grid_model.columns, grid.span
    left = columns.column(span.start.section, span.start.bar, span.start.tick)
    right = _column_of_end(grid, span)
    if span.courses:
        first = rows.of_string(span.parts[0], span.courses[0])
        last = rows.of_string(span.parts[0], span.courses[-1])
    else:
        first = rows.of_part(span.parts[0])[0]
        last = rows.of_part(span.parts[-1])[-1]
    top, bottom = grid.tops[first], grid.tops[last + 1]
    rect = QRect(round(left * m.step), top, round((right - left) * m.step), bottom - top)
    painter.fillRect(rect, m.selection_fill)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(m.ochre, m.px(1)))
    painter.drawRect(rect.adjusted(0, 0, -m.px(1), -m.px(1)))


def _column_of_end(grid: Grid, span: Span) -> float:
    model, end = grid.grid_model, span.end
    head = model.lesson.sections[end.section].bars[end.bar].head
    if end.tick >= head.ticks:
        return model.columns.bar_column(end.section, end.bar + 1)
    return model.columns.bar_column(end.section, end.bar) + column_in_bar(head, end.tick)
