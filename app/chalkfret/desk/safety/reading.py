"""Read a lesson beside the window."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, Signal, Slot

from chalkfret.desk.safety.care import Care
from chalkfret.desk.work import Progress, Work
from chalkfret.files.disk import Disk
from chalkfret.files.trouble import FileTrouble
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.files.saving import Opened

Done = Callable[["Read"], object]
Then = Callable[[], object]


class Read(NamedTuple):
    """A lesson that was read, and whether it is open in another window."""

    opened: Opened
    elsewhere: bool


class Reading(QObject):
    """One lesson at a time: what is begun takes the place of what is being read."""

    refused = Signal(str, list)  # the path, and the sentences that say why
    changed = Signal()

    def __init__(self, care: Care, parent: QObject) -> None:
        super().__init__(parent)
        self._care = care
        self.path: Path | None = None
        self._work: Work | None = None
        self._done: Done | None = None
        self._otherwise: Then | None = None

    def begin(self, path: Path, done: Done, otherwise: Then | None = None) -> None:
        """Read the lesson at ``path``, then go on with it; ``otherwise`` where it is at fault."""
        self.stop()
        care = self._care
        own = {*care.lost, care.journal.folder}
        work = Work(partial(_read, path, care.disk, care.state, own))
        self.path, self._work = path, work
        self._done, self._otherwise = done, otherwise
        work.finished.connect(self._read)
        work.failed.connect(self._failed)
        work.start()
        self.changed.emit()

    def stop(self) -> None:
        """Wait no more for what is being read."""
        if self._work is not None:
            self._work.finished.disconnect(self._read)
            self._work.failed.disconnect(self._failed)
            self._work.leave()
            self._over()

    def _over(self) -> None:
        self._work = self.path = None
        self.changed.emit()

    @Slot(object)
    def _read(self, read: Read) -> None:
        self._over()
        if self._done is not None:
            self._done(read)

    @Slot(object)
    def _failed(self, error: Exception) -> None:
        path, otherwise = self.path, self._otherwise
        self._over()
        self.refused.emit(str(path), trouble_sentences(error))
        if otherwise is not None:
            otherwise()


def _read(path: Path, disk: Disk, state: Path, own: set[Path | None], _progress: Progress) -> Read:
    from chalkfret.files.saving import open_at
    from chalkfret.files.sessions import opened_elsewhere

    opened = open_at(path, disk)
    try:
        elsewhere = opened_elsewhere(state, path, own, disk)
    except OSError:
        elsewhere = False  # the list of windows cannot be had; a save looks at the file itself
    return Read(opened, elsewhere)


def trouble_sentences(error: Exception) -> list[str]:
    """What is said of an exception of the files' room, and of one that nobody foresaw."""
    from chalkfret.words.sentences import sentence

    if isinstance(error, FileTrouble):
        return [sentence(fault) for fault in error.faults]
    return [_("Something unforeseen went wrong ({error}).").format(error=type(error).__name__)]


def lacks_folder(error: Exception) -> bool:
    """Whether it is the folder that is not there, and so no file either."""
    faults = error.faults if isinstance(error, FileTrouble) else ()
    return any(found.code == "folder_missing" for found in faults)
