"""What lies under a point of the grid, and where on it a note, a cue or a moment is.

Conventions
-----------
- Points and rectangles are in the coordinates of the whole grid, as it is painted.
- Of a note the last pixels are its end, which is drawn out; the spot over its end is the knob, from
  which slides and bends are drawn; all else of it is its body.
"""

from __future__ import annotations

from bisect import bisect_right
from enum import Enum
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPoint, QRect

from chalkfret.desk.riffs.cells import note_cells
from chalkfret.desk.riffs.columns import BarPlace, column_in_bar, spans_of, step_starts
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.edits.draft import Draft
from chalkfret.edits.place import Moment, Spot
from chalkfret.edits.sounds import run
from chalkfret.model import Cue, Lesson, Place, setup_in

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid


class Zone(Enum):
    """Where on a note or a cue a point lies."""

    BODY = "body"
    START = "start"
    END = "end"
    KNOB = "knob"


class NoteHit(NamedTuple):
    """A note under the pointer: where it begins, its place, and where on it the pointer is."""

    spot: Spot
    rect: QRect
    zone: Zone


class CueHit(NamedTuple):
    """A cue under the pointer."""

    section: int
    cue: Cue
    zone: Zone


class Places:
    """The places of one grid."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid

    @property
    def seen(self) -> QRect:
        """What of the grid is in sight."""
        grid = self._grid
        return grid.viewport().rect().translated(grid.horizontalOffset(), grid.verticalOffset())

    # Cells and moments

    def row_at(self, y: int) -> int:
        """The row at a height; beyond the ends the first or the last."""
        tops = self._grid.tops
        return min(max(0, bisect_right(tops, y) - 1), len(tops) - 2)

    def cell(self, where: QPoint, *, behind: bool = True) -> Cursor | None:
        """The cell at a point, or the nearest; right of everything the one ``behind`` the last bar.

        None where every part is folded.
        """
        model, row = self._grid.grid_model, self.row_at(where.y())
        string = model.rows.string_from(row, 1)
        if string is None:
            string = model.rows.string_from(row, -1)
        if string is None:
            return None
        _kind, part, course = model.rows[string]
        column = where.x() // self._grid.metrics.step
        section, bar, tick = model.columns.place(column)
        if behind and column >= model.columns.total:
            tick = model.lesson.sections[section].bars[bar].head.ticks
        return Cursor(section, bar, tick, part, course)

    def line(self, x: int) -> Moment:
        """The line between two steps that lies nearest; a bar's end as its last tick."""
        columns = self._grid.grid_model.columns
        column = round(x / self._grid.metrics.step)
        section, bar, tick = columns.place(max(0, column - 1))
        if column <= 0:
            return Moment(section, bar, 0)
        head = self._grid.grid_model.lesson.sections[section].bars[bar].head
        start, length = spans_of(head)[step_starts(head).index(tick)]
        return Moment(section, bar, start + length)

    def line_x(self, moment: Moment) -> int:
        """Where a moment lies; a tick behind its bar is the bar's end."""
        columns, step = self._grid.grid_model.columns, self._grid.metrics.step
        bars = self._grid.grid_model.lesson.sections[moment.section].bars
        if moment.bar >= len(bars):
            return columns.bar_column(moment.section, len(bars)) * step
        return round(columns.column(moment.section, moment.bar, moment.tick) * step)

    def ticks_at(self, moment: Moment) -> int:
        """How far a moment lies from the beginning of its section, in ticks."""
        bars = self._grid.grid_model.lesson.sections[moment.section].bars
        return sum(bar.head.ticks for bar in bars.slice(0, moment.bar)) + moment.tick

    # Notes

    def note(self, where: QPoint) -> NoteHit | None:
        """The note at a point."""
        grid = self._grid
        model, m = grid.grid_model, grid.metrics
        row = self.row_at(where.y())
        if model.rows[row].kind is not RowKind.STRING or not 0 <= where.y() < grid.tops[-1]:
            return None
        place = self._bar_at(where.x())
        if place is None:
            return None
        part, course = model.rows[row].part, model.rows[row].course
        section = model.lesson.sections[place.section]
        notes = place.bar.notes[part]
        setup = setup_in(section, model.lesson.parts[part])
        cells = note_cells(notes, place.bar.head, setup, section.head.key)
        for note, cell in reversed(list(zip(notes, cells, strict=True))):
            if note.course != course:
                continue
            left = round((place.column + cell.start) * m.step)
            digits = round(2 * m.fret_text(cell.fret)[1])
            right = max(round((place.column + cell.end) * m.step), left + digits)
            rect = QRect(left, grid.tops[row], right - left, m.string)
            if left <= where.x() < right:
                spot = Spot(place.section, place.number, part, note.onset, course)
                return NoteHit(spot, rect, self._zone(rect, where))
        return None

    def _bar_at(self, x: int) -> BarPlace | None:
        column = x // self._grid.metrics.step
        columns = self._grid.grid_model.columns
        if not 0 <= column < columns.total:
            return None
        return next(columns.bars_between(column, column), None)

    def _zone(self, rect: QRect, where: QPoint) -> Zone:
        m = self._grid.metrics
        if self.knob(rect).adjusted(-m.px(3), -m.px(4), m.px(3), m.px(1)).contains(where):
            return Zone.KNOB
        wide = min(max(m.px(7), m.unit), rect.width() // 3)
        over = where.y() < rect.top() + m.sign_height
        return Zone.END if where.x() >= rect.right() - wide and not over else Zone.BODY

    def knob(self, rect: QRect) -> QRect:
        """The knob of a note whose cells are ``rect``."""
        m = self._grid.metrics
        side = max(m.px(7), m.unit)
        return QRect(rect.right() - side - m.px(1), rect.top() + m.sign_height - side, side, side)

    def pill(self, rect: QRect) -> QRect:
        """What is painted of a note whose cells are ``rect``, its signs left out."""
        m = self._grid.metrics
        return QRect(rect.left(), rect.top() + m.sign_height, rect.width(), m.pill)

    def sound(self, lesson: Lesson, spot: Spot) -> list[QRect]:
        """The cells of the note that starts at a spot and of its ties, in a lesson whose bars
        stand where those of the grid do.
        """
        grid = self._grid
        draft = Draft(lesson)
        note = draft.at(spot.section, spot.bar, spot.part, spot.onset, spot.course)
        if note is None:
            return []
        found = []
        columns, step = grid.grid_model.columns, grid.metrics.step
        for section, bar, piece in run(draft, spot.section, spot.bar, spot.part, note):
            head = lesson.sections[section].bars[bar].head
            first = columns.bar_column(section, bar)
            row = grid.grid_model.rows.of_string(spot.part, piece.course)
            left = round((first + column_in_bar(head, piece.onset)) * step)
            right = round(columns.column(section, bar, piece.end) * step)
            found.append(QRect(left, grid.tops[row], right - left, grid.metrics.string))
        return found

    # Cues

    def cue(self, where: QPoint) -> CueHit | None:
        """The cue at a point of a part's lane, of several the last painted."""
        grid = self._grid
        model, reach = grid.grid_model, grid.metrics.unit * 2 // 3
        row = model.rows[self.row_at(where.y())]
        place = self._bar_at(where.x())
        if row.kind is not RowKind.LANE or place is None:
            return None
        section = model.lesson.sections[place.section]
        part = model.lesson.parts[row.part].id
        for cue in reversed(section.head.cues):
            if cue.part not in (None, part):
                continue
            first, last = self.cue_ends(place.section, cue.start, cue.end)
            if not first - reach <= where.x() <= last + reach:
                continue
            near_start, near_end = where.x() - first, last - where.x()
            if min(near_start, near_end) > reach:
                return CueHit(place.section, cue, Zone.BODY)
            return CueHit(place.section, cue, Zone.START if near_start < near_end else Zone.END)
        return None

    def cue_ends(self, section: int, start: Place, end: Place | None) -> tuple[int, int]:
        """Where a cue begins and ends."""
        bars = len(self._grid.grid_model.lesson.sections[section].bars)
        last = Place(bars, 0) if end is None else end
        return (
            self.line_x(Moment(section, start.bar, start.tick)),
            self.line_x(Moment(section, last.bar, last.tick)),
        )
