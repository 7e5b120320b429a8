"""The teacher's shelf of setups: take one from it, put this one on it, rename, remove."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.form import Group
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.settings import Kept, settings_folder
from chalkfret.desk.shelf import Shelf
from chalkfret.desk.strings_page.setups import tuning_text
from chalkfret.model import NoteNaming, Setup, tuning_names
from chalkfret.words.text import _


class ShelfView(Group):
    """The setups on the shelf, as a list; a name is edited in its place (F2)."""

    taken = Signal(object)  # a setup
    told = Signal(str, bool)

    def __init__(self, look: Look, shelf: Kept[Shelf]) -> None:
        super().__init__(look, _("My shelf"))
        self._look = look
        self._shelf = shelf
        self._setup: Setup | None = None
        self._naming = NoteNaming.ENGLISH
        self._shown: tuple[object, ...] = ()
        self.list = QListWidget()
        self.list.setAccessibleName(_("Setups on your shelf"))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list.setEditTriggers(
            QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.SelectedClicked
        )
        self.list.itemChanged.connect(self._rename)
        self.list.itemActivated.connect(lambda _item: self._take())
        self.list.itemSelectionChanged.connect(self._follow_selection)
        self.put = tool(look, "shelf-put", _("Put this setup on your shelf"), _("Put up"))
        self.take = tool(look, "shelf-take", _("String this guitar like the chosen one"), _("Take"))
        self.rename = tool(look, "rename", _("Rename the chosen setup"))
        self.remove = tool(look, "remove", _("Remove the chosen setup from the shelf"))
        self.put.clicked.connect(self._put)
        self.take.clicked.connect(self._take)
        self.rename.clicked.connect(lambda: self.list.editItem(self.list.currentItem()))
        self.remove.clicked.connect(self._remove)
        self.empty = small(
            look,
            _("Nothing on it yet. Put a guitar's strings up, and take them down in any lesson."),
        )
        self.add_wide(self.empty)
        self.add_wide(self.list)
        self.add_wide(FlowRow(self.take, self.put, self.rename, self.remove, gap=4))
        delete = QShortcut(QKeySequence(QKeySequence.StandardKey.Delete), self.list)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self._remove)
        follow(self, look, self._show)

    def show_setup(self, setup: Setup, naming: NoteNaming) -> None:
        """The setup that would be put up."""
        self._setup = setup
        if naming is not self._naming:
            self._naming = naming
            self._show()

    def _show(self) -> None:
        setups = self._shelf.value.setups
        chosen = self._chosen()
        self.list.blockSignals(True)
        self.list.clear()
        for setup in setups:
            item = QListWidgetItem(setup.name)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsEditable)
            item.setData(Qt.ItemDataRole.UserRole, setup.name)
            notes = tuning_text(tuning_names(setup), self._naming)
            item.setToolTip(f"{setup.name}: {notes}")
            self.list.addItem(item)
            if setup.name == chosen:
                self.list.setCurrentItem(item)
        self.list.blockSignals(False)
        self.list.setVisible(bool(setups))
        self.empty.setVisible(not setups)
        rows = min(6, len(setups))
        height = max(self.list.sizeHintForRow(0), self._look.unit(2))
        self.list.setFixedHeight(height * rows + self._look.unit(1))
        self._follow_selection()

    def _chosen(self) -> str:
        item = self.list.currentItem()
        return "" if item is None else str(item.data(Qt.ItemDataRole.UserRole))

    def _follow_selection(self) -> None:
        for button in (self.take, self.rename, self.remove):
            button.setEnabled(self.list.currentItem() is not None)

    def _put(self) -> None:
        setup = self._setup
        if setup is None:
            return
        shelf = self._shelf.refresh()
        name = setup.name.strip() or _("Setup {number}").format(number=len(shelf.setups) + 1)
        known = shelf.named(name)
        if known is not None and known != setup:
            name = _free_name(name, shelf.names)
        if self._update(lambda shelf: shelf.put(setup, name)):
            self.list.setCurrentRow(self._shelf.value.names.index(name))
            self.told.emit(_("“{name}” is on your shelf.").format(name=name), False)

    def _take(self) -> None:
        setup = self._shelf.value.named(self._chosen())
        if setup is not None:
            self.taken.emit(setup)

    def _rename(self, item: QListWidgetItem) -> None:
        old, new = str(item.data(Qt.ItemDataRole.UserRole)), item.text().strip()
        if not new or new == old:
            self._show()
            return
        try:
            self._update(lambda shelf: shelf.rename(old, new))
        except ValueError:
            self.told.emit(_("Your shelf has a setup called “{name}”.").format(name=new), True)
            self._show()

    def _remove(self) -> None:
        name = self._chosen()
        if name and self._update(lambda shelf: shelf.remove(name)):
            self.told.emit(_("“{name}” is off your shelf.").format(name=name), False)

    def _update(self, how: Callable[[Shelf], Shelf]) -> bool:
        """Change the shelf; False where it could not be kept, which is said."""
        error = self._shelf.update(how)
        self._show()
        if error is None:
            return True
        words = _(
            "The shelf could not be kept ({why}): it holds until you quit. Make room or mend "
            "the folder {folder}, and put the setup up again."
        )
        why = error.strerror or error
        self.told.emit(words.format(why=why, folder=settings_folder()), True)
        return False

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._shelf.refresh()
        self._show()


def _free_name(name: str, taken: tuple[str, ...]) -> str:
    number = 2
    while f"{name} ({number})" in taken:
        number += 1
    return f"{name} ({number})"
