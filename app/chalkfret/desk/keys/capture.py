"""A field that takes the next press of a key as it is, whatever else the key does."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit

from chalkfret.desk.keys.pressed import NoKey, sequence_of
from chalkfret.words.text import _


class KeyCapture(QLineEdit):
    """``taken`` carries the sequence; ``refused`` why a key cannot be one; ``left``: Escape."""

    taken = Signal(str)
    refused = Signal(str)
    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setReadOnly(True)
        self.setPlaceholderText(_("Press the new key"))
        self.setAccessibleName(_("Press the new key"))
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()  # no action of the window has it meanwhile
            return True
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            self._take(event)  # Tab too, which would lead to the next field
            event.accept()
            return True
        return super().event(event)

    def _take(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and not event.modifiers():
            self.left.emit()
            return
        try:
            sequence = sequence_of(event)
        except NoKey as no_key:
            self.refused.emit(str(no_key))
            return
        if sequence:
            self.taken.emit(sequence)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is Qt.FocusReason.MouseFocusReason:
            self.left.emit()
