"""The section strip: the whole lesson in time. Width is time, height is tempo, flags are cues."""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import NamedTuple

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPolygonF,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractSlider, QSizePolicy, QToolTip

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look, mixed
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.mouse.strip_mouse import StripMouse
from chalkfret.desk.riffs.spoken import section_spoken
from chalkfret.desk.riffs.strip_words import section_text, tempo_text
from chalkfret.model import QUARTER, Lesson, Section, Tempo
from chalkfret.words.music import key_words
from chalkfret.words.text import _

_LEAST_UNITS = 4  # a short section can still be seen and hit
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class Block(NamedTuple):
    """One section: its seconds, its tempo in quarters a minute at either end, its cues' seconds."""

    seconds: float
    start: float
    end: float
    flags: tuple[float, ...]  # shares of the section's time


def block_of(section: Section) -> Block:
    """What the strip shows of a section."""
    from chalkfret.timeline.clock import section_clock

    clock = section_clock(section)
    tempo = section.head.tempo
    length = max(clock.length_s, 1e-9)
    starts = [0, *accumulate(bar.head.ticks for bar in section.bars)]
    flags = tuple(
        clock.seconds(starts[cue.start.bar] + cue.start.tick) / length
        for cue in section.head.cues
        if cue.start.bar < len(section.bars)
    )
    start = _quarters(tempo, tempo.start)
    end = start if tempo.end is None else _quarters(tempo, tempo.end)
    return Block(clock.length_s, start, end, flags)


def _quarters(tempo: Tempo, beats: float) -> float:
    return beats * tempo.unit.ticks / QUARTER


def widths(seconds: list[float], room: int, least: int) -> list[float]:
    """Room shared by time, each block at least ``least`` wide, or as wide as all can be."""
    least = min(least, room // max(1, len(seconds)))
    spare = room - least * len(seconds)
    total = sum(seconds) or 1.0
    return [least + spare * one / total for one in seconds]


def clock_text(seconds: float) -> str:
    """``1:52``."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


class SectionStrip(QAbstractSlider):
    """All sections; a click or the arrow keys choose one.

    To the system it is a slider over the sections, so that who hears the window, or speaks to it,
    can read and choose the section too.
    """

    chosen = Signal(int)
    left = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._blocks: list[Block] = []
        self._shown: list[Section] = []
        self.mouse = StripMouse(self, document, look)
        self.setMouseTracking(True)
        self.setAccessibleName(_("Sections"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        # Times are reckoned a moment after the last edit: typing must not wait for them.
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(60)
        self._later.timeout.connect(self.reckon)
        document.changed.connect(self._changed)
        document.replaced.connect(self.reckon)
        document.section_changed.connect(self._moved)
        follow(self, look, self._dress)
        self.reckon()
        self.valueChanged.connect(lambda number: self.chosen.emit(number - 1))

    def _dress(self) -> None:
        self.metrics = Metrics(self._look)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.unit(60), self._look.unit(9))

    def _changed(self, before: Lesson, after: Lesson) -> None:
        if before.sections is not after.sections:
            self._later.start()

    def reckon(self) -> None:
        """Reckon the blocks of the sections that differ."""
        sections = self._document.lesson.sections
        known = {
            id(section): block for section, block in zip(self._shown, self._blocks, strict=True)
        }
        blocks = [known.get(id(section)) or block_of(section) for section in sections]
        self._shown = list(sections)
        if blocks != self._blocks or not self._blocks:
            self._blocks = blocks
        self._moved()

    def _moved(self) -> None:
        index, count = min(self._document.section, len(self._shown) - 1), len(self._shown)
        self.blockSignals(True)  # the teacher is there already
        self.setRange(1, count)
        self.setValue(index + 1)
        self.blockSignals(False)
        spoken = _("{section}, {number} of {count}").format(
            section=section_spoken(
                self._document.lesson, self._shown[index], self._blocks[index].seconds
            ),
            number=index + 1,
            count=count,
        )
        if spoken != self.accessibleDescription():
            self.setAccessibleDescription(spoken)
            if self.hasFocus():
                announce(self, spoken)
        self.update()

    def _words(self, section: Section) -> str:
        index = self._shown.index(section)
        naming = self._document.lesson.head.note_naming
        key = section.head.key
        words = [section_text(section), tempo_text(section.head.tempo)]
        if key is not None:
            words.append(key_words(key, naming))
        if section.head.times > 1:
            words.append(_("{times} times").format(times=section.head.times))
        words.append(clock_text(self._blocks[index].seconds))
        words.extend(cue.label for cue in section.head.cues)
        return " · ".join(words)

    # Painting

    def rects(self) -> list[QRect]:
        """The block of each section."""
        unit = self._look.unit
        least = unit(_LEAST_UNITS)
        room = self.width() - unit(2)
        across = widths([block.seconds for block in self._blocks], room, least)
        edges = [unit(1) + round(x) for x in (0, *accumulate(across))]
        top, height = unit(1), self.height() - unit(1.5)
        return [QRect(left, top, right - left, height) for left, right in pairwise(edges)]

    def paintEvent(self, event: QPaintEvent) -> None:
        look, painter = self._look, QPainter(self)
        painter.fillRect(event.rect(), look.colour("panel"))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, (rect, edge) in enumerate(zip(self.rects(), self.tempo_lines(), strict=True)):
            if rect.intersects(event.rect()):
                self._block(painter, index, rect, edge)
        self.mouse.paint(painter)
        painter.end()

    def tempo_lines(self) -> list[tuple[QPointF, QPointF]]:
        """The upper edge of each section's block: its tempo, where it begins and where it ends."""
        speeds = [speed for block in self._blocks for speed in (block.start, block.end)]
        slow, fast = min(speeds), max(speeds)
        return [
            (
                QPointF(rect.left() + 1.0, self._top(rect, block.start, slow, fast)),
                QPointF(rect.right() - 1.0, self._top(rect, block.end, slow, fast)),
            )
            for rect, block in zip(self.rects(), self._blocks, strict=True)
        ]

    def _top(self, rect: QRect, speed: float, slow: float, fast: float) -> float:
        """Height is tempo: the slowest is three fifths high, the fastest the whole."""
        share = 0.5 if fast == slow else (speed - slow) / (fast - slow)
        return rect.bottom() - rect.height() * (0.62 + 0.38 * share)

    def _block(
        self, painter: QPainter, index: int, rect: QRect, edge: tuple[QPointF, QPointF]
    ) -> None:
        look, m, block = self._look, self.metrics, self._blocks[index]
        here = index == self._document.section
        start, end = edge
        left, right, bottom = start.x(), end.x(), float(rect.bottom())
        first, last = start.y(), end.y()
        shape = QPolygonF(
            [
                QPointF(left, first),
                QPointF(right, last),
                QPointF(right, bottom),
                QPointF(left, bottom),
            ]
        )
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(mixed(m.lines, m.surface, 0.35) if not here else m.surface)
        painter.drawPolygon(shape)
        painter.setPen(m.cursor_pen if here else m.soft_pen)
        painter.drawLine(QPointF(left, first), QPointF(right, last))
        if here:
            painter.fillRect(QRect(round(left), rect.bottom() - 2, round(right - left), 3), m.ochre)
        for share in block.flags:
            x = left + (right - left) * min(1.0, share)
            top = first + (last - first) * share
            painter.setPen(m.soft_pen)
            painter.drawLine(QPointF(x, top - look.unit(0.75)), QPointF(x, top + look.unit(1)))
            flag = [
                QPointF(0, 0),
                QPointF(look.unit(0.75), look.unit(0.3)),
                QPointF(0, look.unit(0.6)),
            ]
            painter.setBrush(m.soft)
            painter.drawPolygon(QPolygonF(flag).translated(x, top - look.unit(0.75)))
        self._text(painter, index, rect, max(first, last), here)
        if here and self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(look.colour("blue"))
            painter.drawRect(rect.adjusted(0, 0, -1, -1))

    def _text(self, painter: QPainter, index: int, rect: QRect, top: float, here: bool) -> None:
        m, head = self.metrics, self._shown[index].head
        unit = m.unit
        box = QRect(rect.left() + unit, round(top) + 2, rect.width() - unit - 4, 0)
        box.setBottom(rect.bottom() - 3)
        painter.setPen(m.ochre if here else m.ink)
        painter.setFont(m.strong_font)
        painter.drawText(box, _LEFT, head.letter)
        taken = m.strong_fm.horizontalAdvance(head.letter) + unit
        room = box.width() - taken
        if room < unit * 3:
            return
        words = head.name if head.times == 1 else f"{head.name}  ×{head.times}".strip()
        painter.setPen(m.ink_pen)
        painter.setFont(m.text_font)
        text = m.text_fm.elidedText(words, Qt.TextElideMode.ElideRight, room)
        line = QRect(box.left() + taken, box.top(), room, box.height())
        painter.drawText(line, _LEFT, text)
        needed = m.text_fm.horizontalAdvance(text) + unit * 2
        time = clock_text(self._blocks[index].seconds)
        if room - needed > m.sign_fm.horizontalAdvance(time):
            painter.setPen(m.soft_pen)
            painter.setFont(m.sign_font)
            painter.drawText(
                line, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, time
            )

    # Events

    def section_at(self, where: QPoint) -> int | None:
        """The section under a point."""
        for index, rect in enumerate(self.rects()):
            if rect.left() <= where.x() < rect.right():
                return index
        return None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.mouse.press(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self.mouse.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.mouse.release(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.mouse.double_click(event)

    def leaveEvent(self, event: QEvent) -> None:
        self.mouse.leave()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        self.mouse.key(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.mouse.key(event):
            return
        here, last = self._document.section, len(self._shown) - 1
        targets = {
            Qt.Key.Key_Left: max(0, here - 1),
            Qt.Key.Key_Right: min(last, here + 1),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        target = targets.get(Qt.Key(event.key()))
        if target is not None:
            self.chosen.emit(target)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.left.emit()
        else:
            event.ignore()  # a slider's other keys are not ours

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()  # a slider would choose another section

    def focusInEvent(self, event) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event) -> None:
        super().focusOutEvent(event)
        self.mouse.gone()
        self.update()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() is QEvent.Type.ToolTip:
            index = self.section_at(event.pos())
            if index is not None:
                QToolTip.showText(event.globalPos(), self._words(self._shown[index]), self)
            return True
        return super().event(event)
