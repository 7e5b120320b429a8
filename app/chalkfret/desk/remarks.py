"""What is legal in the lesson but surely not meant: a quiet count, and the list behind it.

The remarks are looked for when the teacher pauses, never while a key is being pressed; sections
that are the same as before cost nothing.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, strong
from chalkfret.desk.pieces.lines_list import LinesList
from chalkfret.desk.pieces.tools import tool
from chalkfret.edits.place import Spot
from chalkfret.model import Lesson
from chalkfret.model.faults import Fault, Where
from chalkfret.words.text import _, ngettext

_PAUSE_MS = 700


class Remarks(QWidget):
    """The list, which ``open`` shows; ``count`` is the button for the window's foot.

    ``chosen`` carries the place of a remark, ``closed`` that the list was put away.
    """

    chosen = Signal(object)  # edits.place.Spot
    closed = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.found: tuple[Fault, ...] = ()
        self.count = QToolButton()
        self.count.setProperty("quiet", True)
        self.count.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.count.setToolTip(_("What you may not have meant"))
        self.count.clicked.connect(self.turn)
        self.count.hide()
        self.list = LinesList(look, _("Remarks"))
        self.list.chosen.connect(self._choose)
        close = tool(look, "less", _("Close the remarks"), _("Close"), quiet=True)
        close.clicked.connect(self.put_away)
        top = QHBoxLayout()
        top.addWidget(strong(look, _("Remarks: legal, but perhaps not meant")), 1)
        top.addWidget(close)
        self._column = QVBoxLayout(self)
        self._column.addLayout(top)
        self._column.addWidget(self.list)
        self.hide()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(self.look_now)
        document.changed.connect(self.look_later)
        document.replaced.connect(self._forget)
        follow(self, look, self._dress)

    # Finding

    def look_later(self) -> None:
        """Look for remarks when nothing changed for a while."""
        self._timer.start()

    def rest(self) -> None:
        """There is no lesson to look at: say nothing."""
        self._timer.stop()
        self.found = ()
        self.count.hide()
        self.hide()

    def _forget(self) -> None:
        """Another lesson: what was found in the last one is not of it."""
        self.rest()
        self.look_later()

    def look_now(self) -> None:
        """Look for remarks in the lesson as it is now."""
        from chalkfret.words.remarks import remarks

        self._timer.stop()
        found = remarks(self._document.lesson)
        if found == self.found:
            return
        self.found = found
        words = ngettext("{count} remark", "{count} remarks", len(found))
        self.count.setText(words.format(count=len(found)))
        self.count.setVisible(bool(found))
        if self.isVisible():
            self._fill()

    # The list

    def turn(self) -> None:
        """Show the list, or put it away."""
        if self.isVisible():
            self.put_away()
        else:
            self.open()

    def open(self) -> None:
        """Show the list with the focus in it; where there is none say so at the foot."""
        self.look_now()
        if not self.found:
            self._document.said.emit(_("There are no remarks on this lesson."))
            return
        self.show()
        self._fill()
        self.list.setFocus()

    def put_away(self) -> None:
        """Hide the list."""
        self.hide()
        self.closed.emit()

    def _fill(self) -> None:
        from chalkfret.words.sentences import sentence

        if not self.found:
            self.put_away()
            return
        self.list.show_lines([sentence(one) for one in self.found])

    def _choose(self, row: int) -> None:
        if 0 <= row < len(self.found):
            self.chosen.emit(spot_of(self._document.lesson, self.found[row].where))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        self._column.setSpacing(unit(0.5))
        self.count.setFont(self._look.font())
        self.list.fit()


def spot_of(lesson: Lesson, where: Where) -> Spot:
    """The cell of the grid that a place means: its first note, where it names no other."""
    letters = [section.head.letter for section in lesson.sections]
    names = [part.name for part in lesson.parts]
    section = letters.index(where.section) if where.section in letters else 0
    part = names.index(where.part) if where.part in names else 0
    bars = lesson.sections[section].bars
    bar = min((where.bar or 1), len(bars)) - 1
    notes = [note for note in bars[bar].notes[part] if where.course in (None, note.course)]
    first = min(notes, key=lambda note: note.onset, default=None)
    course = where.course or (first.course if first is not None else 1)
    return Spot(section, bar, part, first.onset if first is not None else 0, course)
