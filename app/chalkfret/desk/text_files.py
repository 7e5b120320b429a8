"""Text tabs from the window: a text file read as a new lesson, beside the window."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Slot

from chalkfret.desk.safety.reading import trouble_sentences
from chalkfret.desk.work import Progress, Work
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window
    from chalkfret.files.text_tab import Reading


class TextFiles(QObject):
    """Opens text tabs."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._path = Path()
        self._work: Work | None = None
        self._reading: Reading | None = None
        # Queued: the window puts away what was said of the lesson before.
        window.files.opened.connect(self._opened, Qt.ConnectionType.QueuedConnection)

    def choose(self) -> None:
        """Ask for a text file to read."""
        from PySide6.QtWidgets import QFileDialog

        name, _filter = QFileDialog.getOpenFileName(
            self._window,
            _("Read a text tab"),
            self._window.settings.value.folder,
            _("Text tabs") + " (*.txt *.tab);;" + _("All files") + " (*)",
        )
        if name:
            self._window.settings.change(folder=str(Path(name).absolute().parent))
            self.open(Path(name))

    def open(self, path: Path) -> None:
        """Read the text at ``path`` as a new lesson, and say what could not be read."""
        self._path = path
        self._work = work = Work(partial(_load, path))
        work.finished.connect(self._show)
        work.failed.connect(self._refuse)
        work.start()

    @Slot(object)
    def _show(self, reading: Reading) -> None:
        if self.sender() is self._work and reading.lesson is not None:
            self._reading = reading
            self._window.files.show_copy(reading.lesson)

    @Slot()
    def _opened(self) -> None:
        """Where the lesson that came is the one just read, say what of its text to look at."""
        from chalkfret.words.sentences import sentence

        reading, self._reading = self._reading, None
        if reading is None or self._window.document.lesson is not reading.lesson:
            return
        sentences = [sentence(fault) for fault in reading.faults]
        if sentences:
            heading = _("What to look at in {name}").format(name=self._path.name)
            self._window.notice.show_sentences(heading, sentences)

    @Slot(object)
    def _refuse(self, error: Exception) -> None:
        if self.sender() is self._work:
            self._window.files.refused.emit(str(self._path), trouble_sentences(error))


def _load(path: Path, _progress: Progress) -> Reading:
    from chalkfret.files.text_tab.file import load_text

    return load_text(path)
