"""The Riffs page: the strip of sections above, the grid, and the section's panel beside it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.move_actions import move_actions
from chalkfret.desk.riffs.note_actions import NoteActions
from chalkfret.desk.riffs.typing import Typist


class RiffsPage(QWidget):
    """Where riffs are written."""

    place_changed = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document = document
        self.grid = Grid(document, look)
        self.typist = Typist(document, self.grid)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.addWidget(self.grid)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self._split, 1)
        self.grid.moved.connect(self._moved)

    def key_home(self) -> QWidget:
        """The grid has the keys."""
        return self.grid

    def page_actions(self) -> list[Action]:
        """All that can be done on this page."""
        return [
            *NoteActions(self._document, self.grid, self.typist).all(),
            *move_actions(self._document, self.grid),
        ]

    def _moved(self, cursor: Cursor) -> None:
        self._document.section = cursor.section
