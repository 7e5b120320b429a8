"""What follows the look as it changes: labels in its sizes and colours, and whatever asks to."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QSize, Qt, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel

from chalkfret.desk.look import HEADING, SMALL, Look


class _Follower(QObject):
    """Lives and dies with its owner; a bound method of it is disconnected by itself."""

    def __init__(self, owner: QObject, dress: Callable[[], None]) -> None:
        super().__init__(owner)
        self._dress = dress

    @Slot()
    def dress(self) -> None:
        self._dress()


def follow(owner: QObject, look: Look, dress: Callable[[], None]) -> None:
    """Call ``dress`` now and whenever the look changes, as long as ``owner`` lives."""
    look.changed.connect(_Follower(owner, dress).dress)
    dress()


def heading(look: Look, text: str) -> QLabel:
    """A heading: the one larger size of text."""
    return _label(look, text, HEADING)


def small(look: Look, text: str = "") -> QLabel:
    """The smaller size of text, in the soft colour."""
    label = _label(look, text, SMALL, "soft", Wrapped)
    label.setWordWrap(True)
    return label


def strong(look: Look, text: str) -> QLabel:
    """The name of a group of controls."""
    label = _label(look, text, 1.0, kind=Wrapped)
    label.setWordWrap(True)
    follow(label, look, lambda: label.setFont(look.font(strong=True)))
    return label


class Wrapped(QLabel):
    """Words of several lines, as high as they are: not all layouts ask for that."""

    _height = 0  # of the words in the width that they have now

    def sizeHint(self) -> QSize:
        hint = super().sizeHint()
        return QSize(hint.width(), self._height) if self._height else hint

    def setText(self, text: str) -> None:
        super().setText(text)
        if self.isVisible():  # before, it has no width yet in which to be measured
            self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        height = max(0, self.heightForWidth(self.width())) if self.wordWrap() else 0
        if height != self._height:
            self._height = height
            self.setMinimumHeight(height)
            self.updateGeometry()


def _label(
    look: Look, text: str, scale: float, colour: str = "ink", kind: type[QLabel] = QLabel
) -> QLabel:
    label = kind(text)

    def dress() -> None:
        label.setFont(look.font(scale))
        palette = label.palette()
        palette.setColor(label.foregroundRole(), look.colour(colour))
        label.setPalette(palette)

    follow(label, look, dress)
    return label


def readable(label: QLabel) -> QLabel:
    """Words that can be selected and copied, also by keys: they show when they have the focus."""
    flags = Qt.TextInteractionFlag
    label.setTextInteractionFlags(flags.TextSelectableByMouse | flags.TextSelectableByKeyboard)
    label.setProperty("readable", True)
    return label
