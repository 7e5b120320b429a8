"""The cursor's guitar in another tuning: what comes of it, and a new guitar that plays it so.

It opens as a line under the grid: a tuning is chosen, and whether pitches or frets stay; the line
says at once what that gives, and one press puts it beside the first guitar as one step to undo.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.lines_list import LinesList
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.shelf import open_shelf
from chalkfret.edits import parts
from chalkfret.edits.parts import ArrangedNotes
from chalkfret.model import Lesson, Setup
from chalkfret.model.start import plain_setup
from chalkfret.strings.tunings import TUNINGS, named
from chalkfret.words.arranging import arranged_words, frets_words, otherwise_words
from chalkfret.words.strings import tuning_words
from chalkfret.words.text import N_, _, said

_USUAL: Final = ("Standard", "Drop D", "D standard", "Drop C")  # what most students have
_PAUSE_MS = 300


class Keep(StrEnum):
    """What stays of the riff."""

    PITCH = "pitch"
    FRETS = "frets"


_KEEP: Final = {Keep.PITCH: N_("the same notes"), Keep.FRETS: N_("the same frets")}


def offered(shelf: tuple[Setup, ...]) -> dict[tuple[str, str], str]:
    """Tunings to choose from and their words: the usual ones, the teacher's shelf, all others."""
    usual = [tuning for name in _USUAL if (tuning := named(name)) is not None]
    rest = [tuning for tuning in TUNINGS if tuning not in usual]
    words = {("trade", tuning.name): tuning_words(tuning) for tuning in usual}
    words |= {("shelf", setup.name): setup.name for setup in shelf}
    return words | {("trade", tuning.name): tuning_words(tuning) for tuning in rest}


def setup_for(chosen: tuple[str, str], shelf: tuple[Setup, ...]) -> Setup | None:
    """The setup of a choice; None where the shelf has it no longer."""
    kind, name = chosen
    if kind == "shelf":
        return next((setup for setup in shelf if setup.name == name), None)
    tuning = named(name)
    if tuning is None:
        return None
    return plain_setup(tuning.pitches, [None] * len(tuning.pitches), name=tuning.name)


def arranged(
    lesson: Lesson, part: int, setup: Setup, keep: Keep
) -> tuple[ArrangedNotes, list[str]]:
    """The notes on the setup, and what there is to say of them."""
    if keep is Keep.FRETS:
        from chalkfret.arrange.same_frets import same_frets

        frets = same_frets(lesson, part, setup)
        return frets.notes, frets_words(lesson, frets)
    from chalkfret.arrange.same_pitch import same_pitch

    found = same_pitch(lesson, part, setup)
    naming = lesson.head.note_naming
    return found.notes, [arranged_words(found), *otherwise_words(lesson, found, naming)]


class OtherTuning(QWidget):
    """The line; ``open`` shows it with the focus in it, Escape puts it away."""

    left = Signal()

    def __init__(self, document: Document, grid: Grid, look: Look) -> None:
        super().__init__()
        self._document, self._grid, self._look = document, grid, look
        self._shelf: tuple[Setup, ...] = ()
        self.tuning = Choice(name=_("The other tuning"))
        self.keep = Choice(said(_KEEP), name=_("What stays of the riff"))
        self.keep.show_value(Keep.PITCH)
        self.list = LinesList(look, _("What is otherwise in the other tuning"))
        self.put = tool(look, "add", _("Add it as a new guitar"), _("Add it as a new guitar"))
        self.put.clicked.connect(self._put)
        self.tuning.chosen.connect(self.look_now)
        self.keep.chosen.connect(self.look_now)
        self._arrange()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(self.look_now)
        for changed in (document.changed, document.replaced, grid.moved):
            changed.connect(self._look_later)
        follow(self, look, self._dress)
        self.hide()

    def _arrange(self) -> None:
        close = tool(self._look, "less", _("Close the other tuning"), _("Close"), quiet=True)
        close.clicked.connect(self.put_away)
        self.who = QLabel()
        self._top = QHBoxLayout()
        for widget in (self.who, self.tuning, self.keep, self.put):
            self._top.addWidget(widget)
        self._top.addStretch(1)
        self._top.addWidget(close)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._top)
        self._column.addWidget(self.list)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        self._column.setSpacing(unit(0.5))
        self._top.setSpacing(unit())
        self.list.fit()

    def open(self) -> None:
        """Show the line for the cursor's guitar."""
        self._shelf = open_shelf().value.setups
        self.tuning.set_choices(offered(self._shelf))
        if self.tuning.value is None:
            self.tuning.show_value(("trade", _USUAL[0]))
        self.show()
        self.look_now()
        self.tuning.setFocus()

    def put_away(self) -> None:
        """Hide the line."""
        self.hide()
        self.left.emit()

    def _look_later(self) -> None:
        if self.isVisible():
            self._timer.start()

    def look_now(self) -> None:
        """Say what the tuning gives for the guitar and the lesson of now."""
        self._timer.stop()
        lesson, part = self._document.lesson, self._grid.here.part
        setup = setup_for(self.tuning.value, self._shelf) if self.tuning.value else None
        self.who.setText(_("{part} in").replace("{part}", lesson.parts[part].name))
        self.put.setEnabled(setup is not None)
        if setup is not None:
            self.list.show_lines(arranged(lesson, part, setup, self.keep.value)[1])

    def _put(self) -> None:
        part = self._grid.here.part
        setup = setup_for(self.tuning.value, self._shelf)
        if setup is None:
            return
        name = self._document.lesson.parts[part].name
        keep = self.keep.value
        text = _("Play {part} in another tuning").replace("{part}", name)

        def edit(lesson: Lesson) -> Lesson:
            notes, _words = arranged(lesson, part, setup, keep)
            wished = f"{name} ({setup.name})"
            return parts.add_arranged(lesson, part, setup, notes, wished)

        if self._document.attempt(text, edit):
            self.put_away()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
