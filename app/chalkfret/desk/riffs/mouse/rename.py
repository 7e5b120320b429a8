"""A name edited where it stands: Enter keeps it, and so does leaving; Escape abandons it."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QEvent, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

_OWN_KEYS = (Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter)


class Named(Enum):
    """What has a name."""

    LETTER = "letter"  # of a section
    SECTION = "section"
    PART = "part"


class NameEdit(QLineEdit):
    """One line over the name; ``keep`` takes it and says whether it could be kept."""

    closed = Signal(bool)  # whether it had the keys

    def __init__(
        self, home: QWidget, over: QWidget, place: QRect, name: str, keep: Callable[[str], bool]
    ) -> None:
        """``home`` holds it: a widget that binds no letters as keys. ``place`` is ``over``'s."""
        super().__init__(home)
        self._keep, self._before, self._open = keep, name, True
        self.setText(name)
        self.selectAll()
        corner = over.mapTo(home, place.topLeft())
        least = self.fontMetrics().horizontalAdvance("M" * 12)
        wide = min(max(place.width(), least), home.width())
        high = max(place.height(), self.sizeHint().height())
        x = max(0, min(corner.x(), home.width() - wide))
        y = max(0, corner.y() - (high - place.height()) // 2)
        self.setGeometry(x, y, wide, high)

    def begin(self, what: str) -> None:
        """Show it and take the keys; ``what`` is its name for a screen reader."""
        self.setAccessibleName(what)
        self.show()
        self.setFocus(Qt.FocusReason.MouseFocusReason)

    def event(self, event: QEvent) -> bool:
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and event.key() in _OWN_KEYS
        ):
            event.accept()  # they belong to the name, and to no action
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.close_now()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self._kept():
                self.close_now()
            else:
                self.selectAll()  # why not is said at the window's foot
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        stays = (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason)
        if self._open and event.reason() not in stays:
            self._kept()
            self.close_now()

    def _kept(self) -> bool:
        name = self.text().strip()
        return name == self._before or self._keep(name)

    def close_now(self) -> None:
        """Take it away; once."""
        if self._open:
            self._open = False
            had_keys = self.hasFocus()
            self.hide()
            self.closed.emit(had_keys)
            self.deleteLater()
