"""What an edit did, told to those who do not see the grid change.

The cell to which the cursor moves on is read by itself; what was written into the one before, or
undone somewhere, would go unheard. What is done in a field or another control is heard there.
Nothing is worked out while no screen reader listens.
"""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QObject, QTimer
from PySide6.QtGui import QAccessible, QAccessibleEvent

from chalkfret.desk.document import Document
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.riffs.columns import changed_bars
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.spoken import note_spoken
from chalkfret.desk.writing import Writing
from chalkfret.model import Lesson, Note
from chalkfret.words.text import _

_MOST_NOTES = 6  # more of them are told by what was done, not one by one


class Teller(QObject):
    """Tells what every step of the undo stack did, as an announcement of the grid."""

    def __init__(self, document: Document, grid: Grid) -> None:
        super().__init__(grid)
        self._document, self._grid = document, grid
        self._index = document.undo_stack.index()
        self._change: tuple[Lesson, Lesson] | None = None
        self._travelled = False
        document.changed.connect(self._changed)
        document.travelled.connect(self._was_travelled)
        document.undo_stack.indexChanged.connect(self._stepped)
        grid.focused.connect(self._came_back)

    def _changed(self, before: Lesson, after: Lesson) -> None:
        listened = QAccessible.isActive() and Writing.current() is None
        self._change = (before, after) if listened else None
        self._travelled = False

    def _was_travelled(self) -> None:
        self._travelled = True

    def _stepped(self, index: int) -> None:
        """The stack knows by now what was done, undone or done again."""
        change, self._change = self._change, None
        last, self._index = self._index, index
        if change is None:
            return
        stack = self._document.undo_stack
        if index < last:
            words = _("Undone: {what}").format(what=stack.redoText())
        elif self._travelled:
            words = _("Done again: {what}").format(what=stack.undoText())
        elif self._grid.hasFocus():
            words = notes_told(*change) or stack.undoText()
        else:
            return  # the control that was used says what it is now
        announce(self._grid, words)
        self._tell_cell(QAccessible.Event.NameChanged)

    def _came_back(self) -> None:
        """Qt tells that the table has the focus; its cell says where in it one is."""
        if QAccessible.isActive():
            QTimer.singleShot(0, self, self._tell_focus)

    def _tell_focus(self) -> None:
        self._tell_cell(QAccessible.Event.Focus)

    def _tell_cell(self, what: QAccessible.Event) -> None:
        """Of the cursor's cell: it has the focus, or reads otherwise than when it was come to."""
        index, model = self._grid.currentIndex(), self._grid.grid_model
        event = QAccessibleEvent(self._grid, what)
        # Qt numbers the cells with the headers: a row of them above, one before each row.
        event.setChild((index.row() + 1) * (model.columnCount() + 1) + index.column() + 1)
        QAccessible.updateAccessibility(event)


def notes_told(before: Lesson, after: Lesson) -> str:
    """The few notes that were written, or else removed; "" where something else was done."""
    written, removed = [], []
    for section, bar, part, old, new in _changed_notes(before, after):
        written += [note_spoken(after, section, bar, part, one) for one in new if one not in old]
        removed += [note_spoken(before, section, bar, part, one) for one in old if one not in new]
        if len(written) > _MOST_NOTES or len(removed) > _MOST_NOTES:
            return ""
    if written:
        return "; ".join(written)
    return _("removed: {notes}").format(notes="; ".join(removed)) if removed else ""


def _changed_notes(
    before: Lesson, after: Lesson
) -> Iterator[tuple[int, int, int, tuple[Note, ...], tuple[Note, ...]]]:
    """Section, bar, part, and the notes before and after of each bar of it that is another one."""
    if len(before.sections) != len(after.sections) or len(before.parts) != len(after.parts):
        return
    for index, (old, new) in enumerate(zip(before.sections, after.sections, strict=True)):
        if old.bars is new.bars or len(old.bars) != len(new.bars):
            continue
        changed = changed_bars(old.bars, new.bars)
        for bar in range(changed[0], changed[1] + 1) if changed is not None else ():
            pairs = zip(old.bars[bar].notes, new.bars[bar].notes, strict=True)
            for part, (one, two) in enumerate(pairs):
                if one is not two:
                    yield index, bar, part, one, two
