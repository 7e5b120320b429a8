"""New, open, save: the lesson and its file, with the question about unsaved work.

Reading and writing is done in ``files``; here is only what the teacher is asked and told.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.settings import Kept, Settings, with_recent
from chalkfret.model import Lesson
from chalkfret.model.start import new_lesson
from chalkfret.words.text import _

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMessageBox

SUFFIX = ".chalkfret"


class LessonFiles(QObject):
    """The file side of a document. ``refused`` carries a path and the sentences that say why."""

    opened = Signal()
    refused = Signal(str, list)

    def __init__(self, document: Document, window: QWidget, settings: Kept[Settings]) -> None:
        super().__init__(window)
        self._document, self._window, self._settings = document, window, settings

    def new(self) -> bool:
        """Begin a new lesson."""
        return self._show(new_lesson(), None)

    def show_copy(self, lesson: Lesson) -> bool:
        """Begin a lesson that is a copy of this one and lies nowhere yet."""
        return self._show(lesson, None)

    def _show(self, lesson: Lesson, path: Path | None) -> bool:
        if not self.may_leave():
            return False
        self._document.replace(lesson, path)
        self.opened.emit()
        return True

    def choose(self) -> bool:
        """Ask for a lesson to open."""
        from PySide6.QtWidgets import QFileDialog

        name, _filter = QFileDialog.getOpenFileName(
            self._window, _("Open a lesson"), self._folder(), self._filter()
        )
        if not name or not self.open(Path(name)):
            return False
        self._settings.change(folder=str(Path(name).absolute().parent))
        return True

    def open(self, path: Path) -> bool:
        """Open the lesson at ``path``; where it is at fault, say why and leave all as it is."""
        lesson = self.read(path)
        if lesson is None or not self._show(lesson, path):
            return False
        self._remember(path)
        return True

    def open_copy(self, path: Path) -> bool:
        """Begin with a copy of the lesson at ``path``; the file itself stays as it is."""
        lesson = self.read(path)
        return lesson is not None and self.show_copy(lesson)

    def read(self, path: Path) -> Lesson | None:
        """The lesson at ``path``, or None after saying what is wrong with it."""
        from chalkfret.files.lesson_file import load
        from chalkfret.files.trouble import FileTrouble

        try:
            return load(path)
        except FileTrouble as trouble:
            from chalkfret.words.sentences import sentence

            self.refused.emit(str(path), [sentence(fault) for fault in trouble.faults])
        return None

    def save(self) -> bool:
        """Save where the lesson lies, or ask where."""
        path = self._document.path
        return self.save_as() if path is None else self.write(path)

    def save_as(self) -> bool:
        """Ask where to save, and save there."""
        from PySide6.QtWidgets import QFileDialog

        title = self._document.lesson.head.title.strip() or _("Lesson")
        name = "".join(" " if sign in '/\\:*?"<>|' else sign for sign in title)
        suggested = self._document.path or Path(self._folder()) / f"{name}{SUFFIX}"
        chosen, _filter = QFileDialog.getSaveFileName(
            self._window, _("Save the lesson as"), str(suggested), self._filter()
        )
        if not chosen:
            return False
        path = Path(chosen)
        if not self.write(path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX)):
            return False
        self._settings.change(folder=str(path.absolute().parent))
        return True

    def write(self, path: Path) -> bool:
        """Save at ``path``; where that fails say why: the lesson stays open and unsaved."""
        from chalkfret.files.lesson_file import save
        from chalkfret.files.trouble import FileTrouble

        try:
            save(self._document.lesson, path)
        except FileTrouble as trouble:
            from chalkfret.words.sentences import sentence

            self._document.said.emit(
                _("{name} was not saved. {reason}").format(
                    name=path.name, reason=sentence(trouble.faults[0])
                )
            )
            return False
        self._document.saved_as(path)
        self._remember(path)
        return True

    def may_leave(self) -> bool:
        """Whether the lesson may be let go: saved, or the teacher says so."""
        if not self._document.dirty:
            return True
        from PySide6.QtWidgets import QMessageBox

        choice = self.ask_unsaved()
        if choice is QMessageBox.StandardButton.Save:
            return self.save()
        return choice is QMessageBox.StandardButton.Discard

    def ask_unsaved(self) -> QMessageBox.StandardButton:
        """Ask what to do with unsaved work: Save, Discard or Cancel."""
        from PySide6.QtGui import QIcon
        from PySide6.QtWidgets import QMessageBox

        box = QMessageBox(self._window)
        box.setWindowTitle(_("Unsaved work"))
        box.setText(_("This lesson has changes that are not saved."))
        box.setInformativeText(_("Save them before going on?"))
        buttons = QMessageBox.StandardButton
        box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
        for which, words in (
            (buttons.Save, _("&Save")),
            (buttons.Discard, _("&Do not save")),
            (buttons.Cancel, _("&Cancel")),
        ):
            button = box.button(which)
            button.setText(words)
            button.setIcon(QIcon())  # the style's own pictures are of another hand than ours
        box.setDefaultButton(buttons.Save)
        choice = QMessageBox.StandardButton(box.exec())
        box.deleteLater()
        return choice

    def recent(self) -> Sequence[Path]:
        """Lessons that were open lately and still are there, the newest first."""
        return [path for name in self._settings.value.recent if (path := Path(name)).exists()]

    def _remember(self, path: Path) -> None:
        self._settings.update(lambda value: with_recent(value, path.absolute()))

    def _folder(self) -> str:
        """Where a dialog begins: beside the lesson, where one was last chosen, or the documents."""
        if self._document.path is not None:
            return str(self._document.path.parent)
        last = self._settings.value.folder
        return last if last and Path(last).is_dir() else str(documents_folder())

    def _filter(self) -> str:
        return _("Lessons") + f" (*{SUFFIX})"


def documents_folder() -> Path:
    """The user's folder for documents, or the home folder where there is none."""
    from PySide6.QtCore import QStandardPaths

    documents = QStandardPaths.StandardLocation.DocumentsLocation
    folder = Path(QStandardPaths.writableLocation(documents))
    return folder if folder.is_dir() else Path.home()
