"""The folders in which windows keep their records: one a window, its own as long as it lives.

A living process holds the lock of its folder, and the system lets go of it when the process ends,
however it ends. So a folder whose lock can be had belongs to nobody any more: what is in it is
lost work, or nothing. Whoever looks at lost work holds its lock meanwhile, so that two windows do
not offer the same.
"""

from __future__ import annotations

import os
import secrets
import time
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path
from typing import Final

from msgspec import Struct

from chalkfret.files.atomic import replace_file
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.journal import Head, read_head, read_record
from chalkfret.files.trouble import BadFile
from chalkfret.model import Fault, Lesson

FOLDER: Final = "sessions"
RECORD: Final = "work"
LOCK: Final = "lock"
YOUNG_S: Final = 60.0
"""A folder without a record that is younger may belong to a window that is just opening."""


class Session:
    """The folder of one window that lives in this process."""

    def __init__(self, state: Path, disk: Disk = DISK) -> None:
        """Make the folder and hold it. Raises OSError."""
        self._disk = disk
        self.folder = state / FOLDER / f"{os.getpid()}-{secrets.token_hex(6)}"
        disk.make_folder(self.folder)
        self._lock: int | None = None
        with suppress(OSError):  # a disk that knows no locks: the number of the process must do
            self._lock = disk.lock(self.folder / LOCK)

    def write(self, data: bytes) -> None:
        """Replace the record. Raises OSError; the last one is then still there."""
        replace_file(self.folder / RECORD, data, self._disk)

    def end(self, keep: bool) -> None:
        """Let go of the folder, and unless something in it is to be kept, remove it."""
        lock, self._lock = self._lock, None
        if keep:
            _release(lock, self._disk)
        else:
            _remove(self.folder, lock, self._disk)


class Lost(Struct, frozen=True, eq=False):
    """Unsaved work of a window that did not end well, held for this process.

    ``lesson`` is None where the record cannot be read; ``faults`` then say why.
    """

    folder: Path
    lock: int | None
    at: float
    path: Path | None = None
    saved: str | None = None
    data: bytes = b""
    lesson: Lesson | None = None
    faults: tuple[Fault, ...] = ()

    def remove(self, disk: Disk = DISK) -> None:
        """Remove it for good: the teacher has decided. Raises OSError."""
        disk.remove(self.folder / RECORD)
        _remove(self.folder, self.lock, disk)

    def release(self, disk: Disk = DISK) -> None:
        """Leave it for another start."""
        _release(self.lock, disk)


def lost_work(state: Path, own: Path | None = None, disk: Disk = DISK) -> tuple[Lost, ...]:
    """What windows that live no more have left, the newest first.

    Folders in which nothing is lost are cleared away. What the disk does not give now is left as
    it is, for another start. Raises OSError where the list of sessions cannot be had.
    """
    found = []
    for folder in _folders(state, disk):
        if folder == own:
            continue
        with suppress(OSError):
            lost = _taken(folder, disk)
            if lost is not None:
                found.append(lost)
    return tuple(sorted(found, key=lambda one: -one.at))


def opened_elsewhere(
    state: Path, path: Path, own: Collection[Path | None] = (), disk: Disk = DISK
) -> bool:
    """Whether the lesson at ``path`` is open in another window that lives. Raises OSError.

    ``own`` are the folders that this window holds: its own, and those of lost work it offers.
    """
    wanted = os.path.realpath(path)
    for folder in _folders(state, disk):
        if folder in own or not _process_runs(folder.name):
            continue  # lost work that another window offers is locked, too, but its process is gone
        with suppress(OSError, BadFile):
            place = read_head(disk.read(folder / RECORD)).place
            if place is not None and os.path.realpath(place) == wanted and _lives(folder, disk):
                return True
    return False


def _folders(state: Path, disk: Disk) -> list[Path]:
    try:
        return [state / FOLDER / name for name in disk.names(state / FOLDER)]
    except FileNotFoundError:
        return []


def _taken(folder: Path, disk: Disk) -> Lost | None:
    """The lost work in a folder; None where it lives, or has nothing to lose."""
    try:
        lock = _held(folder, disk)
    except BlockingIOError:
        return None
    try:
        lost = _read(folder, lock, disk)
    except OSError:
        _release(lock, disk)
        raise
    if lost is None:
        _remove(folder, lock, disk)
    return lost


def _read(folder: Path, lock: int | None, disk: Disk) -> Lost | None:
    from chalkfret.files.lesson_file import loads

    try:
        status = disk.status(folder / RECORD)
        data = disk.read(folder / RECORD)
    except FileNotFoundError:
        if time.time() - disk.status(folder).st_mtime < YOUNG_S:
            raise
        return None
    head: Head | None = None
    try:
        head, body = read_record(data)
        if head.digest is None:
            return None
        lesson = loads(body)
    except BadFile as bad:
        place = None if head is None else head.place
        return Lost(folder, lock, status.st_mtime, place, faults=bad.faults)
    return Lost(folder, lock, head.at, head.place, head.saved, body, lesson)


def _lives(folder: Path, disk: Disk) -> bool:
    try:
        _release(_held(folder, disk), disk)
    except BlockingIOError:
        return True
    return False


def _held(folder: Path, disk: Disk) -> int | None:
    """The lock of a folder that belongs to nobody. BlockingIOError: it belongs to somebody."""
    try:
        return disk.lock(folder / LOCK)
    except BlockingIOError:
        raise
    except OSError:
        if _process_runs(folder.name):
            raise BlockingIOError from None
        return None


def _process_runs(name: str) -> bool:
    """Whether the process that made a folder of this name runs, as far as that can be told."""
    number = name.partition("-")[0]
    if os.name != "posix" or not number.isdecimal():
        return True
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True


def _remove(folder: Path, lock: int | None, disk: Disk) -> None:
    """Remove a folder that is ours. What stays of it is found by a later start.

    The lock goes last, and is let go of before: some systems remove no file that is open.
    """
    with suppress(OSError):
        for name in disk.names(folder):
            if name != LOCK:
                disk.remove(folder / name)
    _release(lock, disk)
    with suppress(OSError):
        disk.remove(folder / LOCK)
        disk.remove_folder(folder)


def _release(lock: int | None, disk: Disk) -> None:
    if lock is not None:
        with suppress(OSError):
            disk.close(lock)
