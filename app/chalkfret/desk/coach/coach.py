"""Watches what the teacher does in "First steps" and says the next thing to try."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from chalkfret.desk.coach.lesson import first_steps_lesson
from chalkfret.desk.coach.line import CoachLine
from chalkfret.desk.coach.steps import STEPS, Seen
from chalkfret.model import Lesson
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid
    from chalkfret.desk.window import Window


class Coach(QObject):
    """One step after the other, for as long as it is wanted; ``moved`` with each new one."""

    moved = Signal(int)

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._step: int | None = None
        self._undone = 0
        self._watches_grid = False
        self._asked: Seen | None = None  # when the step was asked
        self._last: Seen | None = None  # before the last change
        self._lesson: Lesson | None = None  # the one that was asked for
        self.line = CoachLine(window.look)
        self.line.hide()
        window.put_above(self.line)
        self.line.skipped.connect(self.skip)
        self.line.left.connect(self.leave)
        document = window.document
        document.changed.connect(self._look)
        document.travelled.connect(self._note_travel)
        document.path_changed.connect(self._look)
        document.undo_stack.cleanChanged.connect(self._look)
        document.replaced.connect(self.leave)
        window.registry.changed.connect(self._say)
        window.files.opened.connect(self._opened)

    # Coming and going

    @property
    def step(self) -> int | None:
        """The step that is asked for, from 0; one more than there are: all done; None: away."""
        return self._step

    def begin(self) -> None:
        """Open the lesson and ask for the first step, once unsaved work was asked about."""
        self._lesson = first_steps_lesson()
        self._window.files.show_copy(self._lesson)

    def _opened(self) -> None:
        if self._window.document.lesson is self._lesson:
            self._window.show_page("riffs")
            self.go_on_at(0)
        self._lesson = None

    def go_on_at(self, step: int) -> None:
        """Ask for this step, as a window did before this one."""
        if not self._watches_grid:
            self._grid.moved.connect(self._look)
            self._watches_grid = True
        self._ask(step)
        self.line.show()

    def skip(self) -> None:
        """On to the next step, though this one was not done."""
        if self._step is not None and self._step < len(STEPS):
            self._ask(self._step + 1)
        self._window.focus_page()

    def leave(self) -> None:
        """No more of it; the lesson stays as it is."""
        if self._step is None:
            return
        self._step = None
        focus = self._window.focusWidget()
        had_keys = focus is not None and self.line.isAncestorOf(focus)
        self.line.hide()
        if had_keys:
            self._window.focus_page()

    # Watching

    @property
    def _grid(self) -> Grid:
        from chalkfret.desk.riffs.page import RiffsPage

        page = self._window.page("riffs")
        assert isinstance(page, RiffsPage)
        return page.grid

    def _seen(self) -> Seen:
        document = self._window.document
        return Seen(
            lesson=document.lesson,
            path=document.path,
            saved=not document.dirty,
            cursor=self._grid.here,
            undone=self._undone,
        )

    def _note_travel(self) -> None:
        self._undone += 1
        self._look()

    def _look(self) -> None:
        if self._step is None or self._asked is None or self._step >= len(STEPS):
            return
        step, now, last = STEPS[self._step], self._seen(), self._last
        self._last = now
        before = self._asked if step.several or last is None else last
        if step.done(before, now):
            self._ask(self._step + 1)

    def _ask(self, step: int) -> None:
        self._step = step
        self._asked = self._last = self._seen()
        self._say()
        self.moved.emit(step)

    def _say(self) -> None:
        if self._step is None:
            return
        keys = self._window.registry.action
        if self._step < len(STEPS):
            step = STEPS[self._step]
            named = [keys(one).keys_text() or _("(no key)") for one in step.keys]
            self.line.ask(self._step + 1, len(STEPS), _(step.asks).format(*named))
        else:
            words = _("That is all it takes to begin. {} lists every key, {} finds anything.")
            named = [keys(one).keys_text() for one in ("keys", "find")]
            self.line.end(words.format(*named))
