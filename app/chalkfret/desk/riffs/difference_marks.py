"""The marks of differences in the grid: a band over the strings of the part that is spoken of.

Where the part does otherwise than the other one, the band is hatched and says how in a few words;
bars in which it is silent are hatched as a whole, and the notes that differ have a dashed line
under them.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QPainter

from chalkfret.arrange.differences import Difference, Kind, difference_in
from chalkfret.desk.riffs.columns import BarPlace, Columns, column_in_bar
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.rows import Rows
from chalkfret.model import Lesson, Notes
from chalkfret.words.differences import short_words

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class DifferencePainter:
    """Paints the differences of a pair of parts in the coordinates of the whole grid."""

    def __init__(
        self, painter: QPainter, metrics: Metrics, columns: Columns, rows: Rows, tops: Sequence[int]
    ) -> None:
        self._painter, self._m = painter, metrics
        self._columns, self._rows, self._tops = columns, rows, tops

    def paint(self, lesson: Lesson, pair: tuple[int, int], area: QRect) -> None:
        """Paint what lies in ``area`` of what the second part of the pair does otherwise."""
        step, rows = self._m.step, self._rows.of_part(pair[1])
        if self._tops[rows[0]] > area.bottom() or self._tops[rows[-1] + 1] < area.top():
            return
        for place in self._columns.bars_between(area.left() // step, area.right() // step):
            section = lesson.sections[place.section]
            found = difference_in(section, place.bar, lesson.parts, *pair)
            if found.what.kind is not Kind.SAME:
                goes_on = place.number > 0 and found.what == (
                    difference_in(section, section.bars[place.number - 1], lesson.parts, *pair).what
                )
                self._bar(place, pair[1], found.what, goes_on)
                self._notes(place, pair[1], found.notes)

    def _bar(self, place: BarPlace, part: int, what: Difference, goes_on: bool) -> None:
        painter, m = self._painter, self._m
        left, width = place.column * m.step, place.steps * m.step
        bottom = self._tops[self._rows.of_part(part)[0] + 1]
        band = QRect(left, bottom - m.band, width, m.band - m.px(1))
        painter.fillRect(band, m.band_fill)
        strings = self._rows.strings_of(part)
        if what.kind is Kind.SILENT and strings:
            top, end = self._tops[strings[0]], self._tops[strings[-1] + 1]
            painter.fillRect(QRect(left, top, width, end - top), m.silent_hatch)
        painter.setPen(m.soft_pen)
        painter.drawLine(band.bottomLeft(), band.bottomRight())
        if goes_on:
            painter.fillRect(band, m.difference_hatch)
            return
        painter.setFont(m.sign_font)
        words = f"≠ {short_words(what)}"
        room = width - m.unit
        words = m.sign_fm.elidedText(words, Qt.TextElideMode.ElideRight, room)
        taken = m.sign_fm.horizontalAdvance(words) + m.unit
        painter.fillRect(band.adjusted(taken, 0, 0, 0), m.difference_hatch)
        painter.setPen(m.ink_pen)
        painter.drawText(band.adjusted(m.unit // 2, 0, 0, 0), _LEFT, words)

    def _notes(self, place: BarPlace, part: int, notes: Notes) -> None:
        painter, m = self._painter, self._m
        if self._rows.is_folded(part):
            return
        painter.setPen(m.difference_pen)
        for note in notes:
            row = self._rows.of_string(part, note.course)
            x = (place.column + column_in_bar(place.bar.head, note.onset)) * m.step
            y = self._tops[row] + m.sign_height + m.pill + m.px(1)
            painter.drawLine(QPointF(x + m.px(2), y), QPointF(x + m.step - m.px(3), y))
