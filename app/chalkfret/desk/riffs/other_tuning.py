"""The cursor's guitar in another tuning: what comes of it, and a new guitar that plays it so.

It opens as a line under the grid: a tuning is chosen, and whether pitches or frets stay; the line
says at once what that gives, and one press puts it beside the first guitar as one step to undo,
or begins a new lesson with it. Of all students' setups it says what each is to play.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.lines_list import LinesList
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.shelf import open_shelf
from chalkfret.edits import parts
from chalkfret.edits.parts import ArrangedNotes
from chalkfret.model import Lesson, Setup
from chalkfret.model.start import plain_setup
from chalkfret.strings.tunings import TUNINGS, named, usual_tunings
from chalkfret.words.arranging import (
    arranged_words,
    otherwise_words,
    student_sentence,
)
from chalkfret.words.same_frets import frets_words
from chalkfret.words.strings import tuning_words
from chalkfret.words.text import N_, _, said

if TYPE_CHECKING:
    from chalkfret.arrange.students import StudentPart

_STUDENTS: Final = ("students", "")
_PAUSE_MS = 300
_SHARE = 0.2  # of the window's height, for the list


class Keep(StrEnum):
    """What stays of the riff."""

    PITCH = "pitch"
    FRETS = "frets"


_KEEP: Final = {Keep.PITCH: N_("the same notes"), Keep.FRETS: N_("the same frets")}


def offered(lesson: Lesson, shelf: tuple[Setup, ...]) -> dict[tuple[str, str], str]:
    """What to choose from, and its words.

    All students' setups at once; each that the lesson names; the usual tunings; the teacher's
    shelf; all other tunings.
    """
    usual = usual_tunings()
    rest = [tuning for tuning in TUNINGS if tuning not in usual]
    words = {_STUDENTS: _("all students’ setups")}
    words |= {("student", str(at)): student.name for at, student in enumerate(lesson.head.students)}
    words |= {("trade", tuning.name): tuning_words(tuning) for tuning in usual}
    words |= {("shelf", setup.name): setup.name for setup in shelf}
    return words | {("trade", tuning.name): tuning_words(tuning) for tuning in rest}


def setup_for(
    chosen: tuple[str, str] | None, lesson: Lesson, shelf: tuple[Setup, ...]
) -> Setup | None:
    """The setup of a choice; None for all students', or where there is no such setup any more."""
    kind, name = chosen or _STUDENTS
    if kind == "shelf":
        return next((setup for setup in shelf if setup.name == name), None)
    if kind == "student":
        students = lesson.head.students
        return students[int(name)].setup if int(name) < len(students) else None
    tuning = named(name)
    if tuning is None:
        return None
    return plain_setup(tuning.pitches, [None] * len(tuning.pitches), name=tuning.name)


def cards(lesson: Lesson, part: int) -> list[StudentPart]:
    """What each student is to play."""
    from chalkfret.arrange.students import advised, students_of

    return [advised(lesson, student, part) for student in students_of(lesson)]


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
        self.list = LinesList(look, _("What is otherwise in the other tuning"), most_share=_SHARE)
        self.put = tool(look, "add", _("Add it as a new guitar"), _("Add it as a new guitar"))
        self.put.clicked.connect(self._put)
        self.begin = tool(look, "open", _("Begin a new lesson with it"), _("As a new lesson"))
        self.begin.clicked.connect(self._begin)
        self._cards: list[StudentPart] = []
        self.list.chosen.connect(self._show_student)
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
        self._top.addWidget(FlowRow(self.who, self.tuning, self.keep, self.put, self.begin), 1)
        self._top.addWidget(close, 0, Qt.AlignmentFlag.AlignTop)
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
        self.tuning.set_choices(offered(self._document.lesson, self._shelf))
        if self.tuning.value is None:
            self.tuning.show_value(("trade", usual_tunings()[0].name))
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
        self.tuning.set_choices(offered(lesson, self._shelf))
        setup = setup_for(self.tuning.value, lesson, self._shelf)
        self.who.setText(_("{part} in").replace("{part}", lesson.parts[part].name))
        for widget in (self.keep, self.put, self.begin):
            widget.setEnabled(setup is not None)
        self._cards = []
        if self.tuning.value == _STUDENTS:
            self._cards = cards(lesson, part)
            self.list.show_lines([student_sentence(lesson, card) for card in self._cards])
        elif setup is not None:
            self.list.show_lines(arranged(lesson, part, setup, self.keep.value)[1])
        else:
            self.list.show_lines([])

    def _show_student(self, row: int) -> None:
        """Go from the card of a student to what it asks for."""
        if row >= len(self._cards):
            return
        from chalkfret.arrange.students import Advice

        card, mine = self._cards[row], self._document.lesson.head.students
        self.tuning.show_value(("student", str(row)) if mine else ("trade", card.name))
        other = card.advice is Advice.FINGERED
        self.keep.show_value(Keep.PITCH if other else Keep.FRETS)
        self.look_now()

    def _put(self) -> None:
        lesson, part = self._document.lesson, self._grid.here.part
        setup = setup_for(self.tuning.value, lesson, self._shelf)
        if setup is None:
            return
        name = lesson.parts[part].name
        keep = self.keep.value
        text = _("Play {part} in another tuning").replace("{part}", name)

        def edit(lesson: Lesson) -> Lesson:
            notes, _words = arranged(lesson, part, setup, keep)
            wished = f"{name} ({setup.name})"
            return parts.add_arranged(lesson, part, setup, notes, wished)

        if self._document.attempt(text, edit):
            self.put_away()

    def _begin(self) -> None:
        """A new lesson in which the guitar plays so; unsaved work is asked about."""
        from chalkfret.edits import CannotEdit
        from chalkfret.words.sentences import sentence

        lesson, part = self._document.lesson, self._grid.here.part
        setup = setup_for(self.tuning.value, lesson, self._shelf)
        if setup is None:
            return
        notes, _words = arranged(lesson, part, setup, self.keep.value)
        try:
            new = parts.arrange(lesson, part, setup, notes)
        except CannotEdit as cannot:
            self._document.refused.emit(sentence(cannot.fault))
            return
        self._document.copy_wished.emit(new)
        if self._document.lesson is new:
            self.put_away()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
