"""Earlier versions of lesson files: ten of each at most, numbered, in the program's own folder.

Conventions
-----------
- The teacher's folder is never littered: versions lie in the state folder, those of one file in a
  folder named after its path. What lay nowhere when the teacher let it go has a folder of its own.
- A version's file is ``NUMBER-SECONDS.chalkfret``: numbers rise by one, seconds are since 1970,
  UTC, of the moment when it was replaced.
- Which versions stay: the newest ``LATEST``; of the older ones the last of each of ``DAYS`` days;
  of those older still the last of each of ``WEEKS`` weeks. Days and weeks are counted in UTC.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from msgspec import Struct

from chalkfret.files.atomic import replace_file
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.record import SUFFIX

FOLDER: Final = "earlier"
NOWHERE: Final = "let-go"
LATEST: Final = 4
DAYS: Final = 3
WEEKS: Final = 3
MOST: Final = LATEST + DAYS + WEEKS

_NAME: Final = re.compile(r"(\d{6,})-(\d+)" + re.escape(SUFFIX))


class Version(Struct, frozen=True, order=True):
    """An earlier version of a file: its number, when it was replaced, where it lies."""

    number: int
    at: int
    file: str

    @property
    def path(self) -> Path:
        """Where it lies."""
        return Path(self.file)


def folder_of(state: Path, path: Path | None) -> Path:
    """Where the earlier versions of a file lie; None: of lessons that lay nowhere."""
    if path is None:
        return state / FOLDER / NOWHERE
    where = os.path.realpath(path)
    mark = hashlib.sha256(os.fsencode(where)).hexdigest()[:16]
    stem = re.sub(r"[^A-Za-z0-9]+", "-", path.stem)[:40].strip("-")
    return state / FOLDER / (f"{stem}-{mark}" if stem else mark)


def versions(state: Path, path: Path | None, disk: Disk = DISK) -> tuple[Version, ...]:
    """The earlier versions of a file, the newest first. Raises OSError."""
    try:
        return _in_folder(folder_of(state, path), disk)
    except FileNotFoundError:
        return ()


def keep_version(
    state: Path, path: Path | None, data: bytes, at: float, disk: Disk = DISK
) -> tuple[Version, ...]:
    """Keep what was just replaced, and let go of what is no longer to be kept.

    What stays is returned, the newest first. Raises OSError.
    """
    folder = folder_of(state, path)
    disk.make_folder(folder)
    known = _in_folder(folder, disk)
    number = known[0].number + 1 if known else 1
    new = folder / f"{number:06d}-{int(at)}{SUFFIX}"
    replace_file(new, data, disk)
    all_ = (Version(number, int(at), str(new)), *known)
    stay = staying(all_)
    for version in all_:
        if version not in stay:
            disk.remove(version.path)
    return stay


def staying(all_: Iterable[Version]) -> tuple[Version, ...]:
    """Those that are worth keeping, the newest first."""
    rest = sorted(all_, reverse=True)
    kept, rest = rest[:LATEST], rest[LATEST:]
    for most, name in ((DAYS, _day), (WEEKS, _week)):
        spans: dict[tuple[int, ...], Version] = {}
        for version in rest:
            spans.setdefault(name(version.at), version)
        kept += list(spans.values())[:most]
        oldest = kept[-1]
        rest = [version for version in rest if version < oldest]
    return tuple(kept)


def _day(at: int) -> tuple[int, ...]:
    return (datetime.fromtimestamp(at, UTC).toordinal(),)


def _week(at: int) -> tuple[int, ...]:
    return tuple(datetime.fromtimestamp(at, UTC).isocalendar()[:2])


def _in_folder(folder: Path, disk: Disk) -> tuple[Version, ...]:
    found = []
    for name in disk.names(folder):
        match = _NAME.fullmatch(name)
        if match is not None:
            found.append(Version(int(match[1]), int(match[2]), str(folder / name)))
    return tuple(sorted(found, reverse=True))
