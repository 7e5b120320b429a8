"""A slide or a bend, drawn by its shape from the knob over a note's end.

Sideways to the next or the last note on its string: a slide from the earlier to the later one. Up
over the note: a bend, a semitone a step of the way; down again, it is released to there. With Ctrl
the steps are quarter tones, with Shift the note is bent before it is struck.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from chalkfret.desk.riffs.mouse.drag import CTRL, SHIFT, Drag, Held
from chalkfret.desk.riffs.mouse.marking import outline, tag
from chalkfret.desk.riffs.mouse.places import NoteHit, Places
from chalkfret.desk.riffs.mouse.wording import moment_of, where_words
from chalkfret.edits import drawing
from chalkfret.edits.place import Spot
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.grid import Grid

_STEP_UNITS: Final = 1.75  # of the way up, a semitone
_MOST: Final = 12  # semitones
_FRACTIONS: Final = {0: "", 1: "¼", 2: "½", 3: "¾"}


def tones(cents: int) -> str:
    """Cents as players count a bend, in whole tones: ``½``, ``1``, ``1½``."""
    whole, quarters = divmod(round(cents / 50), 4)
    if not whole and not quarters:
        return "0"
    return f"{whole or ''}{_FRACTIONS[quarters]}"


class DrawShape(Drag):
    """From one note: to another a slide, upward a bend."""

    reach = 3  # pixels: it is a handle
    shape = Qt.CursorShape.CrossCursor
    scrolls_down = False

    def __init__(self, document: Document, grid: Grid, hit: NoteHit) -> None:
        super().__init__(document)
        self._grid, self._places = grid, Places(grid)
        self._spot, self._rect = hit.spot, hit.rect
        self._knob = self._places.knob(hit.rect).center()
        self._most = self._now = 0  # cents: the highest of the way, and where the pointer is
        self._other: QRect | None = None  # the note that a slide leads to
        self._pointer = self._knob
        self._slides = False

    @property
    def _per_cent(self) -> float:
        return self._grid.metrics.unit * _STEP_UNITS / 100

    def move(self, where: QPoint, held: Held) -> None:
        self._pointer = where
        self._slides = self._is_aside(where)
        if self._slides:
            self._most = 0
            self._slide(where)
        else:
            self._bend(where, held)

    def _is_aside(self, where: QPoint) -> bool:
        """Whether the pointer goes sideways: off the note, and where it went up, well off it."""
        went_up = self._knob.y() - where.y() > 100 * self._per_cent
        aside = self._grid.metrics.step if went_up else 0
        return not self._rect.left() - aside <= where.x() <= self._rect.right() + aside

    def _slide(self, where: QPoint) -> None:
        self._other = None
        middle = self._places.pill(self._rect).center().y()
        hit = self._places.note(QPoint(where.x(), middle))
        if hit is None:
            self.refuse(_("A slide leads to another note on the same string: draw it there."))
            return
        self._other = hit.rect
        to = hit.spot
        text = _("Draw a slide in section {section}, bar {bar}")
        self.propose(
            text.format(**where_words(self.lesson, moment_of(to))),
            _("Slide from one note to the other"),
            lambda lesson: drawing.draw_slide(lesson, self._spot, to),
        )

    def _bend(self, where: QPoint, held: Held) -> None:
        step = 50 if held & CTRL else 100
        way = (self._knob.y() - where.y()) / self._per_cent
        self._now = min(_MOST * 100, max(0, round(way / step) * step))
        self._most = max(self._most, self._now)
        before = bool(held & SHIFT)
        spot: Spot = self._spot
        text = _("Draw a bend in section {section}, bar {bar}")
        most, last = self._most, self._now
        if not most:
            self.preview, self.refusal = None, ""
            self.words = _("Up: a bend. Sideways to another note: a slide.")
            return
        self.propose(
            text.format(**where_words(self.lesson, moment_of(spot))),
            self._bend_words(before),
            lambda lesson: drawing.draw_bend(lesson, spot, most, last, before=before),
        )

    def _bend_words(self, before: bool) -> str:
        words = _("Bend, in tones: {most}. Ctrl: finer, Shift: before it is struck")
        if self._now < self._most:
            words = _("Bend, in tones: {most}, back to {last}. Shift: before it is struck")
        if before:
            words = _("Bent before it is struck, in tones: {most}")
            if self._now < self._most:
                words = _("Bent before it is struck, in tones: {most}, back to {last}")
        return words.format(most=tones(self._most), last=tones(self._now))

    # Painting

    def paint(self, painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        outline(painter, self._grid.metrics, self._places.pill(self._rect))
        if self._slides:
            self._paint_slide(painter)
        else:
            self._paint_bend(painter)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    def _paint_slide(self, painter: QPainter) -> None:
        """A bow over the digits, from the one note to the other, or to the pointer."""
        m, mine = self._grid.metrics, self._places.pill(self._rect)
        half = m.step / 2
        start = QPointF(mine.left() + half, mine.top() - m.px(1))
        end = QPointF(self._pointer.x(), start.y())
        if self._other is not None:
            other = self._places.pill(self._other)
            outline(painter, m, other, refused=bool(self.refusal))
            end.setX(other.left() + half)
        way = 1 if end.x() > start.x() else -1
        bow = QPainterPath(start)
        bow.quadTo(QPointF((start.x() + end.x()) / 2, start.y() - m.unit * 2), end)
        head = m.px(5)
        bow.moveTo(end + QPointF(-way * head, -head * 0.9))
        bow.lineTo(end)
        bow.lineTo(end + QPointF(-way * head * 0.1, -head * 1.3))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(m.warning if self.refusal else m.ochre, m.px(2)))
        painter.drawPath(bow)

    def _paint_bend(self, painter: QPainter) -> None:
        """The curve as it is drawn, over a ladder of semitones."""
        m, mine = self._grid.metrics, self._places.pill(self._rect)
        left, right = mine.left() + m.px(2), max(mine.right(), mine.left() + m.step) - m.px(2)
        floor = self._knob.y()
        painter.setPen(QPen(m.soft, m.px(1), Qt.PenStyle.DotLine))
        for semitone in range(1, max(2, self._most // 100) + 1):
            y = round(floor - semitone * 100 * self._per_cent)
            painter.drawLine(left, y, right + m.unit, y)
        if not self._most:
            return
        wide, top = right - left, floor - self._most * self._per_cent
        path = QPainterPath(QPointF(left, floor))
        path.cubicTo(left + wide * 0.2, floor, left + wide * 0.25, top, left + wide * 0.45, top)
        if self._now < self._most:
            low = floor - self._now * self._per_cent
            path.cubicTo(left + wide * 0.75, top, left + wide * 0.75, low, right, low)
        else:
            path.lineTo(right, top)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(m.ochre, m.px(2)))
        painter.drawPath(path)
        text = tones(self._most)
        if self._now < self._most:
            text = f"{text} → {tones(self._now)}"
        tag(painter, m, self._pointer, text, self._places.seen, refused=bool(self.refusal))
