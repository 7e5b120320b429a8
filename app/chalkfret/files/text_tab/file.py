"""A text tab read from a file, in the encodings that text files come in."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Final

from msgspec.structs import replace

from chalkfret.files.disk import DISK, Disk
from chalkfret.files.text_tab.read import Reading, read_text
from chalkfret.files.trouble import BadFile, CannotRead, system_fault
from chalkfret.model import Fault, fault
from chalkfret.model.limits import NAME_MAX

SIZE_MAX: Final = 4 * 1024 * 1024  # bytes: a book of tabs


def load_text(path: Path, disk: Disk = DISK) -> Reading:
    """What is read from a text file; where it has no title, the lesson is called like the file.

    Raises CannotRead for the system's refusals, and BadFile for a file that is too big or holds no
    tab.
    """
    try:
        found = disk.status(path)
        if stat.S_ISDIR(found.st_mode):
            raise CannotRead(fault("file_is_folder", file=str(path)))
        if not stat.S_ISREG(found.st_mode):
            raise CannotRead(fault("file_not_regular", file=str(path)))
        if found.st_size > SIZE_MAX:
            raise BadFile(_too_big(found.st_size))
        data = disk.read(path)
    except (OSError, ValueError) as error:
        raise CannotRead(system_fault(error, path)) from error
    if len(data) > SIZE_MAX:
        raise BadFile(_too_big(len(data)))
    reading = read_text(decoded(data))
    if reading.lesson is None:
        raise BadFile(fault("tab_nothing"))
    head = reading.lesson.head
    if not head.title:
        title = "".join(sign for sign in path.stem if sign.isprintable()).strip()[:NAME_MAX]
        lesson = replace(reading.lesson, head=replace(head, title=title))
        reading = replace(reading, lesson=lesson)
    return reading


def _too_big(size: int) -> Fault:
    mebi = 1024 * 1024
    return fault("file_too_big", megabytes=round(size / mebi, 1), most=SIZE_MAX // mebi)


def decoded(data: bytes) -> str:
    """The text of these bytes: UTF-8, UTF-16 where it is marked, else as Western Europe writes."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")
