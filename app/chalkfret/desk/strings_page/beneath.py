"""What stands beneath the strings: the set at a glance, gauges for a feel, and the retune card.

It is reckoned a moment after the last change, so that typing never waits for it.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from chalkfret.desk.actions import Action
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.settings import Kept
from chalkfret.desk.shelf import Shelf
from chalkfret.desk.strings_page.bars import Bars
from chalkfret.desk.strings_page.feel import Feel
from chalkfret.desk.strings_page.retuning import Retuning
from chalkfret.model import Lesson, Setup
from chalkfret.words.text import N_, _

_PAUSE_MS = 150


class Beneath(QWidget):
    """Follows the setup that is shown; ``strung`` sends it with other gauges."""

    strung = Signal(object)

    def __init__(self, look: Look, shelf: Kept[Shelf]) -> None:
        super().__init__()
        self._waiting: tuple[Lesson, int, Setup] | None = None
        self._shown: tuple[Lesson, int, Setup] | None = None
        self.bars, self.feel, self.retuning = Bars(look), Feel(look), Retuning(look, shelf)
        self.feel.strung.connect(self.strung)
        shelf.changed.connect(self._offer_shelf)
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._pause.timeout.connect(self.catch_up)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.bars, self.feel, self.retuning):
            column.addWidget(widget)
        follow(self, look, lambda: column.setSpacing(look.unit(3)))

    def show_setup(self, lesson: Lesson, part: int, setup: Setup) -> None:
        """Show this setup of a part: at once where nothing is shown yet, else in a moment."""
        self._waiting = lesson, part, setup
        if self._shown is None:
            self.catch_up()
        else:
            self._pause.start()

    def page_actions(self, shown: Callable[[], bool]) -> tuple[Action, ...]:
        """What keys and menus do here; ``shown`` tells whether the page is."""
        menu = N_("&Part")
        return (
            Action("strings_gauges", _("Find gauges for a &feel"), (), menu,
                   self.feel.wish.setFocus, shown),
            Action("strings_gauges_in", _("Write the found gauges in"), (), "",
                   self.feel.put_on.click, lambda: shown() and self.feel.put_on.isEnabled()),
            Action("strings_retune", _("&Retune card"), (), menu,
                   self.retuning.start.setFocus, shown),
        )  # fmt: skip

    def catch_up(self) -> None:
        """Show now what is to be shown."""
        self._pause.stop()
        if self._waiting is None:
            return
        lesson, part, setup = self._shown = self._waiting
        self._waiting = None
        self.bars.show_setup(setup, lesson.head.note_naming)
        self.feel.show_setup(setup)
        self.retuning.show_setup(lesson, part, setup)

    def _offer_shelf(self) -> None:
        """What was put up or taken off is among the tunings, or no more."""
        if self._shown is not None:
            self.retuning.show_setup(*self._shown)
