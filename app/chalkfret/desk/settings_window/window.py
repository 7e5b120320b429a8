"""The settings window: beside the work, searched by words, every change holding at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.find.matching import answer, words_of
from chalkfret.desk.keys.editor import KeysEditor
from chalkfret.desk.pieces.dress import follow, heading, small
from chalkfret.desk.pieces.on_screen import fit_screen
from chalkfret.desk.settings_window.all_rows import all_rows
from chalkfret.desk.settings_window.row_view import RowView
from chalkfret.desk.settings_window.rows import GROUPS, KEYS
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window


class SettingsWindow(QDialog):
    """A group of rows at a time; what is typed shows only what answers it, in every group.

    ``closed`` is sent when it was put away.
    """

    closed = Signal()

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._look = window.look
        self.setWindowTitle(_("Settings"))
        self.setModal(False)
        find = _("Find a setting or a key by its words")
        self.search = QLineEdit()
        self.search.setPlaceholderText(find)
        self.search.setAccessibleName(find)
        self.search.installEventFilter(self)
        self.groups = QListWidget()
        self.groups.setAccessibleName(_("Kinds of settings"))
        self.rows = [RowView(row, self._look) for row in all_rows(window)]
        self.keys = KeysEditor(window)
        self._heading = heading(self._look, "")
        self._nothing = small(self._look, _("Nothing is called so. Try a shorter word."))
        self._fill_groups()
        self._lay_out()
        self._connect(window)
        follow(self, self._look, self._dress)
        fit_screen(self, self._look, 110, 76)
        self._find("")
        self.search.setFocus()

    def _fill_groups(self) -> None:
        known = {view.row.group for view in self.rows} | {KEYS}
        for group in GROUPS:
            if group in known:
                item = QListWidgetItem(_(group))
                item.setData(Qt.ItemDataRole.UserRole, group)
                self.groups.addItem(item)
        self.groups.setCurrentRow(0)

    def _lay_out(self) -> None:
        body = QWidget()
        self._column = QVBoxLayout(body)
        for view in self.rows:
            self._column.addWidget(view)
        self._column.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setWidget(body)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._scroll)
        self._stack.addWidget(self.keys)
        right = self._right = QVBoxLayout()
        right.addWidget(self._heading)
        right.addWidget(self._nothing)
        right.addWidget(self._stack, 1)
        self._lower = QHBoxLayout()
        self._lower.addWidget(self.groups)
        self._lower.addLayout(right, 1)
        self._outer = QVBoxLayout(self)
        self._outer.addWidget(self.search)
        self._outer.addLayout(self._lower, 1)

    def _dress(self) -> None:
        unit = self._look.unit
        widest = self.groups.sizeHintForColumn(0)
        self.groups.setFixedWidth(max(unit(18), widest + unit(3)))
        self._outer.setContentsMargins(unit(2), unit(2), unit(2), unit(2))
        self._outer.setSpacing(unit(2))
        self._lower.setSpacing(unit(3))
        self._right.setSpacing(unit())
        self._column.setContentsMargins(0, 0, unit(), 0)
        self._column.setSpacing(unit())

    def _connect(self, window: Window) -> None:
        self.search.textChanged.connect(self._find)
        self.groups.currentRowChanged.connect(self._show_group)
        window.settings.changed.connect(self.show_values)
        window.look.changed.connect(self.show_values)
        for view in self.rows:
            view.changed.connect(self.show_values)

    # What is shown

    def come(self) -> None:
        """To the front, ready to be searched."""
        self.show()
        self.raise_()
        self.activateWindow()
        self.search.setFocus()
        self.search.selectAll()

    @property
    def group(self) -> str:
        """The group that is shown, as GROUPS names it."""
        if self.groups.currentRow() < 0:
            return KEYS
        return str(self.groups.currentItem().data(Qt.ItemDataRole.UserRole))

    def show_values(self) -> None:
        """Show what holds, whoever changed it."""
        for view in self.rows:
            view.show_value()

    def show_group(self, group: str) -> None:
        """Show this group."""
        for at in range(self.groups.count()):
            if self.groups.item(at).data(Qt.ItemDataRole.UserRole) == group:
                self.groups.setCurrentRow(at)

    def show_row(self, row_id: str) -> None:
        """Show this setting, with the keys on its control."""
        self.search.clear()
        for view in self.rows:
            if view.row.id == row_id:
                self.show_group(view.row.group)
                self._scroll.ensureWidgetVisible(view)
                view.control.setFocus(Qt.FocusReason.TabFocusReason)

    def _find(self, typed: str) -> None:
        self._wanted = words_of(typed)
        counts = {KEYS: self.keys.show_found(typed)}
        for view in self.rows:
            found = answer(self._wanted, view.words()) is not None
            counts[view.row.group] = counts.get(view.row.group, 0) + found
        for at in range(self.groups.count()):
            item = self.groups.item(at)
            group = str(item.data(Qt.ItemDataRole.UserRole))
            words = _("{group} ({count})").format(group=_(group), count=counts[group])
            item.setText(words if self._wanted else _(group))
            item.setHidden(not counts[group])
        if self.groups.currentRow() < 0 or self.groups.currentItem().isHidden():
            seen = [at for at in range(self.groups.count()) if not self.groups.item(at).isHidden()]
            self.groups.setCurrentRow(seen[0] if seen else -1)
        self._show_group()

    def _show_group(self) -> None:
        some = self.groups.currentRow() >= 0
        self._nothing.setVisible(not some)
        self._heading.setVisible(some)
        self._stack.setVisible(some)
        if not some:
            return
        group = self.group
        self._heading.setText(_(group))
        self._stack.setCurrentWidget(self.keys if group == KEYS else self._scroll)
        for view in self.rows:
            found = answer(self._wanted, view.words()) is not None
            view.setVisible(view.row.group == group and found)

    # Qt's events

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Down leads from the search to what was found."""
        keys = (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.type() is QEvent.Type.KeyPress and cast(QKeyEvent, event).key() in keys:
            self._lead_on()
            return True
        return super().eventFilter(watched, event)

    def _lead_on(self) -> None:
        if self._stack.currentWidget() is self.keys:
            self.keys.table.setFocus(Qt.FocusReason.TabFocusReason)
            return
        shown = [view for view in self.rows if view.isVisible()]
        if shown:
            shown[0].control.setFocus(Qt.FocusReason.TabFocusReason)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.closed.emit()
