"""Which parts are folded: of the desk, not of the lesson, and forgotten with it.

The cursor is never in a folded part: moving up and down passes over it, and whatever leads into
one (an undone step, a remark, a selection of all parts) unfolds it, so that nothing is changed
that is not seen.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from chalkfret.desk.document import Document
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Lesson
from chalkfret.words.text import _, ngettext

Move = Callable[[Lesson, Cursor], Cursor]


class Folds(QObject):
    """The folded parts, by their ids, of which at least one part is none."""

    changed = Signal()

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self.ids: frozenset[str] = frozenset()

    def is_folded(self, part: int) -> bool:
        """Whether a part, counted from 0, is folded."""
        return self._document.lesson.parts[part].id in self.ids

    def turn(self, part: int) -> None:
        """Fold a part, or unfold it; the last open one stays open."""
        one = self._document.lesson.parts[part].id
        if one in self.ids:
            self._set(self.ids - {one})
        elif all(other.id in self.ids | {one} for other in self._document.lesson.parts):
            self._document.refused.emit(_("One guitar stays open: there is no other to write in."))
        else:
            self._set(self.ids | {one})

    def fold_others(self, part: int) -> None:
        """Fold all parts but one."""
        ids = [one.id for one in self._document.lesson.parts]
        self._set(frozenset(ids) - {ids[part]})

    def unfold_all(self) -> None:
        """Unfold every part, as for another lesson."""
        self._set(frozenset())

    def open(self, part: int) -> None:
        """Unfold a part, where it is folded."""
        self._set(self.ids - {self._document.lesson.parts[part].id})

    def _set(self, ids: frozenset[str]) -> None:
        if ids != self.ids:
            self.ids = ids
            self.changed.emit()

    def nearest_open(self, part: int) -> int:
        """The part itself, or the nearest that is not folded, rather below than above."""
        count = len(self._document.lesson.parts)
        part = min(part, count - 1)
        below = (other for other in range(part, count) if not self.is_folded(other))
        above = (other for other in range(part - 1, -1, -1) if not self.is_folded(other))
        return next(below, next(above, part))

    def passing(self, move: Move) -> Move:
        """The same move, again and again as long as it ends in a folded part.

        Where there is nothing but folded parts that way it leads nowhere.
        """

        def passed(lesson: Lesson, cursor: Cursor) -> Cursor:
            target = move(lesson, cursor)
            while self.is_folded(target.part):
                before, target = target, move(lesson, target)
                if target == before:
                    return cursor
            return target

        return passed


def folded_words(lesson: Lesson, section: int, bar: int, part: int) -> str:
    """What a cell of a folded part says: ``folded, 8 notes in this bar``."""
    count = len(lesson.sections[section].bars[bar].notes[part])
    words = ngettext("folded, {count} note in this bar", "folded, {count} notes in this bar", count)
    return words.format(count=count)
