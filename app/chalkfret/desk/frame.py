"""The quiet parts round the pages: the row of page words, the foot, a notice, the empty state."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from chalkfret.desk.actions import Registry
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import Wrapped
from chalkfret.desk.pieces.elided import Elided

_SAID_MS = 10_000


def in_colour(label: QLabel, look: Look, colour: str) -> None:
    """Write the label in a colour of the palette."""
    palette = label.palette()
    palette.setColor(label.foregroundRole(), look.colour(colour))
    label.setPalette(palette)


class PageWord(QPushButton):
    """One word of the row of pages; the page that is shown is underlined in ochre."""

    def __init__(self, look: Look, text: str) -> None:
        super().__init__()
        self._look = look
        self.setText(text)
        self.setAccessibleName(text)
        self.setCheckable(True)
        self.setAutoExclusive(True)  # one of a few, to those who hear it too
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)

    def paintEvent(self, _event: QPaintEvent) -> None:
        look, painter = self._look, QPainter(self)
        painter.setFont(look.font(strong=self.isChecked()))
        hot = self.underMouse() or self.hasFocus()
        painter.setPen(look.colour("ink" if self.isChecked() else "blue" if hot else "soft"))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.text())
        bar = look.unit(0.375)
        if self.isChecked():
            painter.fillRect(0, self.height() - bar, self.width(), bar, look.colour("ochre"))
        if self.hasFocus():
            painter.setPen(QPen(look.colour("blue"), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1 - bar))
        painter.end()

    def sizeHint(self):
        text = QFontMetrics(self._look.font(strong=True)).horizontalAdvance(self.text())
        return QSize(text + self._look.unit(3), self._look.unit(4.5))


class PageRow(QWidget):
    """The pages as a row of words, with the lesson's name at the right.

    ``words``: for each page the action that brings it, and what it is called.
    """

    chosen = Signal(int)

    def __init__(self, look: Look, words: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._look = look
        self._layout = QHBoxLayout(self)
        self._layout.setSpacing(0)
        self._group = QButtonGroup(self)
        self._ids = [action_id for action_id, _text in words]
        for index, (_id, text) in enumerate(words):
            word = PageWord(look, text)
            self._group.addButton(word, index)
            self._layout.addWidget(word)
        self._layout.addStretch(1)
        self._title = Elided()
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._title.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._layout.addWidget(self._title, 4)
        self._group.idClicked.connect(self.chosen)
        look.changed.connect(self._dress)
        self._dress()

    def _dress(self) -> None:
        self._layout.setContentsMargins(self._look.unit(), 0, self._look.unit(2), 0)
        in_colour(self._title, self._look, "soft")

    def show_page(self, index: int | None) -> None:
        """Mark the page that is shown; None: there is no lesson, and so none of its pages."""
        if index is not None:
            self._group.button(index).setChecked(True)
        elif (shown := self._group.checkedButton()) is not None:
            self._group.setExclusive(False)  # which would keep one checked
            shown.setChecked(False)
            self._group.setExclusive(True)

    def show_tips(self, registry: Registry) -> None:
        """Say the keys of the pages."""
        for index, action_id in enumerate(self._ids):
            self._group.button(index).setToolTip(registry.qaction(action_id).toolTip())

    def show_title(self, title: str) -> None:
        """Say which lesson is open."""
        self._title.setText(title)


class Foot(QWidget):
    """The line at the window's foot: where the teacher is, news, and what could not be done."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._refuses = False  # what is said is why something was not done
        self._place, self._said = Elided(), Wrapped()
        self._said.setTextFormat(Qt.TextFormat.PlainText)
        self._said.setWordWrap(True)
        self._said.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._said.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._layout = QHBoxLayout(self)
        self._layout.addWidget(self._place)
        self._layout.addWidget(self._said, 1)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_SAID_MS)
        self._timer.timeout.connect(self.hush)
        look.changed.connect(self._dress)
        self._dress()

    def _dress(self) -> None:
        look = self._look
        self._layout.setContentsMargins(look.unit(2), look.unit(0.5), look.unit(2), look.unit(0.5))
        in_colour(self._place, look, "soft")
        self._colour()

    def _colour(self) -> None:
        in_colour(self._said, self._look, "warning" if self._refuses else "ink")

    def show_place(self, text: str) -> None:
        """Say where the teacher is."""
        self._place.setText(text)
        self._share(self._said.text())

    def _share(self, sentence: str) -> None:
        """Where there is no room for both, what could not be done comes before the place."""
        said = self._said.fontMetrics().horizontalAdvance(sentence)
        place = self._place.fontMetrics().horizontalAdvance(self._place.text())
        fits = said + place + self._look.unit(6) <= self.width()
        self._place.setVisible(fits or not sentence)
        self._layout.activate()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share(self._said.text())

    def say(self, sentence: str) -> None:
        """Say news or what to do; it goes away by itself, or with ``hush``."""
        self._show(sentence, refuses=False)

    def refuse(self, sentence: str) -> None:
        """Say why something was not done; the next action takes it away."""
        self._show(sentence, refuses=True)

    def _show(self, sentence: str, refuses: bool) -> None:
        if refuses != self._refuses:
            self._refuses = refuses
            self._colour()
        self._share(sentence)
        self._said.setText(sentence)
        self._timer.start()
        announce(self._said, sentence)

    def hush(self) -> None:
        """What was said is no longer so."""
        if self._said.text():
            self._said.setText("")
            self._share("")
            self._timer.stop()

    def hush_refusal(self) -> None:
        """Something else is done now: what could not be done is past."""
        if self._refuses:
            self.hush()

    @property
    def sentence(self) -> str:
        """What is being said."""
        return self._said.text()
