"""Save a lesson over the file it came from, and over nothing else.

A file is known by the digest of its bytes. Where another stands at the path than was opened or
last saved there, it was written by someone else: ``FileDiffers`` is raised and nothing is touched
until the teacher has chosen. What was replaced comes back as bytes, to be kept among the earlier
versions. Between the look at the file and its replacement lie milliseconds in which another
program could still write; no system offers less.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from chalkfret.files.atomic import go_on, replace_file
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.expected import ANYTHING, NOTHING
from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import loads, read_bytes, sound_bytes
from chalkfret.files.trouble import BadFile, CannotWrite, FileTrouble, write_fault
from chalkfret.model import Lesson, fault


class FileDiffers(FileTrouble):
    """Another file stands there than was expected; it was not touched. ``found`` is its digest."""

    def __init__(self, path: Path, found: str) -> None:
        super().__init__(fault("file_differs", file=path.name))
        self.found = found


class Saved(Struct, frozen=True):
    """A lesson is on the disk: its digest, the bytes it replaced, and whether there were none
    although a file was expected."""

    path: Path
    digest: str
    replaced: bytes | None = None
    was_gone: bool = False


class Opened(Struct, frozen=True):
    """A lesson and the digest of the file that it was read from."""

    path: Path
    lesson: Lesson
    digest: str


def save_over(
    lesson: Lesson,
    path: Path,
    expected: str,
    disk: Disk = DISK,
    last_word: Callable[[], None] = go_on,
) -> Saved:
    """Save where ``expected`` stands at ``path``: a digest, or one of ``files.expected``.

    ``last_word`` is as for ``replace_file``.

    Raises FileDiffers, BadFile where the lesson could not be opened again, and CannotWrite where
    the system refuses or a newer version of the program wrote what stands there. What stood there
    before then still stands there.
    """
    data = sound_bytes(lesson)
    try:
        there = _there(path, disk)
        if there is not None and there != data:
            _refuse_newer(there, path)
            if expected not in (ANYTHING, digest(there)):
                raise FileDiffers(path, digest(there))
        replace_file(path, data, disk, last_word)
    except (OSError, ValueError) as error:
        raise CannotWrite(write_fault(error, path)) from error
    return Saved(
        path,
        digest(data),
        there if there != data else None,
        there is None and expected not in (ANYTHING, NOTHING),
    )


def open_at(path: Path, disk: Disk = DISK) -> Opened:
    """The lesson at ``path``. Raises CannotRead and BadFile."""
    data = read_bytes(path, disk)
    return Opened(path, loads(data), digest(data))


def _there(path: Path, disk: Disk) -> bytes | None:
    try:
        return disk.read(path)
    except FileNotFoundError:
        return None


def _refuse_newer(data: bytes, path: Path) -> None:
    """A file of a newer version is never rewritten, whatever the teacher chose: it may hold what
    this program does not know of."""
    try:
        loads(data)
    except BadFile as bad:
        if any(found.code == "file_newer" for found in bad.faults):
            raise CannotWrite(fault("file_newer_there", file=path.name)) from None
