"""A list to choose one value from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QElapsedTimer, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent, QPalette, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QSizePolicy,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
)

_WHOLE = 16  # letters that are never cut


class Choice(QComboBox):
    """Values and their words; ``chosen`` is sent only where the teacher chooses another one."""

    chosen = Signal(object)

    def __init__(self, words: Mapping[Any, str] | None = None, name: str = "") -> None:
        super().__init__()
        self._values: list[Any] = []
        self._word = ""  # what was typed so far to find one of the list
        self._since_key = QElapsedTimer()
        self.setAccessibleName(name)
        self.currentTextChanged.connect(self._tell_whole)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        # Some lists get their values only when they are shown already.
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.activated.connect(lambda index: self.chosen.emit(self._values[index]))
        self.set_choices(words or {})

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        # On Unix Qt gives the chosen words as a list's name, and its own name nowhere else.
        self.setAccessibleDescription(name)

    def set_choices(self, words: Mapping[Any, str]) -> None:
        """Offer these values; where the shown one is among them it stays."""
        if list(words) == self._values and list(words.values()) == self._texts():
            return
        shown = self.value
        self.blockSignals(True)
        self.clear()
        self._values = list(words)
        self.addItems(list(words.values()))
        self.setCurrentIndex(self._values.index(shown) if shown in self._values else -1)
        self.blockSignals(False)
        self._tell_whole()

    def _texts(self) -> list[str]:
        return [self.itemText(index) for index in range(self.count())]

    @property
    def value(self) -> Any:
        """The value that is shown, None where it is none of the list."""
        index = self.currentIndex()
        return self._values[index] if index >= 0 else None

    def show_value(self, value: Any) -> None:
        """Show the value that holds."""
        self.setCurrentIndex(self._values.index(value) if value in self._values else -1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        text = event.text()
        plain = not event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
        begins = text.isprintable() and bool(text.strip())  # a space alone opens the list
        if not plain or not (begins or (text == " " and self._is_typing())):
            super().keyPressEvent(event)
            return
        index = self._find(text)
        if index >= 0 and index != self.currentIndex():
            self.setCurrentIndex(index)
            self.activated.emit(index)

    def _is_typing(self) -> bool:
        """Whether a word is being typed, so that the next letter belongs to it."""
        pause = QApplication.keyboardInputInterval()
        return self._since_key.isValid() and not self._since_key.hasExpired(pause)

    def _find(self, letter: str) -> int:
        """The shortest words that begin with what was typed; -1 for none.

        A fresh word is looked for in the whole list, and not only behind the shown one; a letter
        typed again where nothing begins so goes on to the next words with that letter.
        """
        self._word = (self._word if self._is_typing() else "") + letter.casefold()
        self._since_key.start()
        words = [text.casefold() for text in self._texts()]
        found = [at for at, text in enumerate(words) if text.startswith(self._word)]
        if found:
            return min(found, key=lambda at: len(words[at]))
        if set(self._word) == {self._word[0]}:
            same = [at for at, text in enumerate(words) if text.startswith(self._word[0])]
            return next((at for at in same if at > self.currentIndex()), same[0] if same else -1)
        return -1

    def minimumSizeHint(self) -> QSize:
        # Long words may be cut where the page is narrow: the tip and the open list show all.
        hint, texts, advance = self.sizeHint(), self._texts(), self.fontMetrics().horizontalAdvance
        longest = max(map(advance, texts), default=0)
        wanted = max((advance(text) for text in texts if len(text) <= _WHOLE), default=0)
        return QSize(hint.width() - longest + wanted + 4, hint.height())

    def _option(self) -> tuple[QStyleOptionComboBox, str]:
        """How it is painted, and its words as far as there is room for them."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        box = self.style().subControlRect(
            QStyle.ComplexControl.CC_ComboBox,
            option,
            QStyle.SubControl.SC_ComboBoxEditField,
            self,
        )
        end = Qt.TextElideMode.ElideRight
        return option, self.fontMetrics().elidedText(option.currentText, end, box.width())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QStylePainter(self)
        option, words = self._option()
        option.currentText = words
        if self.currentIndex() < 0:
            option.palette.setBrush(QPalette.ColorRole.ButtonText, option.palette.placeholderText())
            option.currentText = self.placeholderText()
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._tell_whole()

    def _tell_whole(self) -> None:
        """What is cut can be read as a tip."""
        option, words = self._option()
        self.setToolTip("" if words == option.currentText else option.currentText)

    def wheelEvent(self, event: QWheelEvent) -> None:
        # The wheel scrolls the page: it must not change what happens to lie under the mouse.
        event.ignore()
