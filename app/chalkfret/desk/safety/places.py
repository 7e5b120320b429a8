"""Which of the places that the program remembers still are there, found out beside the window.

Asking a drive that is gone can take minutes. So what is not known yet counts as there, and what
was asked is known the next time.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Slot

from chalkfret.desk.settings import Kept, Settings
from chalkfret.desk.work import Progress, Work


class Places(QObject):
    """Recent lessons, and the folder where one was last chosen."""

    def __init__(self, settings: Kept[Settings], parent: QObject) -> None:
        super().__init__(parent)
        self._settings = settings
        self._known: dict[Path, bool] = {}
        self._asked: dict[Path, Work] = {}

    def recent(self) -> Sequence[Path]:
        """Lessons that were open lately, the newest first, but those known to be gone."""
        paths = [Path(name) for name in self._settings.value.recent]
        return [path for path in paths if self._known.get(path, True)]

    def folder(self) -> Path | None:
        """Where a lesson was last chosen, where that is known to be there."""
        last = self._settings.value.folder
        return Path(last) if last and self._known.get(Path(last), False) else None

    def is_there(self, path: Path) -> None:
        """It was just read or written, and so was its folder."""
        self._known[path.absolute()] = self._known[path.absolute().parent] = True

    def look(self) -> None:
        """Find out about all of them, each by itself: one that hangs keeps no other waiting."""
        value = self._settings.value
        for name in (*value.recent, *([value.folder] if value.folder else ())):
            path = Path(name)
            if path not in self._asked:
                work = self._asked[path] = Work(partial(_found, path))
                work.finished.connect(self._learn)
                work.start()
                work.leave()  # the end of the program must not wait for a drive that is gone

    @Slot(object)
    def _learn(self, found: tuple[Path, bool]) -> None:
        path, is_there = found
        self._known[path] = is_there
        del self._asked[path]


def _found(path: Path, _progress: Progress) -> tuple[Path, bool]:
    try:
        return path, path.exists()
    except (OSError, ValueError):
        return path, False
