"""What is legal in the lesson but surely not meant: a quiet count, and the list behind it.

The remarks are looked for when the teacher pauses, never while a key is being pressed; sections
that are the same as before cost nothing.
"""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import dress_page, follow, strong
from chalkfret.desk.pieces.tools import tool
from chalkfret.edits.place import Spot
from chalkfret.model import Lesson
from chalkfret.model.faults import Fault, Where
from chalkfret.words.text import _, ngettext

_PAUSE_MS = 700
_ROWS_SEEN = 5


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
        self.list = QListWidget()
        self.list.setAccessibleName(_("Remarks"))
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.itemActivated.connect(lambda _item: self._choose())
        self.list.itemClicked.connect(lambda _item: self._choose())
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
        document.replaced.connect(self.look_later)
        for widget in (self, self.count):
            dress_page(widget, look)
        follow(self, look, self._dress)

    # Finding

    def look_later(self) -> None:
        """Look for remarks when nothing changed for a while."""
        self._timer.start()

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
        row = max(0, self.list.currentRow())
        self.list.clear()
        for one in self.found:
            item = QListWidgetItem(sentence(one))
            item.setToolTip(item.text())
            self.list.addItem(item)
        self.list.setCurrentRow(min(row, len(self.found) - 1))
        QTimer.singleShot(0, self, self._fit)  # when it has the width in which words wrap

    def _choose(self) -> None:
        row = self.list.currentRow()
        if 0 <= row < len(self.found):
            self.chosen.emit(spot_of(self._document.lesson, self.found[row].where))

    def _fit(self) -> None:
        """As high as its first rows, each as high as its wrapped words."""
        metrics, unit = self.list.fontMetrics(), self._look.unit()
        width = self.list.viewport().width() - 2 * unit
        heights = []
        for row in range(self.list.count()):
            item = self.list.item(row)
            room = QRect(0, 0, width, 10_000)
            words = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, item.text())
            heights.append(words.height() + unit)
            item.setSizeHint(QSize(width, heights[-1]))
        height = sum(heights[:_ROWS_SEEN])
        frame = self.list.height() - self.list.viewport().height()
        self.list.setFixedHeight(height + max(frame, 4))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

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
        self._fit()


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
