"""Drags in the section strip: a section's end (its bars), its upper edge (its tempo), all of it.

Points are the strip's own. A section gets shorter by empty bars only: notes never go by a drag.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from msgspec.structs import replace
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.mouse.drag import CTRL, Drag, Held
from chalkfret.desk.riffs.mouse.marking import tag
from chalkfret.desk.riffs.strip_words import tempo_text
from chalkfret.edits import bars, sections
from chalkfret.model import Tempo, limits
from chalkfret.words.text import _, ngettext

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.strip import SectionStrip

_HANDLE: Final = 3  # pixels before a press on a handle is a drag
_FINE: Final = 10  # steps of a beat, with Ctrl


class StripDrag(Drag):
    """What the drags in the strip share."""

    reach = _HANDLE

    def __init__(
        self, document: Document, strip: SectionStrip, m: Metrics, index: int, press: QPoint
    ) -> None:
        super().__init__(document)
        self._strip, self._m, self._index, self._press = strip, m, index, press
        self._rect = strip.rects()[index]
        self._section = document.lesson.sections[index]
        self._pointer = press

    @property
    def _letter(self) -> str:
        return self._section.head.letter

    def _nothing(self) -> None:
        self.preview, self.words, self.refusal = None, _("Let go: nothing changes."), ""

    def _tag(self, painter: QPainter, text: str) -> None:
        refused = bool(self.refusal)
        tag(painter, self._m, self._pointer, text, self._strip.rect(), refused=refused)


class DragEnd(StripDrag):
    """The end of a section: its number of bars, with Ctrl how often it is played."""

    shape = Qt.CursorShape.SizeHorCursor

    def move(self, where: QPoint, held: Held) -> None:
        self._pointer = where
        self._by_times = bool(held & CTRL)
        across = where.x() - self._press.x()
        if self._by_times:
            self._offer_times(across)
        else:
            self._offer_bars(across)

    def _offer_bars(self, across: int) -> None:
        have = len(self._section.bars)
        self._each = max(self._m.unit, self._rect.width() / have)
        self._count = max(1, have + round(across / self._each))
        self._now = ngettext("{count} bar", "{count} bars", self._count).format(count=self._count)
        if self._count == have:
            self._nothing()
            return
        text = _("Change the number of bars of section {section}").format(section=self._letter)
        words = _("Section {section}: {bars}; Ctrl: how often it is played")
        self.propose(
            text,
            words.format(section=self._letter, bars=self._now),
            lambda lesson: bars.set_count(lesson, self._index, self._count),
        )

    def _offer_times(self, across: int) -> None:
        have = self._section.head.times
        self._each = max(self._m.unit, self._rect.width() / have)
        self._count = min(limits.TIMES_MAX, max(1, have + round(across / self._each)))
        self._now = f"×{self._count}"
        if self._count == have:
            self._nothing()
            return
        text = _("Change how often section {section} is played").format(section=self._letter)
        words = ngettext("Section {section}: played {count} time",
                         "Section {section}: played {count} times", self._count)  # fmt: skip
        self.propose(
            text,
            words.format(section=self._letter, count=self._count),
            lambda lesson: sections.set_head(lesson, self._index, times=self._count),
        )

    def paint(self, painter: QPainter) -> None:
        m, rect = self._m, self._rect
        right = round(rect.left() + self._each * self._count)
        ghost = QRect(rect.left(), rect.top(), right - rect.left(), rect.height())
        ground = QColor(m.selection_fill)
        painter.fillRect(ghost, ground)
        painter.setPen(QPen(m.ochre, m.px(1), Qt.PenStyle.DotLine))
        if self._each >= m.px(4):
            for number in range(1, self._count):
                x = round(rect.left() + self._each * number)
                painter.drawLine(x, rect.top(), x, rect.bottom())
        painter.setPen(QPen(m.warning if self.refusal else m.ochre, m.px(2)))
        painter.drawLine(right, rect.top(), right, rect.bottom())
        self._tag(painter, self._now)


class DragTempo(StripDrag):
    """The upper edge of a section: its tempo; of a gradual one the nearer end of it."""

    shape = Qt.CursorShape.SizeVerCursor

    def __init__(
        self, document: Document, strip: SectionStrip, m: Metrics, index: int, press: QPoint
    ) -> None:
        super().__init__(document, strip, m, index, press)
        self._line = strip.tempo_lines()[index]
        tempo = self._section.head.tempo
        self._at_end = tempo.end is not None and press.x() > self._rect.center().x()
        self._tempo: Tempo = tempo

    def move(self, where: QPoint, held: Held) -> None:
        self._pointer = where
        tempo = self._section.head.tempo
        have = tempo.end if self._at_end and tempo.end is not None else tempo.start
        up = (self._press.y() - where.y()) / max(1, self._m.unit // 8)  # a pixel of 100 % a beat
        beats = have + (round(up) / _FINE if held & CTRL else round(up))
        beats = round(min(limits.TEMPO_MAX, max(limits.TEMPO_MIN, beats)), 1)
        self._tempo = replace(tempo, end=beats) if self._at_end else replace(tempo, start=beats)
        if self._tempo == tempo:
            self._nothing()
            return
        text = _("Change the tempo of section {section}").format(section=self._letter)
        words = _("Section {section}: {tempo}; Ctrl: finer")
        self.propose(
            text,
            words.format(section=self._letter, tempo=tempo_text(self._tempo)),
            lambda lesson: sections.set_head(lesson, self._index, tempo=self._tempo),
        )

    def paint(self, painter: QPainter) -> None:
        m, (first, last) = self._m, self._line
        moved = QPointF(0, self._pointer.y() - self._press.y())
        steady = self._section.head.tempo.end is None
        if steady or not self._at_end:
            first = first + moved
        if steady or self._at_end:
            last = last + moved
        painter.setPen(QPen(m.warning if self.refusal else m.ochre, m.px(2)))
        painter.drawLine(first, last)
        self._tag(painter, tempo_text(self._tempo))


class Reorder(StripDrag):
    """A whole section, to another place among them."""

    reach = 0  # as far as the system asks for

    def move(self, where: QPoint, held: Held) -> None:
        self._pointer = where
        rects = self._strip.rects()
        others = [rect for index, rect in enumerate(rects) if index != self._index]
        self._to = sum(where.x() > rect.center().x() for rect in others)
        found = self.lesson.sections
        if self._to == self._index:
            self._nothing()
            return
        rest = [one for index, one in enumerate(found) if index != self._index]
        words = _("Section {section} to the end").format(section=self._letter)
        if self._to < len(rest):
            words = _("Section {section} before section {other}").format(
                section=self._letter, other=rest[self._to].head.letter
            )
        self.propose(
            _("Move section {section}").format(section=self._letter),
            words,
            lambda lesson: sections.reorder(lesson, self._index, self._to),
        )

    def end(self) -> bool:
        done = super().end()
        if done:
            self._strip.reckon()
            self._strip.chosen.emit(self._to)
        return done

    def paint(self, painter: QPainter) -> None:
        m, rects = self._m, self._strip.rects()
        ghost = self._rect.translated(self._pointer.x() - self._press.x(), 0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(m.soft, m.px(1), Qt.PenStyle.DashLine))
        painter.drawRect(ghost.adjusted(0, 0, -1, -1))
        if self._to == self._index:
            return
        line = rects[self._to].left() if self._to < self._index else rects[self._to].right()
        painter.fillRect(line - m.px(2), ghost.top(), m.px(4), ghost.height(), m.ochre)
        self._tag(painter, self._letter)
