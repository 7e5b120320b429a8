"""The line in which one types what one looks for, over the page and gone again at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QFrame,
    QLabel,
    QLineEdit,
    QListView,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.find.entries import Entries, Entry
from chalkfret.desk.find.rows import FoundModel, FoundPainter, spoken
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import follow
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.settings import Settings
    from chalkfret.desk.window import Window

ROWS_SEEN = 10
LATELY_MOST = 12
_WIDEST_UNITS = 90
_STEPS = {
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_PageUp: 1 - ROWS_SEEN,
    Qt.Key.Key_PageDown: ROWS_SEEN - 1,
}


class FindLine(QFrame):
    """Finds anything by its words. The keys stay in the line; Up and Down go through the list.

    Enter does what is chosen, Escape leaves; both give the keys back to who had them.
    """

    def __init__(self, window: Window) -> None:
        super().__init__(window.stack)
        self._window, self._look = window, window.look
        self._entries: Entries | None = None
        self._back_to: QWidget | None = None
        self.setObjectName("find")
        self.setAutoFillBackground(True)
        self.line = QLineEdit()
        self.line.setPlaceholderText(_("What are you looking for? An action, bar 12, a setting …"))
        self.line.setToolTip(self.line.placeholderText())  # which is cut in a small window
        self.line.setAccessibleName(_("Find anything by its words"))
        self.line.installEventFilter(self)
        self.model = FoundModel(self._look)
        self._painter = FoundPainter(self._look)
        self.list = QListView()
        self.list.setModel(self.model)
        self.list.setItemDelegate(self._painter)
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName(_("Found"))
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self._nothing = QLabel(_("Nothing is called so. Try a shorter word, or first letters."))
        self._nothing.setWordWrap(True)
        self._column = QVBoxLayout(self)
        for widget in (self.line, self.list, self._nothing):
            self._column.addWidget(widget)
        self.line.textChanged.connect(self._find)
        self.list.clicked.connect(self._use)
        self.list.selectionModel().currentChanged.connect(self._tell)
        window.stack.installEventFilter(self)
        follow(self, self._look, self._dress)
        self.hide()

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(0, unit(), 0, unit())
        self._column.setSpacing(unit(0.5))
        self.line.setContentsMargins(unit(), 0, unit(), 0)
        self._nothing.setContentsMargins(unit(2), 0, unit(2), 0)
        self._fit()

    # Coming and going

    def come(self) -> None:
        """Show the line, empty, with the keys in it."""
        if not self.isVisible():
            self._back_to = QApplication.focusWidget()
        self._entries = Entries(self._window)
        self.line.clear()
        self._find("")
        self.show()
        self.raise_()
        self.line.setFocus()

    def go(self) -> None:
        """Give the keys back to who had them."""
        back, self._back_to = self._back_to, None
        had_keys = self.line.hasFocus()
        self.hide()
        if not had_keys:
            return
        if back is not None and back.isVisible() and back.isEnabled():
            back.setFocus(Qt.FocusReason.PopupFocusReason)
        else:
            self._window.focus_page()

    # Finding

    def _find(self, typed: str) -> None:
        if self._entries is None:
            return
        found = self._entries.found(typed, self._window.settings.value.found)
        self.model.show_found(self._entries, found)
        self._nothing.setVisible(not found)
        self.list.setVisible(bool(found))
        if found:
            self.list.setCurrentIndex(self.model.index(0))
        else:
            announce(self.line, self._nothing.text())
        self._fit()

    @property
    def chosen(self) -> Entry | None:
        """What Enter would do."""
        return self.model.entry(self.list.currentIndex().row())

    def _tell(self) -> None:
        entry = self.chosen
        if entry is not None and self.isVisible():
            announce(self.line, spoken(entry))

    def _step(self, steps: int) -> None:
        last = self.model.rowCount() - 1
        row = min(max(0, self.list.currentIndex().row() + steps), last)
        if row >= 0:
            self.list.setCurrentIndex(self.model.index(row))

    def _use(self) -> None:
        """Do it, where it can be done; else say what is missing, and stay."""
        entry = self.chosen
        if entry is None:
            return
        why = entry.why_not()
        if why:
            announce(self.line, why)
            self._window.document.refused.emit(why)
            return
        self._remember(entry)
        self.go()
        entry.run()

    def _remember(self, entry: Entry) -> None:
        def newest(settings: Settings) -> Settings:
            others = tuple(one for one in settings.found if one != entry.id)
            return replace(settings, found=(entry.id, *others)[:LATELY_MOST])

        self._window.settings.update(newest)

    # Its place, over the page

    def _fit(self) -> None:
        area, unit = self._window.stack, self._look.unit
        room = area.height() - self.line.sizeHint().height() - unit(3)
        rows = min(self.model.rowCount(), ROWS_SEEN, max(1, room // self._painter.height))
        frame = 2 * self.list.frameWidth()
        self.list.setFixedHeight(rows * self._painter.height + frame)
        bars = Qt.ScrollBarPolicy
        all_seen = rows == self.model.rowCount()
        self.list.setVerticalScrollBarPolicy(
            bars.ScrollBarAlwaysOff if all_seen else bars.ScrollBarAsNeeded
        )
        width = min(area.width() - unit(2), unit(_WIDEST_UNITS))
        below = self.list.height() if rows else self._nothing.heightForWidth(width)
        height = self.line.sizeHint().height() + below + 2 * unit() + unit(0.5) + 3
        self.setGeometry(unit(), 0, width, min(height, area.height()))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        kind = event.type()
        if watched is self._window.stack:
            if kind is QEvent.Type.Resize and self.isVisible():
                self._fit()
            return False
        if kind is QEvent.Type.FocusOut and self.isVisible():
            if QApplication.activePopupWidget() is None and self.window().isActiveWindow():
                self.go()
        elif kind is QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._key(event)
        return super().eventFilter(watched, event)

    def _key(self, event: QKeyEvent) -> bool:
        key = event.key()
        if key == Qt.Key.Key_Escape:
            self.go()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._use()
        elif key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
            self._step(1 if key == Qt.Key.Key_Tab else -1)
        elif key in _STEPS:
            self._step(_STEPS[Qt.Key(key)])
        else:
            return False
        return True
