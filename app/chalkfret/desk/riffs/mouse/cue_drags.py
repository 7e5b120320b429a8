"""Drags of cues in the lane over a part's strings: a cue as a whole, or one of its ends."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPainter

from chalkfret.desk.riffs.mouse.drag import Drag, Held
from chalkfret.desk.riffs.mouse.marking import outline, trace
from chalkfret.desk.riffs.mouse.places import CueHit, Places, Zone
from chalkfret.desk.riffs.mouse.wording import is_end, where_words
from chalkfret.edits import cues
from chalkfret.edits.place import Moment
from chalkfret.model import Cue, Lesson, Place
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.grid import Grid


class DragCue(Drag):
    """A cue's start or end to a line between steps, or all of it, as long as it is."""

    scrolls_down = False

    def __init__(self, document: Document, grid: Grid, hit: CueHit, press: QPoint) -> None:
        super().__init__(document)
        self._grid, self._places, self._hit = grid, Places(grid), hit
        self._lane = self._places.row_at(press.y())
        first, _last = self._places.cue_ends(hit.section, hit.cue.start, hit.cue.end)
        self._grabbed = press.x() - first  # where on the cue the pointer holds it
        if hit.zone is not Zone.BODY:
            self.shape, self.reach = Qt.CursorShape.SizeHorCursor, 3  # a handle

    def move(self, where: QPoint, held: Held) -> None:
        hit, cue = self._hit, self._hit.cue
        whole = hit.zone is Zone.BODY
        line = self._places.line(where.x() - self._grabbed if whole else where.x())
        if not whole and line.section != hit.section:
            self.refuse(_("A cue stays within its section."))
            return
        at_end = is_end(self.lesson, line)
        if at_end and hit.zone is not Zone.END:
            self.refuse(_("A cue starts before the end of its section."))
            return
        end = None if at_end else Place(line.bar, line.tick)
        start = self._start_at(line)
        if whole:
            if (line.section, start) != (hit.section, cue.start):
                self._offer(line, lambda one: cues.move(one, cue.id, start, line.section))
                return
        elif hit.zone is Zone.START:
            if start != cue.start:
                self._offer(line, lambda one: cues.change(one, cue.id, start=start))
                return
        elif end != cue.end:
            self._offer(line, lambda one: cues.change(one, cue.id, end=end))
            return
        self.preview, self.words, self.refusal = None, _("Let go: nothing moves."), ""

    def _start_at(self, line: Moment) -> Place:
        """Where a cue starts at a line: a bar line belongs to the bar behind it."""
        bars = self.lesson.sections[line.section].bars
        if line.tick >= bars[line.bar].head.ticks and line.bar + 1 < len(bars):
            return Place(line.bar + 1, 0)
        return Place(line.bar, line.tick)

    def _offer(self, line: Moment, edit: Callable[[Lesson], Lesson]) -> None:
        words = _("From section {section}, bar {bar}, beat {beat}")
        if self._hit.zone is Zone.END:
            words = _("Until section {section}, bar {bar}, beat {beat}")
            if is_end(self.lesson, line):
                words = _("Until the end of section {section}")
        text = _("Move the cue {label}").replace("{label}", self._hit.cue.label)
        self.propose(text, words.format(**where_words(self.lesson, line)), edit)

    def paint(self, painter: QPainter) -> None:
        m, hit = self._grid.metrics, self._hit
        trace(painter, m, self._box(hit.section, hit.cue))
        if self.preview is not None:
            outline(painter, m, self._box(*cues.cue_of(self.preview, hit.cue.id)))
        elif self.refusal:
            outline(painter, m, self._box(hit.section, hit.cue), refused=True)

    def _box(self, section: int, cue: Cue) -> QRect:
        m, tops = self._grid.metrics, self._grid.tops
        first, last = self._places.cue_ends(section, cue.start, cue.end)
        top, bottom = tops[self._lane] + m.unit // 2, tops[self._lane + 1] - m.unit // 2
        return QRect(first, top, last - first, bottom - top)
