"""Where the window shows all this: questions above the page, what is going on at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from chalkfret.desk.actions import Action
from chalkfret.words.text import N_, _

if TYPE_CHECKING:
    from chalkfret.desk.safety.asked import Asked
    from chalkfret.desk.safety.busy import Busy
    from chalkfret.desk.safety.earlier import Earlier
    from chalkfret.desk.safety.questions import Questions
    from chalkfret.desk.safety.recovering import Recovering
    from chalkfret.desk.window import Window


class Safety(QObject):
    """Questions, progress, lost work and earlier versions of one window."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._questions: Questions | None = None
        self._busy: Busy | None = None
        self._recovering: Recovering | None = None
        self._earlier: Earlier | None = None
        window.files.asked.connect(self._ask)
        window.files.settled.connect(self._settle)
        window.files.busy.connect(self._tell_busy)

    def begin(self) -> None:
        """Look for what was lost, and for what is still where it was; once the window is seen."""
        self.recovering.look()
        self._window.files.places.look()

    @property
    def recovering(self) -> Recovering:
        """What offers lost work."""
        from chalkfret.desk.safety.recovering import Recovering

        if self._recovering is None:
            window = self._window
            self._recovering = Recovering(window.document, window.files, self)
            self._recovering.asked.connect(self._ask)
            self._recovering.settled.connect(self._settle)
            self._recovering.said.connect(window.document.said)
            self._recovering.refused.connect(window.document.refused)
        return self._recovering

    @property
    def earlier(self) -> Earlier:
        """What lists earlier versions."""
        from chalkfret.desk.safety.earlier import Earlier

        if self._earlier is None:
            window = self._window
            self._earlier = Earlier(window.document, window.files, self)
            self._earlier.asked.connect(self._ask)
            self._earlier.said.connect(window.document.said)
            self._earlier.refused.connect(window.document.refused)
        return self._earlier

    @property
    def questions(self) -> Questions:
        """The questions above the page; made when the first is asked."""
        from chalkfret.desk.safety.questions import Questions

        if self._questions is None:
            self._questions = Questions(self._window.look)
            self._questions.emptied.connect(self._window.focus_page)
            self._window.put_above(self._questions)
        return self._questions

    @property
    def busy(self) -> Busy:
        """What is going on, at the foot; made when something first is."""
        from chalkfret.desk.safety.busy import Busy

        if self._busy is None:
            self._busy = Busy(self._window.look)
            self._busy.stopped.connect(self._window.files.stop_waiting)
            self._window.put_at_foot(self._busy)
        return self._busy

    def _ask(self, asked: Asked) -> None:
        self.questions.ask(asked)

    def _settle(self, key: str) -> None:
        if self._questions is not None:
            self._questions.settle(key)

    def _tell_busy(self, words: str) -> None:
        if words or self._busy is not None:
            self.busy.tell(words)

    def actions(self) -> list[Action]:
        """What the teacher can ask for."""
        lesson = N_("&Lesson")
        return [
            Action("earlier_versions", _("Earlier &versions …"), (), lesson,
                   lambda: self.earlier.look(), self._window.has_lesson),
            Action("unsaved_work", _("&Unsaved work …"), (), lesson,
                   lambda: self.recovering.look(wished=True)),
        ]  # fmt: skip
