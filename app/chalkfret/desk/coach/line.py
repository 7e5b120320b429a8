"""The coach's line above the page: how far one is, what to do next, and the way out."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.icons import pixmap
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import Wrapped, follow, small
from chalkfret.words.text import _


class CoachLine(QWidget):
    """``skipped``: the next step is wanted; ``left``: no more of it."""

    skipped = Signal()
    left = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._words = Wrapped()
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._count = small(look)
        self._done = QLabel()
        room = self._done.sizePolicy()
        room.setRetainSizeWhenHidden(True)  # the page below must not jump when a step is ticked off
        self._done.setSizePolicy(room)
        self._done.setAccessibleName(_("The step before is done"))
        self.skip = QPushButton(_("Skip this"))
        self.skip.clicked.connect(self.skipped)
        self.leave = QPushButton(_("Leave the first steps"))
        self.leave.clicked.connect(self.left)
        for button in (self.skip, self.leave):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keys in the grid
        # The words have a line of their own: beside the buttons they would stand in a column.
        self._top = QHBoxLayout()
        self._top.addWidget(self._done)
        self._top.addWidget(self._count, 1)
        self._top.addWidget(self.skip)
        self._top.addWidget(self.leave)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._top)
        self._column.addWidget(self._words)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        follow(self, look, self._dress)

    def _dress(self) -> None:
        look, unit = self._look, self._look.unit
        self._column.setContentsMargins(unit(2), unit(0.5), unit(2), unit(0.5))
        self._column.setSpacing(0)
        self._top.setSpacing(unit())
        side = unit(3)
        ratio = self.devicePixelRatioF()
        picture = pixmap("done", look.colour("ochre"), round(side * ratio))
        picture.setDevicePixelRatio(ratio)
        self._done.setPixmap(picture)
        self._done.setFixedWidth(side)

    @property
    def words(self) -> str:
        """What is asked."""
        return self._words.text()

    def take_focus(self) -> None:
        """Go to its first button."""
        first = self.skip if self.skip.isVisible() else self.leave
        first.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def ask(self, number: int, of: int, words: str) -> None:
        """Ask for a step, from 1 on."""
        count = _("First steps, {number} of {count}").format(number=number, count=of)
        self._count.setText(count)
        self._show(words, first=number == 1)
        self.skip.show()
        self.leave.setText(_("Leave the first steps"))

    def end(self, words: str) -> None:
        """All steps were done."""
        self._count.setText(_("First steps, all done"))
        self._show(words)
        self.skip.hide()
        self.leave.setText(_("Close"))

    def _show(self, words: str, first: bool = False) -> None:
        self._words.setText(words)
        self._done.setVisible(not first)
        announce(self, words)
