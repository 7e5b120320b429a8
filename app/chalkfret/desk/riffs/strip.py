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
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractSlider, QSizePolicy, QToolTip

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.mouse.strip_mouse import StripMouse
from chalkfret.desk.riffs.spoken import section_spoken
from chalkfret.desk.riffs.strip_picture import StripPicture, ViewEdge
from chalkfret.desk.riffs.strip_words import clock_text, section_text, tempo_text
from chalkfret.model import QUARTER, Lesson, Part, Section, Tempo
from chalkfret.words.music import key_words
from chalkfret.words.text import _

_LEAST_UNITS = 4  # a short section can still be seen and hit


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


class SectionStrip(QAbstractSlider):
    """All sections; a click or the arrow keys choose one.

    To the system it is a slider over the sections, so that who hears the window, or speaks to it,
    can read and choose the section too.
    """

    chosen = Signal(int)
    placed = Signal(int, int)  # a bar of a section, both from 0, to be shown
    stepped = Signal(int)  # to the next bar (1) or the one before (-1)
    left = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.picture = StripPicture(look)
        self.blocks: list[Block] = []
        self.sections: list[Section] = []  # as they are shown, which may be a moment old
        self.parts: tuple[Part, ...] = ()
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

    @property
    def here(self) -> int:
        """The section in which the teacher is working, from 0."""
        return self._document.section

    def sizeHint(self) -> QSize:
        return QSize(self._look.unit(60), self._look.unit(10))

    def _changed(self, before: Lesson, after: Lesson) -> None:
        if before.sections is not after.sections or before.parts is not after.parts:
            self._later.start()

    def reckon(self) -> None:
        """Reckon the blocks of the sections that differ."""
        sections = self._document.lesson.sections
        known = {
            id(section): block for section, block in zip(self.sections, self.blocks, strict=True)
        }
        blocks = [known.get(id(section)) or block_of(section) for section in sections]
        self.sections, self.parts = list(sections), self._document.lesson.parts
        self.picture.forget_all_but(self.sections)
        if blocks != self.blocks or not self.blocks:
            self.blocks = blocks
        self._moved()

    def _moved(self) -> None:
        index, count = min(self._document.section, len(self.sections) - 1), len(self.sections)
        self.blockSignals(True)  # the teacher is there already
        self.setRange(1, count)
        self.setValue(index + 1)
        self.blockSignals(False)
        spoken = _("{section}, {number} of {count}").format(
            section=section_spoken(
                self._document.lesson, self.sections[index], self.blocks[index].seconds
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
        index = self.sections.index(section)
        naming = self._document.lesson.head.note_naming
        key = section.head.key
        words = [section_text(section), tempo_text(section.head.tempo)]
        if key is not None:
            words.append(key_words(key, naming))
        if section.head.times > 1:
            words.append(_("{times} times").format(times=section.head.times))
        words.append(clock_text(self.blocks[index].seconds))
        words.extend(cue.label for cue in section.head.cues)
        return " · ".join(words)

    # Painting

    def rects(self) -> list[QRect]:
        """The block of each section."""
        unit = self._look.unit
        least = unit(_LEAST_UNITS)
        room = self.width() - unit(2)
        across = widths([block.seconds for block in self.blocks], room, least)
        edges = [unit(1) + round(x) for x in (0, *accumulate(across))]
        top, height = unit(1), self.height() - unit(1.5)
        return [QRect(left, top, right - left, height) for left, right in pairwise(edges)]

    def paintEvent(self, event: QPaintEvent) -> None:
        look, painter = self._look, QPainter(self)
        painter.fillRect(event.rect(), look.colour("panel"))
        self.picture.paint(painter, self, event.rect())
        self.mouse.paint(painter)
        painter.end()

    def tempo_lines(self) -> list[tuple[QPointF, QPointF]]:
        """The upper edge of each section's block: its tempo, where it begins and where it ends."""
        speeds = [speed for block in self.blocks for speed in (block.start, block.end)]
        slow, fast = min(speeds), max(speeds)
        return [
            (
                QPointF(rect.left() + 1.0, self._top(rect, block.start, slow, fast)),
                QPointF(rect.right() - 1.0, self._top(rect, block.end, slow, fast)),
            )
            for rect, block in zip(self.rects(), self.blocks, strict=True)
        ]

    def _top(self, rect: QRect, speed: float, slow: float, fast: float) -> float:
        """Height is tempo: the slowest is three fifths high, the fastest the whole."""
        share = 0.5 if fast == slow else (speed - slow) / (fast - slow)
        return rect.bottom() - rect.height() * (0.62 + 0.38 * share)

    def show_view(self, first: ViewEdge, last: ViewEdge) -> None:
        """Frame the bars from ``first`` to ``last``: what the grid shows."""
        if self.picture.view == (first, last):
            return
        before = self.picture.frame(self)
        self.picture.view = (first, last)
        after = self.picture.frame(self)
        if before != after:
            self.update(before)
            self.update(after)

    def place_at(self, where: QPoint) -> tuple[int, int] | None:
        """Section and bar, from 0, of a point among the bars in small; None beside them."""
        return self.picture.place_at(self, where)

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
        if event.modifiers() == Qt.KeyboardModifier.ControlModifier:
            steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
            if steps is not None:
                self.stepped.emit(steps)
                return
        here, last = self._document.section, len(self.sections) - 1
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
                QToolTip.showText(event.globalPos(), self._words(self.sections[index]), self)
            return True
        return super().event(event)
