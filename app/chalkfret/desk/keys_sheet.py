"""The list of every key, made from the registry: it cannot say what the keyboard does not do."""

from __future__ import annotations

from PySide6.QtCore import QSortFilterProxyModel, Qt
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QDialog, QHeaderView, QLineEdit, QTreeView, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action, Registry
from chalkfret.desk.look import Look
from chalkfret.words.text import N_, _

# What the words of these menus speak of: "Duplicate" alone does not say what.
_OF_THINGS = (N_("&Bar"), N_("&Section"), N_("&Part"))


def full_name(action: Action) -> str:
    """What an action does, said so that it is understood outside its menu."""
    text = action.plain
    thing = _(action.menu).replace("&", "") if action.menu in _OF_THINGS else ""
    if not thing or thing.casefold() in text.casefold():
        return text
    return f"{thing}: {text}"


class KeysSheet(QDialog):
    """Every action and its keys, found by their words; it stays open beside the work."""

    def __init__(self, registry: Registry, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Keys"))
        self.setModal(False)
        self.resize(look.unit(108), look.unit(80))
        self.search = QLineEdit()
        self.search.setPlaceholderText(_("Find by words or keys"))
        self.search.setAccessibleName(_("Find by words or keys"))
        self._model = QStandardItemModel(0, 3, self)
        self._model.setHorizontalHeaderLabels([_("What"), _("Keys"), _("Where")])
        for action, where in registry.entries():
            keys = action.keys_text()
            if keys:
                text = full_name(action)
                row = [QStandardItem(word) for word in (text, keys, where or _("everywhere"))]
                for item in row:
                    item.setEditable(False)
                self._model.appendRow(row)
        self._shown = QSortFilterProxyModel(self)
        self._shown.setSourceModel(self._model)
        self._shown.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self._shown.setFilterKeyColumn(-1)
        self._view = QTreeView()
        self._view.setModel(self._shown)
        self._view.setRootIsDecorated(False)
        self._view.setUniformRowHeights(True)
        self._view.setAccessibleName(_("Keys"))
        self._view.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self._view.header().setStretchLastSection(True)
        self.search.textChanged.connect(self._shown.setFilterFixedString)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(look.unit(2), look.unit(2), look.unit(2), look.unit(2))
        layout.setSpacing(look.unit())
        layout.addWidget(self.search)
        layout.addWidget(self._view)

    def rows(self) -> list[tuple[str, str]]:
        """What is listed now, as text and keys."""
        model = self._shown
        return [
            (model.index(row, 0).data(), model.index(row, 1).data())
            for row in range(model.rowCount())
        ]
