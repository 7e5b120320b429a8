"""The list of all keys in the settings, where each can be changed and put back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QHeaderView,
    QPushButton,
    QStackedWidget,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.actions import Action, native
from chalkfret.desk.find.matching import answer, words_of
from chalkfret.desk.keys.ask import Ask
from chalkfret.desk.keys_sheet import full_name
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.saying import Saying
from chalkfret.words.text import _, ngettext

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

_ID = Qt.ItemDataRole.UserRole


class KeysEditor(QWidget):
    """All actions with their place and keys; below them what can be done to the chosen one."""

    def __init__(self, window: Window) -> None:
        super().__init__()
        window.make_pages()
        self._registry, self._look = window.registry, window.look
        self.choices = window.key_choices
        self._model = QStandardItemModel(0, 3, self)
        self._model.setHorizontalHeaderLabels([_("What"), _("Keys"), _("Where")])
        self.table = _Table()
        self.table.setModel(self._model)
        self.table.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.change = QPushButton(_("&Change the key …"))
        self.more = QPushButton(_("&One more key …"))
        self.take_away = QPushButton(_("&No key"))
        self.reset = QPushButton()
        self.reset_all = QPushButton(_("&All keys back"))
        self.reset_all.setToolTip(_("Every action gets the keys it came with."))
        self.saying = Saying(self._look, keeps_room=True)
        self.ask = Ask(self._registry, self._look)
        self._fill()
        self._lay_out()
        self._connect()
        follow(self, self._look, self._dress)

    def _fill(self) -> None:
        for action, where in self._registry.entries():
            words = (full_name(action), "", where or _("everywhere"))
            cells = [QStandardItem(word) for word in words]
            cells[0].setData(action.id, _ID)
            for cell in cells:
                cell.setEditable(False)
            self._model.appendRow(cells)

    def _lay_out(self) -> None:
        self._doing = QWidget()
        buttons = FlowRow(self.change, self.more, self.take_away, self.reset, self.reset_all)
        under = QVBoxLayout(self._doing)
        under.setContentsMargins(0, 0, 0, 0)
        under.addWidget(self.saying)
        under.addWidget(buttons)
        self._foot = QStackedWidget()
        self._foot.addWidget(self._doing)
        self._foot.addWidget(self.ask)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(self.table, 1)
        self._column.addWidget(self._foot)

    def _connect(self) -> None:
        self.table.selectionModel().currentRowChanged.connect(self._show_chosen)
        self.table.activated.connect(self._ask_for_key)
        self.table.cleared.connect(self._take_away)
        self.change.clicked.connect(self._ask_for_key)
        self.more.clicked.connect(self._ask_for_more)
        self.take_away.clicked.connect(self._take_away)
        self.reset.clicked.connect(self._reset)
        self.reset_all.clicked.connect(self._reset_all)
        self.ask.given.connect(self._give)
        self.ask.left.connect(self._end_asking)
        self._registry.changed.connect(self._show_keys)

    def _dress(self) -> None:
        self._column.setSpacing(self._look.unit())
        self._show_keys()

    # What is shown

    def show_found(self, typed: str) -> int:
        """Show only the actions that answer what was typed; how many they are."""
        wanted, count = words_of(typed), 0
        for row in range(self._model.rowCount()):
            text = " ".join(self._model.item(row, column).text() for column in range(3))
            found = answer(wanted, text) is not None
            self.table.setRowHidden(row, QModelIndex(), not found)
            count += found
        return count

    def _show_keys(self) -> None:
        for row in range(self._model.rowCount()):
            action = self._registry.action(self._model.item(row).data(_ID))
            cell = self._model.item(row, 1)
            cell.setText(action.keys_text())
            cell.setFont(self._look.font(strong=self.choices.is_changed(action.id)))
        self._show_chosen()

    @property
    def chosen(self) -> Action | None:
        """The action that is chosen in the list."""
        index = self.table.currentIndex()
        if not index.isValid():
            return None
        return self._registry.action(self._model.item(index.row()).data(_ID))

    def choose(self, action_id: str) -> None:
        """Choose an action in the list."""
        for row in range(self._model.rowCount()):
            if self._model.item(row).data(_ID) == action_id:
                self.table.setCurrentIndex(self._model.index(row, 0))

    def _show_chosen(self) -> None:
        action = self.chosen
        can = action is not None and action.run is not None
        for button in (self.change, self.more):
            button.setEnabled(can)
        self.take_away.setEnabled(action is not None and can and bool(action.keys))
        changed = action is not None and can and self.choices.is_changed(action.id)
        self.reset.setVisible(changed)
        if action is not None and changed:
            keys = ", ".join(map(native, self._registry.default_keys(action.id)))
            self.reset.setText(_("&Back to: {default}").format(default=keys or _("no key")))
        self.reset_all.setEnabled(bool(self.choices.changed_ids()))
        self.saying.say(self._words(action))

    def _words(self, action: Action | None) -> str:
        if action is None:
            return _("Choose an action, then press Enter to change its key.")
        if action.run is None:
            return _("This is a gesture of the hand and cannot be changed.")
        if self.choices.is_changed(action.id) and not action.keys:
            return _("This has no key now.")
        return ""

    # What can be done

    def _ask_for_key(self) -> None:
        self._ask(())

    def _ask_for_more(self) -> None:
        action = self.chosen
        self._ask(() if action is None else action.keys)

    def _ask(self, kept: tuple[str, ...]) -> None:
        action = self.chosen
        if action is None or action.run is None:
            return
        self._foot.setCurrentWidget(self.ask)
        self.ask.begin(action, kept)

    def _give(self, action_id: str, keys: tuple[str, ...]) -> None:
        self._end_asking()
        self._told(self.choices.give(action_id, keys))

    def _take_away(self) -> None:
        action = self.chosen
        if action is not None and action.run is not None:
            self._told(self.choices.give(action.id, ()))

    def _reset(self) -> None:
        action = self.chosen
        if action is None:
            return
        self.table.setFocus()  # the button goes when there is nothing to reset
        self._foot.setCurrentWidget(self.ask)
        self.ask.propose(action, self._registry.default_keys(action.id))

    def _reset_all(self) -> None:
        count = len(self.choices.changed_ids())
        self._told(self.choices.reset_all())
        words = ngettext(
            "{count} action has its own keys again.", "{count} actions have their own keys again.",
            count,
        )  # fmt: skip
        self.saying.say(words.format(count=count))
        self.table.setFocus()

    def _told(self, error: OSError | None) -> None:
        """Say where the choice could not be kept: it holds until the program ends."""
        if error is not None:
            words = _("This holds until Chalkfret ends: it cannot be written ({reason}).")
            self.saying.say(words.format(reason=error.strerror or error), loud=True)

    def _end_asking(self) -> None:
        self._foot.setCurrentWidget(self._doing)
        self.table.setFocus()


class _Table(QTreeView):
    """The list; ``cleared``: Del, to take the key of an action away."""

    cleared = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setAccessibleName(_("Keys"))
        self.setAllColumnsShowFocus(True)
        self.header().setStretchLastSection(False)
        self.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.cleared.emit()
        else:
            super().keyPressEvent(event)
