"""The steps of the undo stack.

A step holds the lesson before and after. Lessons share all that an edit did not touch, and yet ten
thousand of them would take as much memory as the window itself: a step that many others came after
is folded, and holds no more than the bar that it changed.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import TYPE_CHECKING, cast

from msgspec.structs import replace
from PySide6.QtGui import QUndoCommand

from chalkfret.model import Bar, Lesson

if TYPE_CHECKING:
    from chalkfret.desk.document import Document

_MERGEABLE = 1


class Step(QUndoCommand):
    """One step of the undo stack; later steps with the same merge key become part of it."""

    __slots__ = ("_after", "_bar", "_before", "_document", "_is_done", "_merge", "_section")

    def __init__(
        self, document: Document, text: str, before: Lesson, after: Lesson, merge: Hashable
    ) -> None:
        super().__init__(text)
        self._document = document
        self._before: Lesson | Bar = before
        self._after: Lesson | Bar = after
        self._merge = merge
        self._is_done = False
        self._section = self._bar = -1  # of a folded step, where its bar stands

    def id(self) -> int:
        return -1 if self._merge is None else _MERGEABLE

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, Step) or other._merge != self._merge:
            return False
        self._after = other._after
        self.setText(other.text())
        self.setObsolete(self._after is self._before)
        return True

    def fold(self) -> None:
        """Hold no more than the one bar that differs, where it is one."""
        if self._bar >= 0:
            return
        before, after = cast(Lesson, self._before), cast(Lesson, self._after)
        place = _changed_bar(before, after)
        if place is not None:
            self._section, self._bar = place
            self._before, self._after = (
                lesson.sections[self._section].bars[self._bar] for lesson in (before, after)
            )

    def redo(self) -> None:
        if self._document.is_passing:
            return
        again, self._is_done = self._is_done, True
        self._go(self._after, again)

    def undo(self) -> None:
        if not self._document.is_passing:
            self._go(self._before, True)

    def _go(self, there: Lesson | Bar, again: bool) -> None:
        here = self._document.lesson
        if isinstance(there, Bar):
            there = _with_bar(here, self._section, self._bar, there)
        self._document.show_step(there)
        if again:
            self._document.travelled.emit(here, there)


def _changed_bar(before: Lesson, after: Lesson) -> tuple[int, int] | None:
    """Section and bar, from 0, of the only bar that is not the same object; else None."""
    from chalkfret.desk.riffs.columns import changed_bars

    pairs = list(zip(before.sections, after.sections, strict=False))
    others = [index for index, (old, new) in enumerate(pairs) if old is not new]
    same = (
        before.head is after.head
        and before.parts is after.parts
        and len(before.sections) == len(after.sections)
    )
    if not same or len(others) != 1:
        return None
    old, new = pairs[others[0]]
    if old.id != new.id or old.head is not new.head or len(old.bars) != len(new.bars):
        return None
    changed = changed_bars(old.bars, new.bars)
    return (others[0], changed[0]) if changed is not None and changed[0] == changed[1] else None


def _with_bar(lesson: Lesson, index: int, number: int, bar: Bar) -> Lesson:
    section = lesson.sections[index]
    section = replace(section, bars=section.bars.with_bars({number: bar}))
    sections = (*lesson.sections[:index], section, *lesson.sections[index + 1 :])
    return replace(lesson, sections=sections)
