"""What is said of something unexpected, above the page: never in the way of the hands."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import HEADING, Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.saying import Saying
from chalkfret.words.text import _


class TroubleBar(QWidget):
    """Says that something went wrong, and what the teacher can do; Escape in it goes on."""

    copy_wished = Signal()
    report_wished = Signal()
    gone_on = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setAccessibleName(_("Something went wrong"))
        self._heading, self._words = QLabel(), QLabel()
        for label in (self._heading, self._words):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        self._saying = Saying(look)
        self.copy = QPushButton(_("Save a copy …"))
        self.report = QPushButton(_("Look at the report …"))
        self.go_on = QPushButton(_("Go on"))
        self.copy.clicked.connect(self.copy_wished)
        self.report.clicked.connect(self.report_wished)
        self.go_on.clicked.connect(self.put_away)
        self._column = QVBoxLayout(self)
        for widget in (
            self._heading,
            self._words,
            self._saying,
            FlowRow(self.copy, self.report, self.go_on),
        ):
            self._column.addWidget(widget)
        follow(self, look, self._dress)
        self.hide()

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        self._column.setSpacing(unit())
        self._heading.setFont(self._look.font(HEADING))
        in_colour(self._heading, self._look, "warning")

    def tell(self, heading: str, words: str) -> None:
        """Show this, and say it to who listens; the focus stays where the hands are."""
        told = (heading, words) == (self._heading.text(), self._words.text()) and self.isVisible()
        self._heading.setText(heading)
        self._words.setText(words)
        if told:
            return
        if not self.isVisible():
            self._saying.say("")
            self.show()
        alert = QAccessibleEvent(self, QAccessible.Event.Alert)
        QAccessible.updateAccessibility(alert)

    def take_focus(self) -> None:
        """Go to its first button."""
        self.copy.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def say(self, sentence: str, loud: bool = False) -> None:
        """Say what became of the copy."""
        self._saying.say(sentence, loud)

    @property
    def text(self) -> str:
        """What is said, a part a line."""
        parts = (self._heading.text(), self._words.text(), self._saying.text)
        return "\n".join(part for part in parts if part)

    def put_away(self) -> None:
        """The teacher goes on."""
        self.hide()
        self.gone_on.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
