"""The lesson file: read whole or refused whole, written whole or not at all."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Final

import msgspec

from chalkfret.files.atomic import replace_file
from chalkfret.files.audit import audit
from chalkfret.files.canonical import dumps
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.record import LessonRecord, lesson_of
from chalkfret.files.trouble import BadFile, CannotRead, CannotWrite, system_fault, write_fault
from chalkfret.files.walk import shown
from chalkfret.model import Fault, Lesson, fault, validate

__all__ = ["SIZE_MAX", "dumps", "load", "loads", "read_bytes", "save", "sound_bytes"]

SIZE_MAX: Final = 64 * 1024 * 1024  # bytes

_decoder: Final = msgspec.json.Decoder(LessonRecord)


def loads(data: bytes) -> Lesson:
    """The lesson in a file's bytes. Raises BadFile with up to 20 faults.

    msgspec keeps the last of two equal keys without a word. So what was decoded is written again:
    the same bytes prove that the file holds that lesson and nothing else, and anything else goes
    to the slow reader, which misses nothing.
    """
    if len(data) > SIZE_MAX:
        raise BadFile(_too_big(len(data)))
    try:
        lesson = lesson_of(_decoder.decode(data))
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return audit(data)
    if dumps(lesson) != data:
        return audit(data, lesson)
    faults = validate(lesson)
    if faults:
        raise BadFile(*faults)
    return lesson


def read_bytes(path: Path, disk: Disk = DISK) -> bytes:
    """The bytes of a lesson file. Raises CannotRead, and BadFile where it is no lesson's size."""
    try:
        found = disk.status(path)
        if stat.S_ISDIR(found.st_mode):
            raise CannotRead(fault("file_is_folder", file=str(path)))
        if not stat.S_ISREG(found.st_mode):
            raise CannotRead(fault("file_not_regular", file=str(path)))
        if found.st_size > SIZE_MAX:
            raise BadFile(_too_big(found.st_size))
        return disk.read(path)
    except (OSError, ValueError) as error:
        raise CannotRead(system_fault(error, path)) from error


def load(path: Path, disk: Disk = DISK) -> Lesson:
    """The lesson in a file. Raises CannotRead for the system's refusals, BadFile for the file's."""
    return loads(read_bytes(path, disk))


def sound_bytes(lesson: Lesson) -> bytes:
    """The bytes of the lesson's file.

    Raises BadFile where the lesson could not be opened again, so that it is said while it can
    still be mended.
    """
    try:
        data = dumps(lesson)
    except UnicodeEncodeError as error:  # half a character, which a paste can bring
        raise BadFile(fault("text_broken", value=shown(error.object))) from error
    loads(data)
    return data


def save(lesson: Lesson, path: Path, disk: Disk = DISK) -> None:
    """Write the lesson to its file, in place of what stood there.

    Raises BadFile where the lesson could not be opened again, and CannotWrite where the system
    refuses; the file is then as it was.
    """
    data = sound_bytes(lesson)
    try:
        replace_file(path, data, disk)
    except (OSError, ValueError) as error:
        raise CannotWrite(write_fault(error, path)) from error


def _too_big(size: int) -> Fault:
    mebi = 1024 * 1024
    return fault("file_too_big", megabytes=round(size / mebi, 1), most=SIZE_MAX // mebi)
