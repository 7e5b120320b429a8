"""What one guitar does otherwise than another, as a list under the grid; each line leads there."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from chalkfret.arrange.differences import DifferentBars, section_differences
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.lines_list import LinesList
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.riffs.comparing import Comparison
from chalkfret.words.differences import bars_words, difference_words
from chalkfret.words.text import _

_PAUSE_MS = 300


class DifferencesList(QWidget):
    """The list; ``open`` shows it with the focus in it, Escape puts it away.

    It follows the lesson when the teacher pauses, never while a key is being pressed.
    """

    chosen = Signal(int, int, int)  # section and bar, and the part that is spoken of
    closed = Signal()

    def __init__(self, document: Document, comparison: Comparison, look: Look) -> None:
        super().__init__()
        self._document, self._comparison, self._look = document, comparison, look
        self.found: list[tuple[int, DifferentBars]] = []
        self.two = Choice(name=_("The guitar that is spoken of"))
        self.one = Choice(name=_("The guitar it is held against"))
        self.two.chosen.connect(lambda two: comparison.choose(comparison.pair[0], two))
        self.one.chosen.connect(lambda one: comparison.choose(one, comparison.pair[1]))
        self.list = LinesList(look, _("Differences of two guitars"))
        self.list.chosen.connect(self._choose)
        self.nothing = QLabel(_("These two guitars do the same from beginning to end."))
        self._arrange()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(self.look_now)
        document.changed.connect(self._look_later)
        document.replaced.connect(self._look_later)
        comparison.changed.connect(self._look_later)
        follow(self, look, self._dress)
        self.hide()

    def _arrange(self) -> None:
        close = tool(self._look, "less", _("Close the differences"), _("Close"), quiet=True)
        close.clicked.connect(self.put_away)
        self._top = QHBoxLayout()
        said = QLabel(_("What is otherwise in")), QLabel(_("than in"))
        self._top.addWidget(FlowRow(said[0], self.two, said[1], self.one), 1)
        self._top.addWidget(close, 0, Qt.AlignmentFlag.AlignTop)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._top)
        self._column.addWidget(self.list)
        self._column.addWidget(self.nothing)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        self._column.setSpacing(unit(0.5))
        self._top.setSpacing(unit())
        self.list.fit()

    def open(self) -> None:
        """Show the list; where there is but one guitar say so at the foot."""
        if not self._comparison.possible:
            self._document.refused.emit(_("There is only one guitar: nothing to hold it against."))
            return
        self.show()
        self.look_now()
        (self.list if self.found else self.two).setFocus()

    def put_away(self) -> None:
        """Hide the list."""
        self.hide()
        self.closed.emit()

    def _look_later(self) -> None:
        if self.isVisible():
            self._timer.start()

    def look_now(self) -> None:
        """List the differences in the lesson as it is now."""
        self._timer.stop()
        if not self._comparison.possible:
            self.put_away()
            return
        lesson, (one, two) = self._document.lesson, self._comparison.pair
        names = [part.name for part in lesson.parts]
        for choice, value in ((self.one, one), (self.two, two)):
            choice.set_choices(dict(enumerate(names)))
            choice.show_value(value)
        self.found = [
            (index, bars)
            for index, section in enumerate(lesson.sections)
            for bars in section_differences(section, lesson.parts, one, two)
        ]
        self.list.show_lines(
            [
                _("{place}: {sentence}").format(
                    place=bars_words(lesson.sections[index].head.letter, bars),
                    sentence=difference_words(bars.what, names[two], names[one]),
                )
                for index, bars in self.found
            ]
        )
        self.list.setVisible(bool(self.found))
        self.nothing.setVisible(not self.found)

    def _choose(self, row: int) -> None:
        section, bars = self.found[row]
        self.chosen.emit(section, bars.first, self._comparison.pair[1])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
