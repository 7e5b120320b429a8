"""The list of every key, made from the registry: it cannot say what the keyboard does not do."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSortFilterProxyModel, Qt
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import (
    QDialog,
    QHeaderView,
    QLineEdit,
    QPushButton,
    QTreeView,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.actions import Action, Registry
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.on_screen import fit_screen
from chalkfret.desk.pieces.saying import Saying
from chalkfret.words.text import N_, _

if TYPE_CHECKING:
    from PySide6.QtGui import QPagedPaintDevice, QPageSize

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
        self._registry = registry
        self.setWindowTitle(_("Keys"))
        self.setModal(False)
        fit_screen(self, look, 108, 80)
        self.search = QLineEdit()
        self.search.setPlaceholderText(_("Find by words or keys"))
        self.search.setAccessibleName(_("Find by words or keys"))
        self._model = QStandardItemModel(0, 3, self)
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
        self._view.header().setStretchLastSection(False)
        self.search.textChanged.connect(self._shown.setFilterFixedString)
        self.print = QPushButton(_("&Print …"))
        self.pdf = QPushButton(_("&Save as PDF …"))
        for button in (self.print, self.pdf):
            button.setAutoDefault(False)
        self.print.clicked.connect(self._print)
        self.pdf.clicked.connect(self._save)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(look.unit(2), look.unit(2), look.unit(2), look.unit(2))
        layout.setSpacing(look.unit())
        layout.addWidget(self.search)
        layout.addWidget(self._view)
        layout.addWidget(FlowRow(self.print, self.pdf))
        self.saying = Saying(look)
        layout.addWidget(self.saying)
        registry.changed.connect(self._fill)
        self._fill()

    def _fill(self) -> None:
        self._model.clear()
        self._model.setHorizontalHeaderLabels([_("What"), _("Keys"), _("Where")])
        for action, where in self._registry.entries():
            keys = action.keys_text()
            if keys:
                text = full_name(action)
                row = [QStandardItem(word) for word in (text, keys, where or _("everywhere"))]
                for item in row:
                    item.setEditable(False)
                self._model.appendRow(row)
        self._view.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)

    def rows(self) -> list[tuple[str, str]]:
        """What is listed now, as text and keys."""
        model = self._shown
        return [
            (model.index(row, 0).data(), model.index(row, 1).data())
            for row in range(model.rowCount())
        ]

    # On paper

    def _print(self) -> None:
        from PySide6.QtPrintSupport import QPrintDialog, QPrinter

        from chalkfret.desk.keys.printing import page_layout

        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageLayout(page_layout(_usual_paper()))
        printer.setDocName(self.windowTitle())
        dialog = QPrintDialog(printer, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.accepted.connect(lambda: self._paint(printer))
        dialog.show()

    def _paint(self, printer: QPagedPaintDevice) -> None:
        from chalkfret.desk.keys.printing import paint_keys

        if not paint_keys(printer, self._registry):
            self.saying.say(_("The printer does not take the list. Save it as PDF."), loud=True)

    def _save(self) -> None:
        from PySide6.QtWidgets import QFileDialog

        from chalkfret.desk.keys.printing import keys_pdf
        from chalkfret.desk.lesson_files import documents_folder
        from chalkfret.files.atomic import replace_file

        name = str(documents_folder() / (_("Chalkfret keys") + ".pdf"))
        chosen, _filter = QFileDialog.getSaveFileName(
            self, _("Save the list of keys"), name, _("PDF files") + " (*.pdf)"
        )
        if not chosen:
            return
        path = Path(chosen)
        try:
            replace_file(path, keys_pdf(self._registry, _usual_paper()))
        except OSError as error:
            words = _("{name} was not written: {reason}.")
            self.saying.say(words.format(name=path.name, reason=error.strerror or error), loud=True)
        else:
            self.saying.say(_("Written to {name}.").format(name=path.name))


def _usual_paper() -> QPageSize:
    """Letter where that is the usual paper, else A4."""
    from PySide6.QtGui import QPageSize

    from chalkfret.desk.beginnings import usual_paper
    from chalkfret.model import Paper

    sizes = QPageSize.PageSizeId
    return QPageSize(sizes.Letter if usual_paper() is Paper.LETTER else sizes.A4)
