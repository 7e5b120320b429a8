"""Replace a file in one step: at every moment the old bytes or the new ones stand there, whole."""

from __future__ import annotations

import errno
import os
import stat
import time
import zlib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from chalkfret.files.disk import DISK, Disk

# A temporary file older than this was left by a run that was killed; a younger one may be in use.
LEFT_BEHIND_S: Final = 3600.0


def go_on() -> None:
    """Nothing speaks against it."""


def replace_file(
    path: Path, data: bytes, disk: Disk = DISK, last_word: Callable[[], None] = go_on
) -> None:
    """Write ``data`` to ``path`` by way of a temporary file beside it.

    ``last_word`` is asked right before the new file takes the old one's place, which a slow disk
    may reach long after anybody wants it: where it raises, nothing is replaced.

    A link's target is replaced, not the link; permissions are kept. Raises OSError (or ValueError
    for a path that no system has), and then what stood there before still stands there.
    """
    target = Path(os.path.realpath(path))
    old = _status(target, disk)
    if old is not None:
        _refuse_what_is_no_file(old, target)
        if not disk.may_write(target):
            raise PermissionError(errno.EACCES, "Permission denied", str(target))
    mark = _mark(target)
    temporary = target.parent / f"{mark}{os.urandom(6).hex()}"
    handle = disk.create(temporary)
    try:
        try:
            _write_all(handle, data, disk)
            disk.sync(handle)
        finally:
            disk.close(handle)
        if old is not None:
            disk.copy_permissions(old, temporary)
        last_word()
        disk.replace(temporary, target)
    except BaseException:
        with suppress(OSError):
            disk.remove(temporary)
        raise
    with suppress(OSError):  # the new file stands there; some drives know no syncing of folders
        disk.sync_folder(target.parent)
    _remove_left_behind(target.parent, mark, disk)


def _status(target: Path, disk: Disk) -> os.stat_result | None:
    try:
        return disk.status(target)
    except FileNotFoundError:
        return None


def _refuse_what_is_no_file(old: os.stat_result, target: Path) -> None:
    if stat.S_ISDIR(old.st_mode):
        raise IsADirectoryError(errno.EISDIR, "Is a directory", str(target))
    if not stat.S_ISREG(old.st_mode):
        raise OSError(errno.EINVAL, "Not a file that can be replaced", str(target))


def _write_all(handle: int, data: bytes, disk: Disk) -> None:
    left = memoryview(data)
    while left:
        taken = disk.write(handle, left)
        if not taken:
            raise OSError(errno.EIO, "Nothing was written")
        left = left[taken:]


def _mark(target: Path) -> str:
    """How the names of this target's temporary files begin: short, whatever the target's name."""
    return f".chalkfret-{zlib.crc32(os.fsencode(target.name)):08x}-"


def _remove_left_behind(folder: Path, mark: str, disk: Disk) -> None:
    """What a killed run left; the target is written by now, so nothing here is a fault."""
    with suppress(OSError):
        for name in disk.names(folder):
            if name.startswith(mark):
                left = folder / name
                if time.time() - disk.status(left).st_mtime > LEFT_BEHIND_S:
                    disk.remove(left)
