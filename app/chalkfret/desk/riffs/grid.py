"""The grid: the lesson as tab on steps, painted by itself over a real table.

The table view gives scrolling, headers and accessible cells; every pixel is painted here, and only
where something differs. Keys are in ``typing`` and in the page's actions.
"""

from __future__ import annotations

from itertools import accumulate

from msgspec.structs import replace
from PySide6.QtCore import QModelIndex, QPoint, QRect, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.columns import changed_bars
from chalkfret.desk.riffs.comparing import Comparison
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.difference_marks import DifferencePainter
from chalkfret.desk.riffs.folds import Folds
from chalkfret.desk.riffs.headers import Names, Ruler
from chalkfret.desk.riffs.hint import hint_height, is_silent
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.model import GridModel
from chalkfret.desk.riffs.mouse.grid_mouse import GridMouse
from chalkfret.desk.riffs.mouse.table import MouseTable
from chalkfret.desk.riffs.overlay import paint_cursor, paint_hints, paint_selection
from chalkfret.desk.riffs.painting import CellPainter
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.desk.riffs.sight import Sight
from chalkfret.desk.riffs.travel import changed_place
from chalkfret.edits.place import Moment, Span
from chalkfret.model import Lesson
from chalkfret.words.text import _


class Grid(MouseTable):
    """All parts under one another, columns of steps left to right."""

    moved = Signal(object)  # the cursor, after it moved
    pointed = Signal(object)  # the cursor, after the mouse put it there
    typed = Signal(QKeyEvent)  # a key that no action has
    focused = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.metrics = Metrics(look)
        self.here = Cursor()
        self.anchor: Cursor | None = None
        self.grid_model = GridModel(document.lesson, self)
        self.tops: list[int] = []
        self.sight = Sight(self)
        self.folds = Folds(document, self)
        self.comparison = Comparison(document, self)
        self.mouse = GridMouse(self, document)
        self._set_up()
        self._resize_all()
        document.changed.connect(self._show_change)
        document.travelled.connect(self._go_to_change)
        document.replaced.connect(self._show_another)
        look.changed.connect(self.size_anew)
        self.folds.changed.connect(self._fold)
        self.comparison.changed.connect(self.size_anew)

    def _set_up(self) -> None:
        self.setAccessibleName(_("Grid of strings and steps"))
        self.setAccessibleDescription(_("Digits write frets, arrows move. F1 shows every key."))
        self.setModel(self.grid_model)
        self.setHorizontalHeader(Ruler(self))
        self.setVerticalHeader(Names(self))
        self.horizontalHeader().setVisible(True)
        self.setCornerButtonEnabled(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setAutoScroll(False)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setMouseTracking(True)
        self.grid_model.selects = self.selects
        self._point_readers_here()
        self.horizontalScrollBar().valueChanged.connect(self._scrolled)

    # Sizes

    def _resize_all(self) -> None:
        m = self.metrics
        heights = self._heights()
        self.tops = [0, *accumulate(heights)]
        self.horizontalHeader().setMinimumSectionSize(1)
        self.horizontalHeader().setDefaultSectionSize(m.step)
        self.horizontalHeader().setFixedHeight(m.ruler)
        self.verticalHeader().setFixedWidth(self._names_width())
        for row, height in enumerate(heights):
            self.setRowHeight(row, height)
        self.horizontalScrollBar().setSingleStep(m.step)
        self.verticalScrollBar().setSingleStep(m.string)
        self.updateGeometries()

    def _heights(self) -> list[int]:
        """The height of each row; the part whose differences are marked has a band for them."""
        m, rows, marked = self.metrics, self.grid_model.rows, self.comparison.marked
        heights = [m.height(row.kind) for row in rows.all]
        if marked is not None:
            heights[rows.of_part(marked[1])[0]] += m.band
        return heights

    def _names_width(self) -> int:
        """Room for the longest name of a part, within reason."""
        m = self.metrics.edge
        names = (m.strong_fm.horizontalAdvance(part.name) for part in self.grid_model.lesson.parts)
        widest = max(names) + m.unit * 4
        return min(m.unit * 20, max(m.names_width, widest))

    def _spare(self) -> int:
        """Pixels that each string can have beyond what it needs; at most two units."""
        m, rows = self.metrics, self.grid_model.rows.all
        strings = sum(row.kind is RowKind.STRING for row in rows)
        needed = sum(self._heights()) - strings * m.spare
        return max(0, min(m.unit * 2, (self.viewport().height() - needed) // max(1, strings)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._spare() != self.metrics.spare:
            self._breathe()
            self._update_all()

    def _breathe(self) -> None:
        """Size all rows, with what room there is shared among the strings."""
        spare = self._spare()
        if spare != self.metrics.spare:
            self.metrics = Metrics(self._look, spare, self.sight.zoom)
        self._resize_all()

    def size_anew(self) -> None:
        """Measure everything again: the look or the zoom is another."""
        self.metrics = Metrics(self._look, zoom=self.sight.zoom)
        self._breathe()
        self._update_all()
        self.show_cursor()

    def zoom_by(self, factor: float, anchor: QPoint) -> None:
        """Zoom around a point of the viewport, as a wheel or two fingers do."""
        self.sight.zoom_to(self.sight.zoom * factor, anchor)

    def _fold(self) -> None:
        self.grid_model.fold(self.folds.ids)
        self._breathe()
        self._update_all()
        part = self.folds.nearest_open(self.here.part)
        if part != self.here.part:
            self.let_go()
            self._moved_to(moves.kept(self.grid_model.lesson, replace(self.here, part=part)))
        self._point_readers_here()
        self.show_cursor()

    def _update_all(self) -> None:
        self.viewport().update()
        self.horizontalHeader().viewport().update()
        self.verticalHeader().viewport().update()

    def _scrolled(self) -> None:
        # The section's name stays in sight, so all of the ruler moves against its content.
        self.horizontalHeader().viewport().update()

    # Showing another value

    def _show_another(self) -> None:
        # First the cursor: unfolding must not bring it to a place of the lesson that is gone.
        self.anchor, self.here = None, Cursor()
        self.folds.unfold_all()
        self.grid_model.show(self._document.lesson)
        self._breathe()
        self.horizontalScrollBar().setValue(0)
        self.verticalScrollBar().setValue(0)
        self._update_all()
        self._moved_to(self.here)

    def _show_change(self, before: Lesson, after: Lesson) -> None:
        moved, rowed = self.grid_model.show(after)
        if rowed:
            self._breathe()
        if before.parts is not after.parts and not rowed:
            self.verticalHeader().setFixedWidth(self._names_width())
            self.updateGeometries()
        if moved or rowed or before.parts is not after.parts or before.head is not after.head:
            self._update_all()
        elif len(before.sections) == len(after.sections):
            self._update_bars(before, after)
        kept = moves.kept(after, self.here)
        self.folds.open(kept.part)
        if self.anchor is not None:
            self.anchor = moves.kept(after, self.anchor)
        if kept != self.here:
            self._moved_to(kept)
        else:
            self._point_readers_here()

    def _go_to_change(self, before: Lesson, after: Lesson) -> None:
        there = changed_place(before, after, self.here)
        if self.selects(there):
            self.show_cursor()
        else:
            self.move_to(there)

    def selects(self, place: Cursor) -> bool:
        """Whether a cell is selected."""
        if self.anchor is None:
            return False
        span, lesson = self.span, self.grid_model.lesson
        return (
            span.start <= Moment(*place.time) < span.end
            and place.part in (span.parts or range(len(lesson.parts)))
            and place.course in (span.courses or (place.course,))
        )

    def _update_bars(self, before: Lesson, after: Lesson) -> None:
        for index, (old, new) in enumerate(zip(before.sections, after.sections, strict=True)):
            if old is new:
                continue
            if old.head is not new.head or is_silent(old) != is_silent(new):
                self._update_all()
                return
            if len(old.bars) != len(new.bars):
                self._update_all()
                return
            changed = changed_bars(old.bars, new.bars)
            if changed is not None:
                first, last = changed
                parts = set(range(len(after.parts)))
                if first == last:
                    notes = zip(old.bars[first].notes, new.bars[first].notes, strict=True)
                    parts = {part for part, (one, two) in enumerate(notes) if one is not two}
                self._update_bar_range(index, first, last, parts)

    def _update_bar_range(self, section: int, first: int, last: int, parts: set[int]) -> None:
        marked = self.comparison.marked
        if marked is not None and not parts.isdisjoint(marked):
            # The bar behind says what it does otherwise only where it is not the same again.
            parts = {*parts, *marked}
            last = min(last + 1, len(self.grid_model.lesson.sections[section].bars) - 1)
        columns, step, down = self.grid_model.columns, self.metrics.step, self.verticalOffset()
        left = columns.bar_column(section, first) * step - self.horizontalOffset()
        right = columns.bar_column(section, last + 1) * step - self.horizontalOffset()
        found = self.grid_model.lesson.sections[section]
        # A note is named by where it goes: the bars beside may have other degrees now.
        beside = 0 if found.head.key is None else 1
        near = columns.bar_column(section, max(0, first - beside)) * step
        far = columns.bar_column(section, min(len(found.bars), last + 1 + beside)) * step
        reach = self.metrics.px(12)
        for part in parts:
            rows = self.grid_model.rows.of_part(part)
            top, bottom = self.tops[rows[0]] - down, self.tops[rows[-1] + 1] - down
            self.viewport().update(left - reach, top, right - left + 2 * reach, bottom - top)
            degrees = self.tops[rows[-1]] - down
            x = near - self.horizontalOffset()
            self.viewport().update(x, degrees, far - near, bottom - degrees)
        self.horizontalHeader().viewport().update(left, 0, right - left, self.metrics.ruler)

    # The cursor

    def move_to(self, cursor: Cursor, select: bool = False) -> None:
        """Move the cursor; with ``select`` the selection follows it, else it is let go."""
        if select and self.anchor is None:
            self.anchor = self.here
        elif not select:
            self.let_go()
        self.folds.open(cursor.part)
        if select:
            self._update_all_cells()
        if cursor != self.here:
            self._moved_to(cursor)
        self.show_cursor()

    def let_go(self) -> None:
        """Select nothing."""
        if self.anchor is not None:
            self.anchor = None
            self._update_all_cells()

    def _update_all_cells(self) -> None:
        self.viewport().update()

    def _moved_to(self, cursor: Cursor) -> None:
        before, self.here = self.here, cursor
        self.viewport().update(self._cursor_area(kept_in=before))
        self.viewport().update(self._cursor_area(kept_in=cursor))
        if before.time[:2] != cursor.time[:2]:
            self.horizontalHeader().viewport().update()
        if (before.section, before.part, before.course) != (
            cursor.section,
            cursor.part,
            cursor.course,
        ):
            self.verticalHeader().viewport().update()
        self._point_readers_here()
        self.moved.emit(cursor)

    def _point_readers_here(self) -> None:
        """The cursor's cell is Qt's current one: columns and rows may have moved under it."""
        index = self._index_of(self.here)
        if index != self.currentIndex():
            self.setCurrentIndex(index)

    def _index_of(self, cursor: Cursor) -> QModelIndex:
        model = self.grid_model
        row = model.rows.of_string(cursor.part, cursor.course)
        column = int(model.columns.column(cursor.section, cursor.bar, cursor.tick))
        return model.index(row, min(column, model.columns.total - 1))

    def cell_rect(self, cursor: Cursor) -> QRect:
        """The cell in the coordinates of the whole grid; behind the last bar it is a thin one."""
        m, model = self.metrics, self.grid_model
        row = model.rows.of_string(cursor.part, cursor.course)
        left = round(model.columns.column(cursor.section, cursor.bar, cursor.tick) * m.step)
        top, bottom = self.tops[row], self.tops[row + 1]
        if moves.behind(model.lesson, cursor):
            return QRect(left - m.px(4), top, m.px(8), bottom - top)
        return QRect(left, top, m.step, bottom - top)

    def _cursor_area(self, kept_in: Cursor) -> QRect:
        cursor = moves.kept(self.grid_model.lesson, kept_in)
        rect = self.cell_rect(cursor)
        rim = self.metrics.px(3)
        return rect.translated(-self.horizontalOffset(), -self.verticalOffset()).adjusted(
            -rim, -rim, rim, rim
        )

    def show_cursor(self) -> None:
        """Scroll so that the cursor is in sight."""
        self.sight.show_cursor()

    @property
    def span(self) -> Span:
        """What is selected: the rectangle, or the cursor's cell."""
        anchor = self.anchor or self.here
        return moves.span_between(self.grid_model.lesson, anchor, self.here)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        across, down = self.horizontalOffset(), self.verticalOffset()
        painter.translate(-across, -down)
        area = event.rect().translated(across, down)
        painter.setClipRect(area)
        model = self.grid_model
        cells = CellPainter(painter, self.metrics, model.columns, model.rows, self.tops)
        cells.paint(self.mouse.preview or model.lesson, area)
        if self.comparison.marked is not None:
            marks = DifferencePainter(painter, self.metrics, model.columns, model.rows, self.tops)
            marks.paint(model.lesson, self.comparison.marked, area)
        paint_hints(painter, self, area)
        if self.anchor is not None:
            paint_selection(painter, self)
        paint_cursor(painter, self)
        cells.paint_repeats(area)
        self.mouse.paint(painter)
        painter.end()

    @property
    def has_room_for_hints(self) -> bool:
        """Whether what to do first can be read under the strings."""
        return self.tops[-1] + hint_height(self.metrics) <= self.viewport().height()

    # Qt's events

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.focused.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.mouse.key(event):
            event.ignore()
            self.typed.emit(event)
