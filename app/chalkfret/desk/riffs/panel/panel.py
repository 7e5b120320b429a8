"""The section panel: groups of controls, one under the other, that follow cursor and lesson."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.riffs.panel.bars_group import BarsGroup
from chalkfret.desk.riffs.panel.cues_group import CuesGroup
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.key_group import KeyGroup
from chalkfret.desk.riffs.panel.note_group import NoteGroup
from chalkfret.desk.riffs.panel.section_group import SectionGroupNames
from chalkfret.desk.riffs.panel.tempo_group import TempoGroup
from chalkfret.desk.riffs.panel.texts_group import NotesGroup, ShowGroup
from chalkfret.edits.place import Spot
from chalkfret.model import Lesson, Place, Section
from chalkfret.words.text import _

_WIDTH_UNITS = 46
_LEAST_UNITS = 40


@dataclass(frozen=True)
class Meant:
    """What of the grid the panel speaks about, asked for when it is needed."""

    bars: Callable[[], tuple[int, int]]  # the first bar that is meant, and how many
    heads_seen: Callable[[], int]  # another number whenever a bar's head differs
    note: Callable[[], Spot | None]
    place: Callable[[], tuple[Place, str]]  # where the cursor is, and in which part


class SectionPanel(QScrollArea):
    """Everything said of the section, its bars and the note; Escape leads back to the grid."""

    left = Signal()

    def __init__(self, document: Document, look: Look, meant: Meant) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.section = SectionGroupNames(document, look)
        self.tempo = TempoGroup(document, look)
        self.key = KeyGroup(document, look)
        self.bars = BarsGroup(document, look, meant.bars, meant.place, meant.heads_seen)
        self.cues = CuesGroup(document, look, meant.place)
        self.note = NoteGroup(document, look, meant.note)
        self.notes = NotesGroup(document, look)
        self.show_on_sheet = ShowGroup(document, look)
        self._of_head: tuple[SectionGroup, ...] = (
            self.section, self.tempo, self.key, self.cues, self.notes, self.show_on_sheet,
        )  # fmt: skip
        self._shown_head: object = None
        self._arrange()
        document.changed.connect(self._lesson_changed)
        document.replaced.connect(self.show_all)
        document.section_changed.connect(self.show_all)
        follow(self, look, self._dress)
        self.show_all()

    def _arrange(self) -> None:
        body = QWidget()
        body.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._column = QVBoxLayout(body)
        groups = (
            self.section, self.tempo, self.key, self.cues, self.note, self.bars, self.notes,
            self.show_on_sheet,
        )  # fmt: skip
        for index, group in enumerate(groups):
            if index:
                self._column.addWidget(_line())
            self._column.addWidget(group)
        self._column.addStretch(1)
        self.setWidget(body)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(_("Section panel"))

    def _dress(self) -> None:
        look = self._look
        self._column.setContentsMargins(look.unit(2), look.unit(1.5), look.unit(2), look.unit(2))
        self._column.setSpacing(look.unit(1.5))
        self.setMinimumWidth(self._least())

    def _least(self) -> int:
        """The width in which no word of it is cut, in any language."""
        self._column.activate()
        needed = self._column.minimumSize().width() + self.verticalScrollBar().sizeHint().width()
        return max(self._look.unit(_LEAST_UNITS), needed)

    def wide(self, room: int) -> int:
        """The width it would like in a page so wide."""
        return max(self._least(), min(self._look.unit(_WIDTH_UNITS), round(room * 0.34)))

    @property
    def _section(self) -> Section:
        return self._document.lesson.sections[self._document.section]

    def show_all(self) -> None:
        """Show the section anew."""
        section = self._section
        self._shown_head = section.head
        for group in self._of_head:
            group.show_section(section)
        self.show_place()

    def show_place(self) -> None:
        """Show the bars and the note that are meant now."""
        section = self._section
        self.bars.show_section(section)
        self.note.show_section(section)

    def _lesson_changed(self, before: Lesson, after: Lesson) -> None:
        same = before.head is after.head and before.parts is after.parts
        if same and self._section.head is self._shown_head:
            self.show_place()
        else:
            self.show_all()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)


def _line() -> QFrame:
    line = QFrame()
    line.setObjectName("line")
    line.setFixedHeight(1)
    return line
