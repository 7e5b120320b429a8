"""The mouse in the section strip: a press chooses; ends, upper edges and sections are dragged."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPen

from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.mouse.drag import CTRL, Hand
from chalkfret.desk.riffs.mouse.rename import Named
from chalkfret.desk.riffs.mouse.strip_drags import DragEnd, DragTempo, Reorder, StripDrag
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.look import Look
    from chalkfret.desk.riffs.strip import SectionStrip


class Part(Enum):
    """Where on a section's block the pointer is."""

    BODY = "body"
    END = "end"
    TEMPO = "tempo"


_SHAPES = {
    Part.BODY: Qt.CursorShape.ArrowCursor,
    Part.END: Qt.CursorShape.SizeHorCursor,
    Part.TEMPO: Qt.CursorShape.SizeVerCursor,
}
_DRAGS: dict[Part, type[StripDrag]] = {
    Part.BODY: Reorder,
    Part.END: DragEnd,
    Part.TEMPO: DragTempo,
}


class StripMouse(QObject):
    """All that the mouse does in the strip."""

    name_wanted = Signal(object, int, object, QRect)  # Named, section, the widget, where on it
    hinted = Signal(str)

    def __init__(self, strip: SectionStrip, document: Document, look: Look) -> None:
        super().__init__(strip)
        self._strip, self._document, self._look = strip, document, look
        self.hand = Hand(self, document)
        self._hovered: tuple[int, Part] | None = None
        self._last = QPoint()
        self._looking = False  # the bars in small are being gone along
        self.hand.changed.connect(self._repaint)
        self.hand.hinted.connect(self.hinted)

    def part_at(self, where: QPoint) -> tuple[int, Part] | None:
        """The section under a point, and what of its block: an end belongs to what ends there."""
        reach = self._look.unit(0.6)
        rects = self._strip.rects()
        for index, rect in enumerate(rects):
            if abs(where.x() - rect.right()) <= reach:
                return index, Part.END
        found = self._strip.section_at(where)
        if found is None:
            return None
        first, last = self._strip.tempo_lines()[found]
        share = (where.x() - first.x()) / max(1.0, last.x() - first.x())
        y = first.y() + (last.y() - first.y()) * share
        return found, Part.TEMPO if abs(where.y() - y) <= reach else Part.BODY

    def press(self, event: QMouseEvent) -> None:
        """A button went down; the section there is chosen."""
        if self.hand.abandon() or event.button() is not Qt.MouseButton.LeftButton:
            return
        self._strip.reckon()  # what is shown may be a moment old
        self._last = event.position().toPoint()
        found = self.part_at(self._last)
        if found is None:
            return
        index, part = found
        self._looking = part is Part.BODY and self._go_along()
        if self._looking:
            return
        self._strip.chosen.emit(index)
        drag = _DRAGS[part](self._document, self._strip, self._metrics(), index, self._last)
        self.hand.press(self._last, drag)

    def move(self, event: QMouseEvent) -> None:
        """The pointer moved."""
        self._last = event.position().toPoint()
        if self._looking:
            self._go_along()
        elif event.buttons():
            self.hand.move(self._last, event.modifiers())
        else:
            self._hover()

    def release(self, event: QMouseEvent) -> None:
        """A button came up."""
        self._looking = False
        if event.button() is Qt.MouseButton.LeftButton and self.hand.release():
            self._strip.reckon()

    def _go_along(self) -> bool:
        """Show the bar in small that is under the pointer; False where there is none."""
        place = self._strip.place_at(self._last)
        if place is not None:
            self._strip.placed.emit(*place)
        return place is not None

    def double_click(self, event: QMouseEvent) -> None:
        """The letter or the name there is edited."""
        where = event.position().toPoint()
        index = self._strip.section_at(where)
        if index is None:
            return
        m, rect = self._metrics(), self._strip.rects()[index]
        letter = self._document.lesson.sections[index].head.letter
        border = rect.left() + m.strong_fm.horizontalAdvance(letter) + 2 * m.unit
        high = m.text_fm.height() + m.unit
        top = rect.center().y() - high // 2
        if where.x() < border:
            box = QRect(rect.left(), top, border - rect.left(), high)
            self.name_wanted.emit(Named.LETTER, index, self._strip, box)
        else:
            box = QRect(border, top, rect.right() - border, high)
            self.name_wanted.emit(Named.SECTION, index, self._strip, box)

    def key(self, event: QKeyEvent) -> bool:
        """A key went down or up; whether it was for the mouse."""
        down = event.type() == QEvent.Type.KeyPress
        if event.key() == Qt.Key.Key_Escape and down:
            return self.hand.abandon()
        if event.key() != Qt.Key.Key_Control or self.hand.drag is None:
            return False
        held = event.modifiers() | CTRL if down else event.modifiers() & ~CTRL
        self.hand.hold(held, self._last)
        return True

    def gone(self) -> None:
        """The focus went, or the pointer."""
        self.hand.abandon()

    def leave(self) -> None:
        """The pointer left the strip."""
        if self._hovered is not None:
            self._hovered = None
            self.hinted.emit("")
            self._strip.update()

    def _hover(self) -> None:
        found = self.part_at(self._last)
        if found is not None and found[1] is Part.BODY:
            found = None
        if found != self._hovered:
            self._hovered = found
            self.hinted.emit(self._words())
            self._strip.update()
        self._show_shape()

    def _words(self) -> str:
        if self._hovered is None:
            return ""
        if self._hovered[1] is Part.END:
            return _("Drag: bars come or go at the end; Ctrl: how often it is played")
        return _("Drag: the tempo")

    def _metrics(self) -> Metrics:
        return self._strip.metrics

    def _repaint(self) -> None:
        self._strip.update()
        self._show_shape()

    def _show_shape(self) -> None:
        drag = self.hand.drag
        shape = _SHAPES[self._hovered[1]] if self._hovered is not None else _SHAPES[Part.BODY]
        if drag is not None:
            shape = Qt.CursorShape.ForbiddenCursor if drag.refusal else drag.shape
        if self._strip.cursor().shape() is not shape:
            self._strip.setCursor(shape)

    def paint(self, painter: QPainter) -> None:
        """Paint the drag, or the edge under the pointer that could be dragged."""
        if self.hand.drag is not None:
            self.hand.paint(painter)
            return
        if self._hovered is None or self._hovered[0] >= len(self._strip.rects()):
            return
        index, part = self._hovered
        m, rect = self._metrics(), self._strip.rects()[index]
        painter.setPen(QPen(m.blue, m.px(2)))
        if part is Part.END:
            painter.drawLine(rect.right(), rect.top(), rect.right(), rect.bottom())
        else:
            painter.drawLine(*self._strip.tempo_lines()[index])
