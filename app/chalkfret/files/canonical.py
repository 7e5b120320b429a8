"""The one way in which a lesson is written.

Keys stand in the order of the types' fields. What a person edits as a whole (the lesson's head,
a part, a setup, a section's head) has a line a field; members of a list have a line each, and so
has every bar: two versions of a lesson differ in git by the lines that a musician changed.
Equal lessons give equal bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

import msgspec

from chalkfret.files.record import FORMAT, VERSION
from chalkfret.model import (
    Bar,
    Lesson,
    LessonHead,
    Part,
    Retune,
    Section,
    SectionHead,
    Setup,
    StudentSetup,
)

_encoder: Final = msgspec.json.Encoder()
_encode: Final = _encoder.encode

# Written with a line for each field. They have neither tags nor left-out defaults.
LINE_A_FIELD: Final = (LessonHead, Part, Setup, StudentSetup, SectionHead, Retune)
_STEP: Final = b"  "
_BAR_BREAK: Final = b",\n" + _STEP * 4


Chunk = tuple[Bar, ...]


def chunk_lines(chunk: Chunk) -> bytes:
    """Some bars as the file has them, a line each."""
    # In one call; a line feed never stands inside JSON, so it can only part two bars.
    return _encoder.encode_lines(chunk)[:-1].replace(b"\n", _BAR_BREAK)


class Remembering:
    """``chunk_lines`` that remembers those of the last lesson, of which an edit changes one."""

    def __init__(self) -> None:
        self._last: dict[int, tuple[Chunk, bytes]] = {}
        self._now: dict[int, tuple[Chunk, bytes]] = {}

    def __call__(self, chunk: Chunk) -> bytes:
        known = self._last.get(id(chunk))  # kept with its lines, so no other has its id
        if known is None:
            known = chunk, chunk_lines(chunk)
        self._now[id(chunk)] = known
        return known[1]

    def turn(self) -> None:
        """A lesson is written: forget what is not in it."""
        self._last, self._now = self._now, {}


def dumps(lesson: Lesson, lines: Callable[[Chunk], bytes] = chunk_lines) -> bytes:
    """The lesson as the bytes of its file."""
    return b"".join(pieces(lesson, lines))


def pieces(lesson: Lesson, lines: Callable[[Chunk], bytes] = chunk_lines) -> Iterator[bytes]:
    """The bytes of the lesson's file, piece by piece.

    Bars come by the chunk: what is large is copied together once at most, and a thread that writes
    does not keep the window's from its work for milliseconds.
    """
    fields = [
        b'"format": ' + _encode(FORMAT),
        b'"version": ' + _encode(VERSION),
        b'"lesson": ' + _laid_out(lesson.head, 1),
        b'"parts": ' + _laid_out(lesson.parts, 1),
        b'"sections": [',
    ]
    yield b"{" + _break(1) + (b"," + _break(1)).join(fields)
    for number, section in enumerate(lesson.sections):
        yield (b"," if number else b"") + _break(2)
        yield from _section(section, lines)
    yield _break(1) + b"]" + _break(0) + b"}\n"


def _section(section: Section, lines: Callable[[Chunk], bytes]) -> Iterator[bytes]:
    fields = [
        b'"id": ' + _encode(section.id),
        b'"head": ' + _laid_out(section.head, 3),
        b'"bars": [',
    ]
    yield b"{" + _break(3) + (b"," + _break(3)).join(fields)
    for number, chunk in enumerate(section.bars.chunks):
        yield _BAR_BREAK if number else _BAR_BREAK[1:]
        yield lines(chunk)
    yield (_break(3) if section.bars.chunks else b"") + b"]" + _break(2) + b"}"


def _laid_out(value: object, depth: int) -> bytes:
    if isinstance(value, LINE_A_FIELD):
        fields = [
            _encode(name) + b": " + _laid_out(getattr(value, name), depth + 1)
            for name in value.__struct_fields__
        ]
        return _braced(fields, depth)
    if isinstance(value, tuple) and value and isinstance(value[0], msgspec.Struct):
        return _listed([_laid_out(member, depth + 1) for member in value], depth)
    return _encode(value)


def _braced(fields: list[bytes], depth: int) -> bytes:
    return b"{" + _lines(fields, depth) + b"}"


def _listed(members: list[bytes], depth: int) -> bytes:
    return b"[" + _lines(members, depth) + b"]"


def _lines(members: list[bytes], depth: int) -> bytes:
    return _break(depth + 1) + (b"," + _break(depth + 1)).join(members) + _break(depth)


def _break(depth: int) -> bytes:
    return b"\n" + _STEP * depth
