"""The painting of the grid's cells. It knows pixels and cells; what they mean is decided before."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter

from chalkfret.desk.riffs.cells import (
    DegreeCell,
    NoteCell,
    degree_cells,
    note_cells,
    slides_down,
)
from chalkfret.desk.riffs.columns import BarPlace, Columns, beat_columns
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.rows import RowKind, Rows
from chalkfret.model import Lesson, Place, Section, setup_in
from chalkfret.theory.degrees import Role
from chalkfret.theory.names import between

_CENTRE = Qt.AlignmentFlag.AlignCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter

_LEAST_TICKS = 0.75  # zoom from which steps have ticks


class CellPainter:
    """Paints the bars of a lesson in the coordinates of the whole grid."""

    def __init__(
        self, painter: QPainter, metrics: Metrics, columns: Columns, rows: Rows, tops: Sequence[int]
    ) -> None:
        self._painter, self._m = painter, metrics
        self._columns, self._rows, self._tops = columns, rows, tops
        self._left = self._right = 0  # of the area that is painted

    def paint(self, lesson: Lesson, area: QRect) -> None:
        """Paint what lies in ``area``."""
        step = self._m.step
        self._left, self._right = area.left(), area.right()
        shown = self._rows_in(area)
        places = list(self._columns.bars_between(area.left() // step, area.right() // step))
        self._painter.fillRect(area, self._m.surface)
        for place in places:
            self._bar_lines(place, shown)
        for place in places:
            self._bar_music(lesson, place, shown)
        for section in {place.section: None for place in places}:
            self._cues(lesson, section, shown, area)
        self._end_line(area)

    def _rows_in(self, area: QRect) -> list[int]:
        return [
            index
            for index in range(len(self._rows))
            if self._tops[index] <= area.bottom() and self._tops[index + 1] > area.top()
        ]

    # Lines

    def _bar_lines(self, place: BarPlace, shown: Sequence[int]) -> None:
        painter, m = self._painter, self._m
        left, right = place.column * m.step, (place.column + place.steps) * m.step
        beats = set(beat_columns(place.bar.head))
        # Very small steps are seen by the notes on them; their ticks would be a grey mist.
        tick, has_ticks = m.px(2), m.zoom > _LEAST_TICKS
        first = max(1, (self._left - left) // m.step) if has_ticks else place.steps
        last = min(place.steps, (self._right - left) // m.step + 2)
        for index in shown:
            kind = self._rows[index].kind
            top, bottom = self._tops[index], self._tops[index + 1]
            if kind is RowKind.LANE:
                continue
            if kind is RowKind.FOLDED:
                y = (top + bottom) // 2
                painter.setPen(m.string_pen)
                painter.drawLine(left, y, right, y)
            if kind is RowKind.STRING:
                y = self._line_of(index)
                painter.setPen(m.string_pen)
                painter.drawLine(left, y, right, y)
                painter.setPen(m.faint_pen)
                for column in range(first, last):
                    if column not in beats:
                        x = left + column * m.step
                        painter.drawLine(x, y - tick, x, y + tick)
            painter.setPen(m.faint_pen)
            for column in beats:
                x = left + column * m.step
                painter.drawLine(x, top, x, bottom)
            painter.setPen(m.section_pen if place.number == 0 else m.bar_pen)
            painter.drawLine(left, top, left, bottom)

    def paint_repeats(self, area: QRect) -> None:
        """Paint the signs of repeats, over the notes and the cursor at their bar lines."""
        step, rows = self._m.step, self._rows
        parts = {rows[index].part: None for index in self._rows_in(area)}
        for place in self._columns.bars_between(area.left() // step - 1, area.right() // step + 1):
            if place.bar.head.repeat_open:
                self._repeat(place.column * step, 1, parts)
            if place.bar.head.repeat_close:
                self._repeat((place.column + place.steps) * step, -1, parts)

    def _repeat(self, x: int, way: int, parts: Iterable[int]) -> None:
        """A thick line with two dots a part, to the right (``way`` 1) or the left of a bar line."""
        painter, m = self._painter, self._m
        thick, dot = max(m.px(3), m.unit * 3 // 5), m.unit * 0.45
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(m.ink)
        for part in parts:
            strings = self._rows.strings_of(part)
            if not strings:
                continue  # folded
            top, bottom = self._tops[strings[0]], self._tops[strings[-1] + 1]
            painter.fillRect(x if way > 0 else x - thick, top, thick, bottom - top, m.ink)
            upper = max(0, len(strings) // 2 - 1)
            for string in (upper, len(strings) - upper):
                y = self._tops[strings[0] + string]
                painter.drawEllipse(QPointF(x + way * (thick + dot * 1.7), y), dot, dot)

    def _end_line(self, area: QRect) -> None:
        end = self._columns.total * self._m.step
        if area.right() >= end - 2:
            self._painter.setPen(self._m.section_pen)
            self._painter.drawLine(end, area.top(), end, min(area.bottom(), self._tops[-1]))

    def _line_of(self, row: int) -> int:
        """The y of the string's line: the middle of the notes on it."""
        return self._tops[row] + self._m.sign_height + self._m.pill // 2

    # Notes and degrees

    def _bar_music(self, lesson: Lesson, place: BarPlace, shown: Sequence[int]) -> None:
        section = lesson.sections[place.section]
        bar = section.bars[place.number]  # the lesson's own: it may be one that a drag would make
        left = place.column * self._m.step
        for part_index in {self._rows[index].part: None for index in shown}:
            notes = bar.notes[part_index]
            if not notes:
                continue
            setup = setup_in(section, lesson.parts[part_index])
            what = (notes, bar.head, setup, section.head.key)
            if self._rows.is_folded(part_index):
                self._folded(note_cells(*what), left, part_index, len(setup.courses))
                continue
            for cell in note_cells(*what):
                if not self._meets(left, cell.start, cell.room):
                    continue
                row = self._rows.of_string(part_index, cell.course)
                if row in shown:
                    self._note(cell, left, row)
                    if cell.slide is not None:
                        falls = slides_down(section, place.number, part_index, cell.slide)
                        self._slide(left + cell.start * self._m.step, row, falls)
            row = self._rows.of_part(part_index)[-1]
            if row in shown:
                around = between(section, place.number, part_index)
                for degrees in degree_cells(around, *what[1:]):
                    if self._meets(left, degrees.start, degrees.until):
                        self._degree(degrees, left, row)

    def _meets(self, left: int, start: float, end: float) -> bool:
        """Whether what lies between two columns of a bar reaches into the painted area."""
        step = self._m.step
        return left + start * step - step <= self._right and left + end * step >= self._left

    def _note(self, cell: NoteCell, left: int, row: int) -> None:
        painter, m = self._painter, self._m
        top = self._tops[row] + m.sign_height
        fret, half = m.fret_text(cell.fret)
        x, width = self._sides(cell, left, 2 * half)
        edge = m.px(1)
        pill = QRectF(x + edge, top + edge / 2, width, m.pill - edge)
        painter.setPen(m.edge_pens[cell.role])
        painter.setBrush(m.tints[cell.role])
        painter.drawRoundedRect(pill, m.px(3), m.px(3))
        if cell.role is not Role.PLAIN:
            band = max(m.px(3), m.unit // 2)
            painter.fillRect(
                QRectF(x + 3 * edge, top + m.pill - band - edge, width - 4 * edge, band),
                m.hatches[cell.role],
            )
        painter.setPen(m.soft_pen if cell.tied else m.ink_pen)
        painter.setFont(m.fret_font)
        middle = min(m.step, width + 2 * edge) / 2
        painter.drawStaticText(QPointF(x + middle - half, top + m.fret_drop), fret)
        if cell.tied:
            self._bow(x, top)
        if cell.signs:
            self._signs(cell, x, top)

    def _folded(self, cells: Sequence[NoteCell], left: int, part: int, courses: int) -> None:
        """The notes of a folded part: a small stroke each, as high as its string lies."""
        painter, m = self._painter, self._m
        row = self._rows.of_part(part)[0]
        thick, room = m.px(2), m.lane - m.unit
        top = self._tops[row] + m.unit // 2
        for cell in cells:
            if self._meets(left, cell.start, cell.end):
                x = round(left + cell.start * m.step) + m.px(1)
                width = max(m.px(3), round((cell.end - cell.start) * m.step) - m.px(2))
                y = top + room * (cell.course - 1) // max(1, courses - 1) - thick // 2
                painter.fillRect(x, y, width, thick, m.soft)
                painter.fillRect(x, y - thick, thick, thick * 3, m.ink)

    def _sides(self, cell: NoteCell, left: int, digits: float) -> tuple[float, float]:
        """The x of a note and how wide it is: never less than its digits, for which it begins
        earlier where the next note on its string stands too near.
        """
        step, gap = self._m.step, self._m.px(2)
        x, width = left + cell.start * step, (cell.end - cell.start) * step - gap
        if width >= digits:
            return x, width
        return min(x, left + cell.room * step - digits - gap), digits

    def _slide(self, x: float, row: int, falls: bool) -> None:
        """The stroke of a slide into a note, on its left edge."""
        px, top = self._m.px, self._tops[row] + self._m.sign_height
        low, high = top + self._m.pill - px(4), top + px(4)
        self._painter.setPen(self._m.stroke_pen)
        start, end = (high, low) if falls else (low, high)
        self._painter.drawLine(QPointF(x - px(5), start), QPointF(x + px(4), end))

    def _signs(self, cell: NoteCell, x: float, top: int) -> None:
        painter, m = self._painter, self._m
        room = int((cell.room - cell.start) * m.step) - m.px(2)
        text = cell.signs
        if m.sign_fm.horizontalAdvance(text) > room:
            text = m.sign_fm.elidedText(text, Qt.TextElideMode.ElideRight, room)
        painter.setFont(m.sign_font)
        painter.setPen(m.ink_pen)
        painter.drawText(QPointF(x + m.px(2), top - m.px(1)), text)

    def _bow(self, x: float, top: int) -> None:
        self._painter.setPen(self._m.stroke_pen)
        size = self._m.unit * 2.5
        bow = QRectF(x - size / 2, top - self._m.px(5), size, size * 0.6)
        self._painter.drawArc(bow, 15 * 16, 150 * 16)

    def _degree(self, cell: DegreeCell, left: int, row: int) -> None:
        painter, m = self._painter, self._m
        top, height = self._tops[row], m.degrees
        x = left + cell.start * m.step
        wide = (cell.until - cell.start) * m.step
        needed = m.text_fm.horizontalAdvance(cell.text)
        width = max(m.step, min(wide, needed + m.unit))
        text = cell.text
        if needed > wide:
            text = m.text_fm.elidedText(text, Qt.TextElideMode.ElideRight, int(wide) - m.px(2))
        painter.setFont(m.strong_font if cell.role is Role.HOME else m.text_font)
        painter.setPen(m.ink_pen if cell.role is not Role.PLAIN else m.soft_pen)
        painter.drawText(QRectF(x, top, width, height), _CENTRE, text)

    # Cues

    def _cues(self, lesson: Lesson, index: int, shown: Sequence[int], area: QRect) -> None:
        section = lesson.sections[index]
        for row in shown:
            if self._rows[row].kind is not RowKind.LANE:
                continue
            part = lesson.parts[self._rows[row].part].id
            for cue in section.head.cues:
                if cue.part in (None, part):
                    first = self._cue_x(section, index, cue.start)
                    last = self._cue_x(section, index, cue.end)
                    if first <= area.right() and last >= area.left():
                        self._cue(cue.label, first, last, row)

    def _cue_x(self, section: Section, index: int, place: Place | None) -> int:
        bars = len(section.bars)
        if place is None or place.bar >= bars:
            return self._columns.bar_column(index, bars) * self._m.step
        return round(self._columns.column(index, place.bar, place.tick) * self._m.step)

    def _cue(self, label: str, first: int, last: int, row: int) -> None:
        painter, m = self._painter, self._m
        top = self._tops[row] + m.unit // 2
        bottom = self._tops[row] + m.lane - m.unit // 2
        painter.setPen(m.soft_pen)
        left, right = first + m.px(1), last - m.px(2)
        painter.drawLine(left, top, left, bottom)
        painter.drawLine(left, bottom, right, bottom)
        painter.drawLine(right, bottom, right, bottom - m.unit // 2)
        painter.setPen(m.ink_pen)
        painter.setFont(m.text_font)
        room = last - first - m.unit
        text = m.text_fm.elidedText(label, Qt.TextElideMode.ElideRight, room)
        painter.drawText(QRect(left + m.unit // 2, top, room, bottom - top), _LEFT, text)
