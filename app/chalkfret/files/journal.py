"""What one window is working on, as a record in a file: so that a crash costs no work.

Conventions
-----------
- A record is one line of JSON, the head, and after it the bytes of the lesson file as they would
  be saved now. A record without those bytes says that nothing is unsaved.
- A record stands in a file that is only ever replaced as a whole (``files.atomic``). The digest in
  its head is that of the bytes after it, so what a failing disk made of them is never taken.
- Digests are SHA-256 in hexadecimal. Times are seconds since 1970, UTC.
- Paths are percent-encoded bytes, since a file name need not be text.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import Final, Literal
from urllib.parse import quote, unquote_to_bytes

import msgspec
from msgspec import Struct

from chalkfret.files.canonical import Chunk, chunk_lines, pieces
from chalkfret.files.trouble import BadFile
from chalkfret.model import Lesson, fault


def digest(data: bytes) -> str:
    """What tells two files apart."""
    return hashlib.sha256(data).hexdigest()


class Standing(Struct, frozen=True, eq=False):
    """How it stands in a window: the lesson where it is unsaved, and the file it belongs to.

    ``saved`` is the digest of that file as it was opened or last saved, where that is known.
    """

    unsaved: Lesson | None = None
    path: Path | None = None
    saved: str | None = None


class Head(Struct, frozen=True, omit_defaults=True):
    """The first line of a record; ``digest`` None: nothing is unsaved."""

    journal: Literal[1]
    at: float
    path: str | None = None
    saved: str | None = None
    digest: str | None = None

    @property
    def place(self) -> Path | None:
        """The lesson file that the work belongs to."""
        return None if self.path is None else Path(os.fsdecode(unquote_to_bytes(self.path)))


_head: Final = msgspec.json.Decoder(Head)


def record(standing: Standing, at: float, lines: Callable[[Chunk], bytes] = chunk_lines) -> bytes:
    """The record of how it stands. Raises UnicodeEncodeError for half a character in a text."""
    data = [] if standing.unsaved is None else list(pieces(standing.unsaved, lines))
    counted = hashlib.sha256()
    for piece in data:
        counted.update(piece)
    head = Head(
        journal=1,
        at=at,
        path=None if standing.path is None else quote(os.fsencode(standing.path.absolute())),
        saved=standing.saved,
        digest=counted.hexdigest() if data else None,
    )
    return b"".join([msgspec.json.encode(head), b"\n", *data])


def read_head(data: bytes) -> Head:
    """The head of a record. Raises BadFile."""
    try:
        return _head.decode(data.partition(b"\n")[0])
    except (msgspec.MsgspecError, UnicodeDecodeError) as error:
        raise BadFile(fault("journal_unreadable")) from error


def read_record(data: bytes) -> tuple[Head, bytes]:
    """Head and lesson bytes of a record. Raises BadFile where one is damaged."""
    head = read_head(data)
    body = data.partition(b"\n")[2]
    if digest(body) != (head.digest or digest(b"")):
        raise BadFile(fault("journal_unreadable"))
    return head, body
