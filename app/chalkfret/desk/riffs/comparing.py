"""Which two parts are held against one another on the desk, and whether that is shown."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from chalkfret.desk.document import Document


class Comparison(QObject):
    """Two parts by their ids: what the second does otherwise than the first is marked and listed.

    Until others are chosen these are the first and the second part.
    """

    changed = Signal()

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._one = self._two = ""
        self._marks = False

    @property
    def possible(self) -> bool:
        """Whether there are two parts."""
        return len(self._document.lesson.parts) > 1

    @property
    def pair(self) -> tuple[int, int]:
        """The part that is held against and the one that is spoken of, from 0."""
        ids = [part.id for part in self._document.lesson.parts]
        one = ids.index(self._one) if self._one in ids else 0
        two = ids.index(self._two) if self._two in ids else 1
        return (one, two) if one != two else (one, 0 if one else 1)

    @property
    def marked(self) -> tuple[int, int] | None:
        """The pair whose differences are marked in the grid, None where none are."""
        return self.pair if self._marks and self.possible else None

    def choose(self, one: int, two: int) -> None:
        """Hold these parts against one another; of one part twice, the other one turns round."""
        before, parts = self.pair, self._document.lesson.parts
        if not self.possible or max(one, two) >= len(parts):
            return  # chosen from a list that follows the lesson a moment later
        if one == two:
            one, two = (before[1], two) if two != before[1] else (one, before[0])
        self._one, self._two = parts[one].id, parts[two].id
        if self.pair != before:
            self.changed.emit()

    def mark(self, marks: bool) -> None:
        """Mark the differences in the grid, or do not."""
        if marks != self._marks:
            self._marks = marks
            self.changed.emit()
