"""The rubber band: from cell to cell, all between is selected. It changes no lesson."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, Qt

from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.mouse.drag import Drag, Held
from chalkfret.desk.riffs.mouse.places import Places
from chalkfret.words.text import _, ngettext

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.grid import Grid


class Band(Drag):
    """Selects from where it began; ``before`` is the cursor and anchor that Escape gives back."""

    shape = Qt.CursorShape.CrossCursor

    def __init__(
        self, document: Document, grid: Grid, before: tuple[Cursor, Cursor | None]
    ) -> None:
        super().__init__(document)
        self._grid, self._places, self._before = grid, Places(grid), before

    def move(self, where: QPoint, held: Held) -> None:
        cell = self._places.cell(where)
        if cell is not None and cell != self._grid.here:
            self._grid.move_to(cell, select=True)
        self.words = _("Select to section {section}, bar {bar}").format(
            section=self.lesson.sections[self._grid.here.section].head.letter,
            bar=self._grid.here.bar + 1,
        )

    def abandon(self) -> None:
        here, anchor = self._before
        if anchor is not None:
            self._grid.move_to(anchor)
        self._grid.move_to(here, select=anchor is not None)


class BarBand(Drag):
    """Along the ruler: whole bars of one section, in all parts."""

    shape = Qt.CursorShape.CrossCursor

    def __init__(
        self, document: Document, grid: Grid, before: tuple[Cursor, Cursor | None], press: Cursor
    ) -> None:
        super().__init__(document)
        self._grid, self._places = grid, Places(grid)
        self._before, self._press = before, press

    def move(self, where: QPoint, held: Held) -> None:
        lesson, press = self.lesson, self._press
        cell = self._places.cell(where)
        if cell is None:
            return
        bar = cell.bar
        if cell.section != press.section:
            bars = lesson.sections[press.section].bars
            bar = len(bars) - 1 if cell.section > press.section else 0
        first, last = sorted((press.bar, bar))
        part = len(lesson.parts) - 1
        head = lesson.sections[press.section].bars[last].head
        end = Cursor(press.section, last, head.ticks - 1, part, 1_000)
        self._grid.move_to(Cursor(press.section, first, 0, 0, 1))
        self._grid.move_to(moves.kept(lesson, end), select=True)
        count = last - first + 1
        words = ngettext("Select {count} bar of all guitars", "Select {count} bars of all guitars",
                         count)  # fmt: skip
        self.words = words.format(count=count)

    def abandon(self) -> None:
        here, anchor = self._before
        if anchor is not None:
            self._grid.move_to(anchor)
        self._grid.move_to(here, select=anchor is not None)
