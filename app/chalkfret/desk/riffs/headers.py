"""The grid's two edges: the ruler of sections, bars and beats, and the names of strings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHeaderView

from chalkfret.desk.riffs.columns import BarPlace, beat_columns, tuplets
from chalkfret.desk.riffs.mouse.edges import MouseNames, MouseRuler
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.desk.riffs.strip_words import tempo_text
from chalkfret.model import BarHead, Bars, setup_in
from chalkfret.theory.naming import shown
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class Ruler(MouseRuler):
    """Sections above, bars and beats below; the names stay in sight as their section scrolls."""

    def __init__(self, grid: Grid) -> None:
        super().__init__(Qt.Orientation.Horizontal, grid)
        self._grid = grid
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def sizeHint(self) -> QSize:
        return QSize(self._grid.metrics.step, self._grid.metrics.ruler)

    def paintEvent(self, event: QPaintEvent) -> None:
        grid, m, step = self._grid, self._grid.metrics.edge, self._grid.metrics.step
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), m.panel)
        painter.translate(-self.offset(), 0)
        area = event.rect().translated(self.offset(), 0)
        columns = grid.grid_model.columns
        section = -1
        for place in columns.bars_between(area.left() // step - 1, area.right() // step):
            self._bar(painter, place)
            if place.section != section:
                section = place.section
                self._section(painter, section)
        painter.setPen(m.bar_pen)
        painter.drawLine(area.left(), m.ruler - 1, area.right(), m.ruler - 1)
        painter.end()

    def _section(self, painter: QPainter, index: int) -> None:
        grid, m, step = self._grid, self._grid.metrics.edge, self._grid.metrics.step
        lesson, columns = grid.grid_model.lesson, grid.grid_model.columns
        section = lesson.sections[index]
        left = columns.bar_column(index, 0) * step
        plate, title = self.title_boxes(index)
        here = index == grid.here.section
        painter.setPen(m.section_pen)
        painter.drawLine(left, 0, left, m.ruler)
        painter.setFont(m.strong_font)
        painter.fillRect(plate, m.ochre if here else m.lines)
        painter.setPen(m.surface if here else m.ink)
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, section.head.letter)
        words = "  ".join(filter(None, (section.head.name, tempo_text(section.head.tempo))))
        painter.setPen(m.ink_pen)
        painter.setFont(m.text_font)
        text = m.text_fm.elidedText(words, Qt.TextElideMode.ElideRight, title.width())
        painter.drawText(title, _LEFT, text)

    def _bar(self, painter: QPainter, place: BarPlace) -> None:
        grid, m, step = self._grid, self._grid.metrics.edge, self._grid.metrics.step
        left, top = place.column * step, m.ruler_top
        height = m.ruler - top
        here = (place.section, place.number) == grid.here.time[:2]
        painter.setPen(m.section_pen if place.number == 0 else m.bar_pen)
        painter.drawLine(left, top, left, m.ruler)
        painter.setFont(m.strong_font)
        painter.setPen(m.ochre if here else m.ink)
        number = str(place.number + 1)
        painter.drawText(QRect(left + m.px(5), top, step * 2, height), _LEFT, number)
        taken = left + m.px(5) + m.strong_fm.horizontalAdvance(number) + m.unit
        taken = self._ending(painter, place, taken)
        for first, count in tuplets(place.bar.head):
            self._tuplet(painter, left + first * step, count, taken)
        painter.setFont(m.text_font)
        painter.setPen(m.soft_pen)
        for beat, column in enumerate(beat_columns(place.bar.head)):
            x = left + column * step
            if beat and x > taken:
                box = QRect(x, top, step, height)
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(beat + 1))
        words = self._bar_words(place)
        if words:
            painter.setPen(m.ink_pen)
            first_beats = beat_columns(place.bar.head)
            limit = first_beats[1] if len(first_beats) > 1 else place.steps
            room = left + limit * step - taken
            if tuplets(place.bar.head)[:1] == ((0, limit),):
                room -= (limit * step + m.unit * 4) // 2  # the number stands in the middle
            text = m.text_fm.elidedText(words, Qt.TextElideMode.ElideRight, room)
            painter.drawText(QRect(taken, top, room, height), _LEFT, text)

    def _ending(self, painter: QPainter, place: BarPlace, taken: int) -> int:
        """The bracket over an ending, its number where it begins; where more can be written."""
        grid, m, step = self._grid, self._grid.metrics.edge, self._grid.metrics.step
        passes = place.bar.head.passes
        if not passes:
            return taken
        bars = grid.grid_model.lesson.sections[place.section].bars
        goes_on = place.number > 0 and _same_ending(bars, place.number - 1)
        gap = m.px(3)
        left, top = place.column * step, m.ruler_top + m.px(1)
        right = left + place.steps * step - gap
        last = place.number + 1 == len(bars) or not _same_ending(bars, place.number)
        painter.setPen(m.stroke_pen)
        start = left if goes_on else taken
        painter.drawLine(start, top, right if last else right + gap, top)
        if last:
            painter.drawLine(right, top, right, top + m.unit)
        if goes_on:
            return taken
        painter.drawLine(start, top, start, m.ruler - gap)
        words = "".join(f"{number}." for number in passes)
        painter.setFont(m.strong_font)
        painter.setPen(m.ink_pen)
        wide = m.strong_fm.horizontalAdvance(words)
        start += m.px(4)
        painter.drawText(QRect(start, top, wide + 1, m.ruler - top), _LEFT, words)
        return start + wide + m.unit

    def _tuplet(self, painter: QPainter, left: int, count: int, taken: int) -> None:
        """The number of a beat’s steps amid a thin bracket, right of what is ``taken``."""
        m, step = self._grid.metrics.edge, self._grid.metrics.step
        gap, foot = m.px(3), m.px(2)
        right, bottom = left + count * step - gap, m.ruler - m.px(4)
        middle = (left + gap + right) // 2
        left = max(left + gap, taken)
        wide = m.sign_fm.horizontalAdvance(str(count)) + m.unit
        painter.setPen(m.soft_pen)
        if left < middle - wide // 2:
            painter.drawLine(left, bottom, left, bottom - foot)
            painter.drawLine(left, bottom, middle - wide // 2, bottom)
        painter.drawLine(middle + wide // 2, bottom, right, bottom)
        painter.drawLine(right, bottom, right, bottom - foot)
        painter.setFont(m.sign_font)
        box = QRect(middle - wide // 2, m.ruler_top, wide, m.ruler - m.ruler_top - foot)
        painter.drawText(box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom,
                         str(count))  # fmt: skip

    def _bar_words(self, place: BarPlace) -> str:
        """The meter where it changes, and how often and when the bar is played."""
        head: BarHead = place.bar.head
        lesson = self._grid.grid_model.lesson
        words = []
        bars = lesson.sections[place.section].bars
        before = bars[place.number - 1].head.meter if place.number else None
        if head.meter != before:
            words.append(f"{head.meter.count}/{head.meter.unit}")
        if head.repeat_close:
            words.append(f"×{head.repeat_close}")
        if head.pauses:
            words.append(_("pause"))
        return " ".join(words)


def _same_ending(bars: Bars, bar: int) -> bool:
    """Whether an ending goes on from a bar to the next one."""
    head = bars[bar].head
    return head.passes == bars[bar + 1].head.passes and not head.repeat_close


class Names(MouseNames):
    """The parts and their strings, as tuned in the cursor's section."""

    def __init__(self, grid: Grid) -> None:
        super().__init__(Qt.Orientation.Vertical, grid)
        self._grid = grid
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def sizeHint(self) -> QSize:
        return QSize(self._grid.metrics.names_width, self._grid.metrics.string)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        m = self._grid.metrics.edge
        painter.fillRect(event.rect(), m.panel)
        area = event.rect().translated(0, self.offset())
        painter.translate(0, -self.offset())
        tops = self._grid.tops
        for row in range(len(self._grid.grid_model.rows)):
            if tops[row] <= area.bottom() and tops[row + 1] >= area.top():
                self._name(painter, row, tops[row], tops[row + 1])
        painter.setPen(m.bar_pen)
        painter.drawLine(self.width() - 1, area.top(), self.width() - 1, area.bottom())
        painter.end()

    def _name(self, painter: QPainter, row: int, top: int, bottom: int) -> None:
        grid, m, cells = self._grid, self._grid.metrics.edge, self._grid.metrics
        lesson, cursor = grid.grid_model.lesson, grid.here
        kind, part, course = grid.grid_model.rows[row]
        box = QRect(m.unit, top, self.width() - m.unit * 2, bottom - top)
        if kind in (RowKind.LANE, RowKind.FOLDED):
            self._part(painter, QRect(box.left(), top, box.width(), cells.lane), part)
            return
        if kind is RowKind.DEGREES:
            painter.setFont(m.sign_font)
            painter.setPen(m.soft_pen)
            painter.drawText(box, _RIGHT, _("degree"))
            return
        here = (part, course) == (cursor.part, cursor.course)
        setup = setup_in(lesson.sections[cursor.section], lesson.parts[part])
        string = setup.course(course).strings[0]
        pitch = shown(string.pitch, lesson.head.note_naming)
        line = QRect(box.left(), top + cells.sign_height, box.width(), cells.pill)
        painter.setFont(m.text_font)
        painter.setPen(m.soft_pen)
        painter.drawText(line, _RIGHT, f"{pitch} {string.cents:+g}" if string.cents else pitch)
        painter.setFont(m.strong_font if here else m.text_font)
        painter.setPen(m.ochre if here else m.ink)
        painter.drawText(line, _LEFT, str(course))

    def _part(self, painter: QPainter, box: QRect, part: int) -> None:
        """A part's name; where there are several, after a corner that points down, or to the right
        where the part is folded.
        """
        grid, m = self._grid, self._grid.metrics.edge
        parts = grid.grid_model.lesson.parts
        if len(parts) > 1:
            side, middle = m.unit, box.center().y()
            painter.setPen(m.pressed_pen)
            x = box.left()
            if grid.folds.is_folded(part):
                x += side // 4
                corner = ((x, middle - side // 2), (x + side // 2, middle), (x, middle + side // 2))
            else:
                y = middle - side // 4
                corner = ((x, y), (x + side // 2, y + side // 2), (x + side // 2 * 2, y))
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.drawPolyline([QPointF(*point) for point in corner])
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            box.setLeft(box.left() + side + m.unit * 3 // 4)
        painter.setFont(m.strong_font)
        painter.setPen(m.ink_pen)
        text = m.strong_fm.elidedText(parts[part].name, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, _LEFT, text)

    def part_at(self, y: int) -> int | None:
        """The part whose name stands at a height of the viewport, to be folded or unfolded."""
        grid = self._grid
        y += self.offset()
        for index, row in enumerate(grid.grid_model.rows.all):
            top = grid.tops[index]
            if row.kind in (RowKind.LANE, RowKind.FOLDED) and top <= y < top + grid.metrics.lane:
                return row.part
        return None
