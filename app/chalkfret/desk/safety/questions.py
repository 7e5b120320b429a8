"""Questions above the page, which wait until the teacher has time for them.

They take no keys from the hands that type: nothing is focused, nothing is in the way. Each says
what happened and offers ways on as buttons; Escape in it, or its last button, puts it away.
"""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, strong
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.safety.asked import Asked, Choice, Entry


class _Scroll(QScrollArea):
    """As high as it may be, where there is room."""

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self.maximumHeight())


class Question(QWidget):
    """One question."""

    gone = Signal(str)

    def __init__(self, look: Look, asked: Asked) -> None:
        super().__init__()
        self._look, self.asked = look, asked
        self.setAccessibleName(asked.heading)
        self._heading = strong(look, asked.heading)
        self._heading.setTextFormat(Qt.TextFormat.PlainText)
        self._heading.setWordWrap(True)
        self._scroll = _Scroll()
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inner = QWidget()
        self._rows = QVBoxLayout(self._inner)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self.buttons: list[QPushButton] = []
        self._gaps: list[QWidget] = []
        for entry in asked.entries:
            self._add(entry)
        self._scroll.setWidget(self._inner)
        last = self._button(Choice(asked.put_away, asked.then or _nothing))
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        top.addWidget(last, 0, Qt.AlignmentFlag.AlignTop)
        self._line = QWidget()
        self._line.setFixedHeight(1)
        self._column = QVBoxLayout(self)
        self._column.addLayout(top)
        self._column.addWidget(self._scroll)
        self._column.addWidget(self._line)
        for before, after in pairwise(self.buttons):
            QWidget.setTabOrder(before, after)
        follow(self, look, self._dress)

    def _add(self, entry: Entry) -> None:
        if self._rows.count():
            self._gaps.append(QWidget())
            self._rows.addWidget(self._gaps[-1])
        for text, plain in ((entry.title, False), ("\n".join(entry.lines), True)):
            if text:
                label = QLabel(text) if plain else strong(self._look, text)
                label.setTextFormat(Qt.TextFormat.PlainText)
                label.setWordWrap(True)
                if plain:
                    flags = Qt.TextInteractionFlag
                    label.setTextInteractionFlags(flags.TextSelectableByMouse)
                self._rows.addWidget(label)
        if entry.choices:
            buttons = [self._button(choice, entry.title) for choice in entry.choices]
            self._rows.addWidget(FlowRow(*buttons))

    def _button(self, choice: Choice, about: str = "") -> QPushButton:
        button = QPushButton(choice.text)
        button.setAccessibleDescription(about)
        button.clicked.connect(_Press(self, choice).press)
        button.installEventFilter(self)
        self.buttons.append(button)
        return button

    def press(self, choice: Choice) -> None:
        """Go this way."""
        if not choice.stays:
            self.gone.emit(self.asked.key)
        choice.run()

    def put_away(self) -> None:
        """As its last button does."""
        self.gone.emit(self.asked.key)
        if self.asked.then is not None:
            self.asked.then()

    @property
    def text(self) -> str:
        """All that is said, a line each."""
        lines = [self.asked.heading]
        for entry in self.asked.entries:
            lines += [line for line in (entry.title, *entry.lines) if line]
        return "\n".join(lines)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        self._column.setSpacing(unit(0.5))
        self._rows.setSpacing(unit(0.75))
        in_colour(self._heading, self._look, "ink" if self.asked.calm else "warning")
        for gap in self._gaps:
            gap.setFixedHeight(unit(0.5))
        self._line.setStyleSheet(f"background: {self._look.colours.lines};")
        self._fit()

    def _fit(self) -> None:
        """As high as what it says, within reason; less where the window is low."""
        needed = max(self._inner.heightForWidth(self._scroll.viewport().width()), 0) + 2
        unit = self._look.unit
        self._scroll.setMinimumHeight(min(needed, unit(6)))
        self._scroll.setMaximumHeight(min(needed, unit(28)))
        self._scroll.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.FocusIn and isinstance(watched, QWidget):
            self._scroll.ensureWidgetVisible(watched)
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)


class _Press(QObject):
    """A button's choice, as a slot that goes with its question."""

    def __init__(self, question: Question, choice: Choice) -> None:
        super().__init__(question)
        self._question, self._choice = question, choice

    def press(self) -> None:
        self._question.press(self._choice)


class Questions(QWidget):
    """All questions that wait, the newest on top."""

    emptied = Signal()  # the last one with the focus is gone

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._asked: dict[str, Question] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self.hide()

    def ask(self, asked: Asked) -> None:
        """Ask, in place of what was asked under the same key."""
        had_focus = self._drop(asked.key)
        question = Question(self._look, asked)
        question.gone.connect(self.settle)
        self._asked[asked.key] = question
        self._column.insertWidget(0, question)
        self.show()
        question.show()
        if had_focus:
            question.buttons[0].setFocus()
        QAccessible.updateAccessibility(QAccessibleEvent(question, QAccessible.Event.Alert))

    def settle(self, key: str) -> None:
        """This is no question any more."""
        had_focus = self._drop(key)
        if not self._asked:
            self.hide()
        if had_focus:
            self.emptied.emit()

    def _drop(self, key: str) -> bool:
        question = self._asked.pop(key, None)
        if question is None:
            return False
        focus = self.window().focusWidget()
        had_focus = focus is not None and question.isAncestorOf(focus)
        question.hide()
        question.deleteLater()
        return had_focus

    def take_focus(self) -> None:
        """Go to the newest question."""
        newest = next(reversed(self._asked.values()))
        newest.buttons[0].setFocus(Qt.FocusReason.ShortcutFocusReason)

    def question(self, key: str) -> Question | None:
        """What is asked under this key."""
        return self._asked.get(key)

    @property
    def text(self) -> str:
        """All that is asked, the newest first."""
        return "\n".join(question.text for question in reversed(self._asked.values()))


def _nothing() -> None:
    """Putting it away is all."""
