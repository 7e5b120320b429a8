"""A list to choose one value from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QSizePolicy


class Choice(QComboBox):
    """Values and their words; ``chosen`` is sent only where the teacher chooses another one."""

    chosen = Signal(object)

    def __init__(self, words: Mapping[Any, str] | None = None, name: str = "") -> None:
        super().__init__()
        self._values: list[Any] = []
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.activated.connect(lambda index: self.chosen.emit(self._values[index]))
        self.set_choices(words or {})

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

    def minimumSizeHint(self) -> QSize:
        # The longest of its words may be cut where the page is narrow: the open list shows all.
        hint = self.sizeHint()
        least = self.fontMetrics().horizontalAdvance("x") * 9 + hint.height()
        return QSize(min(least, hint.width()), hint.height())

    def wheelEvent(self, event: QWheelEvent) -> None:
        # The wheel scrolls the page: it must not change what happens to lie under the mouse.
        event.ignore()
