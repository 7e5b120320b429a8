"""Earlier versions of the open lesson's file: when they were replaced, and how they differ."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QObject, Signal, Slot

from chalkfret.desk.document import Document
from chalkfret.desk.lesson_files import LessonFiles
from chalkfret.desk.safety.asked import Asked, Choice, Entry
from chalkfret.desk.safety.reading import trouble_sentences
from chalkfret.desk.safety.recovering import said_time
from chalkfret.desk.work import Progress, Work
from chalkfret.files.backups import Version, versions
from chalkfret.files.disk import Disk
from chalkfret.files.lesson_file import load
from chalkfret.files.trouble import CannotRead, FileTrouble, system_fault
from chalkfret.model import Lesson
from chalkfret.model.lesson_differences import differences
from chalkfret.words.lesson_differences import difference_sentences
from chalkfret.words.text import _

KEY = "earlier"
_LINES_MOST = 5


class Seen(NamedTuple):
    """An earlier version as it is told: its lesson is None where it cannot be read."""

    version: Version
    lesson: Lesson | None
    lines: tuple[str, ...]


class Earlier(QObject):
    """Lists the earlier versions when asked to; each opens as a copy."""

    asked = Signal(object)
    said = Signal(str)
    refused = Signal(str)

    def __init__(self, document: Document, files: LessonFiles, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._files = document, files

    def look(self) -> None:
        """Read them beside the window, and show them."""
        care, document = self._files.care, self._document
        work = Work(partial(_seen, care.state, document.path, document.lesson, care.disk))
        work.finished.connect(self._show)
        work.failed.connect(self._failed)
        work.start()

    @Slot(object)
    def _show(self, found: tuple[Seen, ...]) -> None:
        if not found:
            self.said.emit(
                _("There are no earlier versions yet. Each save keeps the one it replaces.")
            )
            return
        entries = [self._entry(seen) for seen in found]
        path = self._document.path
        if path is None:
            heading = _("Unsaved lessons that you let go")
        else:
            heading = _("Earlier versions of {name}, the newest first").format(name=path.name)
        self.asked.emit(Asked(KEY, heading, entries, _("Close"), calm=True))

    def _entry(self, seen: Seen) -> Entry:
        number, time = seen.version.number, said_time(seen.version.at)
        title = _("Version {number}, replaced at {time}").format(number=number, time=time)
        if seen.lesson is None:
            return Entry(title, seen.lines)
        copy = Choice(_("Open as a copy"), partial(self._files.show_copy, seen.lesson))
        return Entry(title, (_("From it to the lesson of now:"), *seen.lines), (copy,))

    @Slot(object)
    def _failed(self, error: Exception) -> None:
        self.refused.emit(trouble_sentences(error)[0])


def _seen(
    state: Path, path: Path | None, now: Lesson, disk: Disk, _progress: Progress
) -> tuple[Seen, ...]:
    """In a thread: all earlier versions beside the lesson of now."""
    try:
        found = versions(state, path, disk)
    except OSError as error:
        raise CannotRead(system_fault(error, state)) from error
    return tuple(_beside(version, now, disk) for version in found)


def _beside(version: Version, now: Lesson, disk: Disk) -> Seen:
    try:
        lesson = load(version.path, disk)
    except FileTrouble as trouble:
        return Seen(version, None, tuple(trouble_sentences(trouble)))
    return Seen(version, lesson, difference_sentences(differences(lesson, now), _LINES_MOST))
