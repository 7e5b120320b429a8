"""The tuning as one line of note names, the trade's tunings, and how many strings there are."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QMenu, QToolButton, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.pieces.fields import Field, Unreadable
from chalkfret.desk.pieces.numbers import stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.strings_page.setups import tuning_text
from chalkfret.model import NoteNaming, Setup, limits, tuning_names
from chalkfret.words.text import _


class TuningLine(QWidget):
    """Sends pitches low to high, a tuning of the trade, or a count of strings."""

    tuned = Signal(object)
    chosen = Signal(object)  # a strings.tunings.Tuning
    counted = Signal(object)
    told = Signal(str, bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._count = 6
        self._naming = NoteNaming.ENGLISH
        self.field = Field(self._read, lambda pitches: tuning_text(pitches, self._naming))
        self.field.setAccessibleName(_("Tuning, low to high"))
        self.field.setPlaceholderText(_("for example C G C F A D"))
        self.field.typed.connect(self.tuned)
        self.field.told.connect(self.told)
        self.field.returnPressed.connect(self._insist)
        most, least = limits.COURSES_MAX, limits.COURSES_MIN
        self.strings = Stepper(
            look,
            _("Strings"),
            whole(least, most, _("A guitar has 3 to 12 strings or courses of strings.")),
            str,
            stepper_within(least, most),
            "12",
        )
        self.strings.typed.connect(self.counted)
        self.strings.field.told.connect(self.told)
        self.choose = tool(look, "unfold", _("Choose one of the trade's tunings"), _("Tunings"))
        self.choose.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.menu = QMenu(self.choose)
        self.menu.aboutToShow.connect(self._fill_menu)
        self.choose.setMenu(self.menu)
        grid = self._grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setColumnStretch(0, 1)
        names = (
            (0, small(look, _("Tuning, low to high")), self.field),
            (2, small(look, _("Strings")), self.strings.field),
        )
        for column, name, buddy in names:
            name.setBuddy(buddy)
            grid.addWidget(name, 0, column)
        for column, widget in enumerate((self.field, self.choose, self.strings)):
            grid.addWidget(widget, 1, column)
        follow(self, look, self._dress)

    def show_setup(self, setup: Setup, naming: NoteNaming, may_count: bool) -> None:
        """Show the tuning; the count can be changed where ``may_count``."""
        self._count, self._naming = len(setup.courses), naming
        self.field.show_value(tuning_names(setup))
        self.strings.show_value(self._count)
        self.strings.setEnabled(may_count)

    def _read(self, text: str) -> tuple[str, ...]:
        pitches = self._pitches(text)
        if len(pitches) != self._count:
            raise Unreadable(
                _(
                    "{have} notes for {need} strings: name every string, low to high, or press "
                    "Enter to make it a guitar of {have} strings."
                ).format(have=len(pitches), need=self._count),
                unfinished=True,
            )
        return pitches

    def _pitches(self, text: str) -> tuple[str, ...]:
        from chalkfret.strings.tunings import named
        from chalkfret.theory.naming import CannotRead, read_tuning
        from chalkfret.words.sentences import sentence

        known = named(text)
        if known is not None:
            return known.pitches
        try:
            return read_tuning(text, self._naming)
        except CannotRead as trouble:
            unfinished = trouble.fault.code == "tuning_count"
            raise Unreadable(sentence(trouble.fault), unfinished) from None

    def _insist(self) -> None:
        """Enter: take another number of strings than there are."""
        if not self.field.is_refused:
            return
        try:
            pitches = self._pitches(self.field.text())
        except Unreadable:
            return
        self.tuned.emit(pitches)

    def _fill_menu(self) -> None:
        from chalkfret.strings.tunings import TUNINGS

        self.menu.clear()
        self._fill(self.menu, self._count)
        if not self.strings.isEnabled():
            return
        self.menu.addSeparator()
        for count in sorted({len(tuning.courses) for tuning in TUNINGS} - {self._count}):
            self._fill(self.menu.addMenu(_("{count} strings").format(count=count)), count)

    def _fill(self, menu: QMenu, count: int) -> None:
        from chalkfret.strings.tunings import tunings_for
        from chalkfret.words.strings import tuning_words

        for tuning in tunings_for(count):
            notes = tuning_text(tuning.pitches, self._naming)
            action = menu.addAction(f"{tuning_words(tuning)}\t{notes}")
            action.triggered.connect(lambda _on=False, one=tuning: self.chosen.emit(one))

    def _dress(self) -> None:
        self._grid.setVerticalSpacing(self._look.unit(0.5))
        self._grid.setHorizontalSpacing(self._look.unit(1))
