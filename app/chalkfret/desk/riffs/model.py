"""The grid as a table for those who do not see it: each cell says what is there.

Rows and columns are the grid's own. Qt's table view turns this into accessible cells.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from chalkfret.desk.riffs.columns import Columns
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.folds import folded_words
from chalkfret.desk.riffs.rows import RowKind, Rows
from chalkfret.desk.riffs.signs import fret_text
from chalkfret.desk.riffs.spoken import (
    cues_cell,
    degrees_cell,
    note_at,
    place_spoken,
    string_cell,
    string_spoken,
)
from chalkfret.model import Lesson, Note
from chalkfret.words.text import _

_DISPLAY = int(Qt.ItemDataRole.DisplayRole)
_SPOKEN = int(Qt.ItemDataRole.AccessibleTextRole)
Index = QModelIndex | QPersistentModelIndex


class GridModel(QAbstractTableModel):
    """A lesson as rows of strings and columns of steps."""

    def __init__(self, lesson: Lesson, parent=None) -> None:
        super().__init__(parent)
        self.lesson = lesson
        self.selects: Callable[[Cursor], bool] = lambda _cell: False
        self.columns = Columns(lesson)
        self.rows = Rows(lesson.parts)
        self._folded: frozenset[str] = frozenset()
        self._shown_columns, self._shown_rows = self.columns.total, len(self.rows)

    def show(self, lesson: Lesson) -> tuple[bool, bool]:
        """Take another lesson; whether columns moved, and whether rows did."""
        before, self.lesson = self.lesson, lesson
        moved = self.columns.show(lesson)
        rowed = before.parts is not lesson.parts and (
            Rows(before.parts, self._folded).all != Rows(lesson.parts, self._folded).all
        )
        if rowed:
            self._make_rows()
        elif self.columns.total != self._shown_columns:
            self._fit_columns()
        return moved, rowed

    def fold(self, parts: frozenset[str]) -> None:
        """Give each of these parts, by their ids, a single row."""
        self._folded = parts
        self._make_rows()

    def _make_rows(self) -> None:
        self.beginResetModel()
        self.rows = Rows(self.lesson.parts, self._folded)
        self._shown_columns, self._shown_rows = self.columns.total, len(self.rows)
        self.endResetModel()

    def _fit_columns(self) -> None:
        """Columns come and go at the end: what they hold is asked for anew anyway."""
        nowhere, total, before = QModelIndex(), self.columns.total, self._shown_columns
        if total > before:
            self.beginInsertColumns(nowhere, before, total - 1)
            self._shown_columns = total
            self.endInsertColumns()
        else:
            self.beginRemoveColumns(nowhere, total, before - 1)
            self._shown_columns = total
            self.endRemoveColumns()

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else self._shown_rows

    def columnCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else self._shown_columns

    def data(self, index: Index, role: int = _DISPLAY) -> Any:
        if role == _DISPLAY:
            note = self.note_in(index.row(), index.column())
            return fret_text(note) if note is not None else ""
        return self.spoken(index.row(), index.column()) if role == _SPOKEN else None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _DISPLAY) -> Any:
        if role not in (_DISPLAY, _SPOKEN):
            return None
        if orientation is Qt.Orientation.Horizontal:
            return place_spoken(self.lesson, *self.columns.place(section))
        kind, part, course = self.rows[section]
        name = self.lesson.parts[part].name
        if kind is RowKind.STRING:
            return _("{part}, string {number}").format(part=name, number=course)
        if kind is RowKind.FOLDED:
            return _("{part}, folded").format(part=name)
        return (
            _("{part}, cues") if kind is RowKind.LANE else _("{part}, degrees")
        ).format(part=name)  # fmt: skip

    def note_in(self, row: int, column: int) -> Note | None:
        """The note that starts in this cell, or sounds through it."""
        kind, part, course = self.rows[row]
        if kind is not RowKind.STRING:
            return None
        section, bar, tick = self.columns.place(column)
        found = self.lesson.sections[section].bars[bar]
        return note_at(found.head, found.notes[part], course, tick)

    def spoken(self, row: int, column: int) -> str:
        """The cell in words: what is there, then string, beat, bar, section and part."""
        kind, part, course = self.rows[row]
        section, bar, tick = self.columns.place(column)
        lesson, time = self.lesson, (section, bar, tick)
        words = [place_spoken(lesson, *time), lesson.parts[part].name]
        if kind is RowKind.STRING:
            what = string_cell(lesson, *time, part, course)
            words.insert(0, string_spoken(lesson, section, part, course))
            if self.selects(Cursor(*time, part, course)):
                what = _("selected: {what}").format(what=what)
        elif kind is RowKind.FOLDED:
            what = folded_words(lesson, section, bar, part)
        else:
            say = cues_cell if kind is RowKind.LANE else degrees_cell
            what = say(lesson, *time, part)
        return ", ".join((what, *words))
