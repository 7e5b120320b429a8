"""The open lesson: the value of now, where it lies on disk, and the way back.

Every change of the lesson goes through here. An edit is a new lesson value; a step of the undo
stack holds the value before and after, so undoing is only putting the earlier value back. Those
who show the lesson get both values and repaint what is no longer the same object.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from pathlib import Path
from typing import NamedTuple, cast

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from chalkfret.desk.steps import Step
from chalkfret.desk.writing import Writing
from chalkfret.model import Lesson
from chalkfret.model.start import new_lesson

_WHOLE_STEPS = 100
"""The steps behind the newest one that hold their lessons; older ones are folded."""


class Mark(NamedTuple):
    """A lesson on the undo stack, to be found again when more has been done."""

    lesson: Lesson
    at: int  # the steps before it
    step: QUndoCommand | None  # the one that led to it


class Document(QObject):
    """The lesson being edited. ``changed`` carries the lesson before and after."""

    changed = Signal(object, object)
    travelled = Signal(object, object)  # after ``changed``, where a step was undone or redone
    replaced = Signal()  # another lesson altogether: forget everything remembered of the last
    path_changed = Signal()
    copy_wished = Signal(object)  # a lesson made from this one is to be shown in its place
    said = Signal(str)  # news or an instruction, for the quiet line at the window's foot
    refused = Signal(str)  # what could not be done and why, for the same line
    section_changed = Signal(int)  # the section in which the teacher is working, from 0

    def __init__(self, lesson: Lesson | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.lesson = lesson or new_lesson()
        self.path: Path | None = None
        self.undo_stack = QUndoStack(self)
        self._section = 0
        self._marks = 0
        self.is_passing = False  # the undo stack is led past steps that are not to be seen

    @property
    def dirty(self) -> bool:
        """Whether there is work that is not on disk."""
        return not self.undo_stack.isClean()

    def apply(self, text: str, lesson: Lesson, merge: Hashable = None) -> bool:
        """Make ``lesson`` the lesson of now, as an undo step with this text.

        Steps in a row with an equal ``merge`` key become one, and so do those of one stretch of
        typing in a field. False where nothing changed.
        """
        if lesson is self.lesson:
            return False
        writing = Writing.current()
        if writing is not None:
            writing.note(self, text, self.lesson, lesson)
            merge = writing
        merge = None if merge is None else (self._marks, merge)
        stack = self.undo_stack
        stack.push(Step(self, text, self.lesson, lesson, merge))
        if stack.index() > _WHOLE_STEPS:
            cast(Step, stack.command(stack.index() - 1 - _WHOLE_STEPS)).fold()
        return True

    def attempt(
        self,
        text: str,
        edit: Callable[[Lesson], Lesson],
        merge: Hashable = None,
        refused: Callable[[str], object] | None = None,
    ) -> bool:
        """Apply ``edit``; where it cannot be done say why, and return False.

        The reason goes to ``refused`` too, for the field in which the impossible was typed.
        """
        from chalkfret.edits import CannotEdit

        try:
            lesson = edit(self.lesson)
        except CannotEdit as cannot:
            from chalkfret.words.sentences import sentence

            words = sentence(cannot.fault)
            if refused is not None:
                refused(words)  # which may change the lesson: what is said comes after it
            self.refused.emit(words)
            return False
        return self.apply(text, lesson, merge)

    def replace(self, lesson: Lesson, path: Path | None) -> None:
        """Show another lesson, with nothing to undo."""
        self.lesson = lesson
        self._section = 0
        self.undo_stack.clear()
        self.path = path
        self.replaced.emit()
        self.path_changed.emit()

    def mark(self) -> Mark:
        """The lesson of now, for a save that ends when more may have been done.

        What is done from now on becomes no part of the step that led here.
        """
        self._marks += 1
        at = self.undo_stack.index()
        return Mark(self.lesson, at, self.undo_stack.command(at - 1) if at else None)

    def saved_as(self, path: Path, mark: Mark | None = None) -> None:
        """The lesson of the mark (without one, of now) lies at ``path``."""
        stack = self.undo_stack
        if mark is None or mark.lesson is self.lesson:
            stack.setClean()
        elif self._leads_through(mark):
            now = stack.index()
            self.is_passing = True
            try:
                stack.setIndex(mark.at)
                stack.setClean()
                stack.setIndex(now)
            finally:
                self.is_passing = False
        else:
            stack.resetClean()  # what was saved can no longer be come back to
        self.path = path
        self.path_changed.emit()

    def lies_nowhere(self) -> None:
        """The lesson belongs to no file any more, and all of it is unsaved work."""
        self.undo_stack.resetClean()
        self.path = None
        self.path_changed.emit()

    def _leads_through(self, mark: Mark) -> bool:
        stack, at = self.undo_stack, mark.at
        return at <= stack.count() and (not at or stack.command(at - 1) is mark.step)

    @property
    def section(self) -> int:
        """The section in which the teacher is working, from 0."""
        return self._section

    @section.setter
    def section(self, index: int) -> None:
        if index != self._section:
            self._section = index
            self.section_changed.emit(index)

    def show_step(self, lesson: Lesson) -> None:
        """Make ``lesson`` the lesson of now: where a step of the undo stack leads."""
        before, self.lesson = self.lesson, lesson
        self._section = min(self._section, len(lesson.sections) - 1)
        self.changed.emit(before, lesson)
