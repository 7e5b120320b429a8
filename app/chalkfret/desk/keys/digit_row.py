"""Digits by their place: Alt+1 without Shift where the upper row writes digits only with it.

Qt looks for the sign that a key writes, so on a French keyboard Alt and the key of 1 is Alt+&, and
with Shift Alt+1. Here the place is meant, and a Shift is a Shift: as on every other keyboard. Only
a sign that is itself the key of an action (Alt+-) stays what it is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QEvent, QKeyCombination, QObject, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from chalkfret.desk.riffs.digits import placed

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

_CTRL, _ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier
_SHIFT, _KEYPAD = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.KeypadModifier


class DigitRow(QObject):
    """Hears the keys of a window as they come from the system, before any widget does."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        window.windowHandle().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        kind = event.type()
        if kind not in (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress):
            return False
        key_event = cast(QKeyEvent, event)
        digit = self._digit(key_event)
        if digit is None:
            return False
        action = self._action(key_event.modifiers(), Qt.Key.Key_0 + digit)
        if kind == QEvent.Type.ShortcutOverride:
            event.accept()  # Qt looks for no sign: the press comes next, and is for us
            return True
        if action is None:
            return False  # a gesture, for whoever has the keys
        self._window.registry.run(action)
        return True

    def _digit(self, event: QKeyEvent) -> int | None:
        """The digit that is meant by its place on a row that has digits above; else None."""
        held, written = event.modifiers(), event.key()
        if not held & (_CTRL | _ALT) or held & _KEYPAD:
            return None
        digit = placed(event)
        writes_it = written == Qt.Key.Key_0 + (digit or 0)
        if digit is None or writes_it is not bool(held & _SHIFT):
            return None
        return None if self._action(held & ~_SHIFT, written) and not writes_it else digit

    def _action(self, held: Qt.KeyboardModifier, key: int) -> str | None:
        sequence = QKeySequence(QKeyCombination(held, Qt.Key(key))).toString()
        return self._window.registry.at(sequence, self._window.focusWidget())
