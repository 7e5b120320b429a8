"""What can go wrong with a file, as exceptions that carry faults and never a half-made thing."""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Final

from chalkfret.model import Fault, fault


class FileTrouble(Exception):
    """Something a user can mend; ``faults`` say what, ``words`` makes the sentences."""

    def __init__(self, *faults: Fault) -> None:
        super().__init__(*(found.code for found in faults))
        self.faults = faults


class BadFile(FileTrouble):
    """A file that was read but is no sound lesson (or clip)."""


class CannotRead(FileTrouble):
    """The system would not give the file's bytes."""


class CannotWrite(FileTrouble):
    """The file was not written; what stood there before still stands there."""


_CODES: Final = {
    errno.ENOENT: "file_missing",
    errno.ENOTDIR: "file_missing",
    errno.EISDIR: "file_is_folder",
    errno.EACCES: "file_not_allowed",
    errno.EPERM: "file_not_allowed",
    errno.EROFS: "file_read_only",
    errno.ENOSPC: "file_disk_full",
    errno.EDQUOT: "file_disk_full",
    errno.EFBIG: "file_disk_full",
    errno.ENAMETOOLONG: "file_name_too_long",
    errno.ELOOP: "file_link_loop",
}


def system_fault(error: OSError | ValueError, path: Path) -> Fault:
    """The fault that a refusal of the system is. A ValueError is a path with a NUL in it."""
    if isinstance(error, ValueError):
        return fault("file_missing", file=str(path))
    code = _CODES.get(error.errno or 0)
    if code is None:
        return fault("file_system", file=str(path), reason=error.strerror or str(error))
    return fault(code, file=str(path))


def write_fault(error: OSError | ValueError, path: Path) -> Fault:
    """The fault that a refusal to write ``path`` is: what is missing then is the folder."""
    found = system_fault(error, path)
    if found.code == "file_missing" and isinstance(error, OSError):
        return fault("folder_missing", folder=str(path.parent))
    return found
