"""The few calls by which files are read and written: one seam, so that every refusal of a system
can be tried out by handing in a disk that refuses."""

from __future__ import annotations

import errno
import os
import stat
import sys
from contextlib import suppress
from pathlib import Path
from typing import Final


class Disk:
    """The system's own files. Every call raises OSError as the system does."""

    def status(self, path: Path) -> os.stat_result:
        """What stands at ``path``, links followed."""
        return path.stat()

    def read(self, path: Path) -> bytes:
        """All bytes of a file."""
        return path.read_bytes()

    def may_write(self, path: Path) -> bool:
        """Whether the file's own permissions let us write it."""
        return os.access(path, os.W_OK)

    def create(self, path: Path) -> int:
        """A new file, open for writing; an existing one is an error."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        return os.open(path, flags, 0o666)

    def write(self, file: int, data: memoryview) -> int:
        """Write some of the data; how many bytes were taken."""
        return os.write(file, data)

    def sync(self, file: int) -> None:
        """Wait until what was written is on the disk."""
        os.fsync(file)

    def close(self, file: int) -> None:
        """Close a file."""
        os.close(file)

    def copy_permissions(self, of: os.stat_result, to: Path) -> None:
        """Give ``to`` the permissions, and where allowed the owner and group, of a file."""
        if hasattr(os, "chown"):
            with suppress(PermissionError):  # only the owner may give a file away
                os.chown(to, of.st_uid, of.st_gid)
        to.chmod(stat.S_IMODE(of.st_mode))

    def replace(self, new: Path, old: Path) -> None:
        """Put ``new`` in the place of ``old`` in one step."""
        new.replace(old)

    def sync_folder(self, folder: Path) -> None:
        """Wait until the folder's list of names is on the disk. Not every system can do that."""
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

    def make_folder(self, folder: Path) -> None:
        """Make a folder and those above it, where they are not there yet."""
        folder.mkdir(parents=True, exist_ok=True)

    def names(self, folder: Path) -> list[str]:
        """The names in a folder."""
        return [path.name for path in folder.iterdir()]

    def remove(self, path: Path) -> None:
        """Remove a file."""
        path.unlink()

    def remove_folder(self, folder: Path) -> None:
        """Remove an empty folder."""
        folder.rmdir()

    def lock(self, path: Path) -> int:
        """A file, made where it is missing, locked for this process until it is closed or ends.

        BlockingIOError where another process (or this one, elsewhere) holds it.
        """
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            _lock(handle)
        except BaseException:
            os.close(handle)
            raise
        return handle


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:  # it knows no other reason: the byte is taken
            raise BlockingIOError(errno.EWOULDBLOCK, "The file is locked") from error
else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


DISK: Final = Disk()
