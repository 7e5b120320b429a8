"""The grid as a table for those who do not see it: each cell says what is there.

Rows and columns are the grid's own. Qt's table view turns this into accessible cells.
"""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt

from chalkfret.desk.riffs.cells import degree_cells, pitch_of
from chalkfret.desk.riffs.columns import Columns, column_in_bar, spans_of, step_starts
from chalkfret.desk.riffs.rows import RowKind, Rows
from chalkfret.desk.riffs.signs import fret_text
from chalkfret.desk.riffs.words import beat_text, mark_words, note_text
from chalkfret.model import Lesson, Note, setup_in
from chalkfret.words.text import _

_DISPLAY = int(Qt.ItemDataRole.DisplayRole)
_SPOKEN = int(Qt.ItemDataRole.AccessibleTextRole)
Index = QModelIndex | QPersistentModelIndex


class GridModel(QAbstractTableModel):
    """A lesson as rows of strings and columns of steps."""

    def __init__(self, lesson: Lesson, parent=None) -> None:
        super().__init__(parent)
        self.lesson = lesson
        self.columns = Columns(lesson)
        self.rows = Rows(lesson.parts)
        self._shown_columns, self._shown_rows = self.columns.total, len(self.rows)

    def show(self, lesson: Lesson) -> tuple[bool, bool]:
        """Take another lesson; whether columns moved, and whether rows did."""
        before, self.lesson = self.lesson, lesson
        moved = self.columns.show(lesson)
        courses = [len(part.setup.courses) for part in lesson.parts]
        rowed = courses != [len(part.setup.courses) for part in before.parts]
        if rowed:
            self.beginResetModel()
            self.rows = Rows(lesson.parts)
            self._shown_columns, self._shown_rows = self.columns.total, len(self.rows)
            self.endResetModel()
        elif self.columns.total != self._shown_columns:
            self._fit_columns()
        return moved, rowed

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
            where, bar, tick = self.columns.place(section)
            found = self.lesson.sections[where]
            return f"{found.head.letter} {bar + 1} {beat_text(found.bars[bar].head, tick)}"
        row = self.rows[section]
        name = self.lesson.parts[row.part].name
        if row.kind is RowKind.STRING:
            return _("{part}, string {number}").format(part=name, number=row.course)
        return name if row.kind is RowKind.LANE else _("{part}, degrees").format(part=name)

    def note_in(self, row: int, column: int) -> Note | None:
        """The note that starts in this cell, or sounds through it."""
        kind, part, course = self.rows[row]
        if kind is not RowKind.STRING:
            return None
        section, bar, tick = self.columns.place(column)
        found = self.lesson.sections[section].bars[bar]
        starts = step_starts(found.head)
        step = starts.index(tick)
        end = tick + spans_of(found.head)[step][1]
        for note in found.notes[part]:
            if note.course == course and note.onset < end and note.end > tick:
                return note
        return None

    def spoken(self, row: int, column: int) -> str:
        """The cell in words: what sounds, its note and degree, its marks, and where it is."""
        kind, part, _course = self.rows[row]
        section_index, bar, tick = self.columns.place(column)
        section = self.lesson.sections[section_index]
        head = section.bars[bar].head
        setup = setup_in(section, self.lesson.parts[part])
        where = _("section {section}, bar {bar}, beat {beat}").format(
            section=section.head.letter, bar=bar + 1, beat=beat_text(head, tick)
        )
        if kind is RowKind.DEGREES:
            cells = degree_cells(section.bars[bar].notes[part], head, setup, section.head.key)
            at = column_in_bar(head, tick)
            here = [cell.text for cell in cells if at <= cell.start < at + 1]
            return f"{here[0] if here else _('no degree')}, {where}"
        note = self.note_in(row, column)
        if note is None:
            what = _("empty")
        else:
            held = "" if note.onset >= tick else _("held, ")
            pitch = pitch_of(setup, note)
            what = held + ", ".join(
                filter(
                    None,
                    (
                        _("fret {fret}").format(fret=note.fret),
                        note_text(self.lesson, section.head.key, note, pitch),
                        *mark_words(note),
                    ),
                )
            )
        return f"{what}, {self.headerData(row, Qt.Orientation.Vertical)}, {where}"
