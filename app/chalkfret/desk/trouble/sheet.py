"""The report, to be read whole before anybody gets it; saved where the teacher chooses."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QLabel,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.on_screen import fit_screen
from chalkfret.desk.pieces.saying import Saying
from chalkfret.files.atomic import replace_file
from chalkfret.files.trouble import system_fault
from chalkfret.words.sentences import sentence
from chalkfret.words.text import _


class ReportSheet(QDialog):
    """The whole report, as it would be sent; it stays open beside the work."""

    def __init__(self, text: str, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("What went wrong"))
        self.setModal(False)
        fit_screen(self, look, 100, 80)
        about = QLabel(
            _(
                "This is the whole report. It names places in the program and what you did with "
                "it, but nothing of your lesson, no file and no name. Nobody gets it unless you "
                "send it; it is in English for those who mend the program."
            )
        )
        about.setWordWrap(True)
        self.text = QPlainTextEdit(text)
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName(_("Report"))
        self.text.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.saying = Saying(look)
        save = QPushButton(_("&Save the report …"))
        copy = QPushButton(_("&Copy"))
        close = QPushButton(_("C&lose"))
        save.clicked.connect(self.choose)
        copy.clicked.connect(self._copy)
        close.clicked.connect(self.close)
        column = QVBoxLayout(self)
        column.setContentsMargins(look.unit(2), look.unit(2), look.unit(2), look.unit(2))
        column.setSpacing(look.unit())
        for widget in (about, self.text, self.saying, FlowRow(save, copy, close)):
            column.addWidget(widget)
        column.setStretchFactor(self.text, 1)

    def choose(self) -> None:
        """Ask where to save it."""
        name, _filter = QFileDialog.getSaveFileName(
            self, _("Save the report"), str(Path.home() / "chalkfret-report.txt")
        )
        if name:
            self.save(Path(name))

    def save(self, path: Path) -> None:
        """Save it there, and say what became of it."""
        try:
            replace_file(path, self.text.toPlainText().encode())
        except (OSError, ValueError) as error:
            self.saying.say(sentence(system_fault(error, path)), True)
        else:
            self.saying.say(_("Saved as {name}.").format(name=path.name))

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())
        self.saying.say(_("Copied."))
