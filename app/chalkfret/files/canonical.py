"""The one way in which a lesson is written.

Keys stand in the order of the types' fields. What a person edits as a whole (the lesson's head,
a part, a setup, a section's head) has a line a field; members of a list have a line each, and so
has every bar: two versions of a lesson differ in git by the lines that a musician changed.
Equal lessons give equal bytes.
"""

from __future__ import annotations

from typing import Final

import msgspec

from chalkfret.files.record import FORMAT, VERSION
from chalkfret.model import (
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


def dumps(lesson: Lesson) -> bytes:
    """The lesson as the bytes of its file."""
    sections = [_section(section) for section in lesson.sections]
    fields = [
        b'"format": ' + _encode(FORMAT),
        b'"version": ' + _encode(VERSION),
        b'"lesson": ' + _laid_out(lesson.head, 1),
        b'"parts": ' + _laid_out(lesson.parts, 1),
        b'"sections": ' + _listed(sections, 1),
    ]
    return _braced(fields, 0) + b"\n"


def _section(section: Section) -> bytes:
    fields = [
        b'"id": ' + _encode(section.id),
        b'"head": ' + _laid_out(section.head, 3),
        b'"bars": ' + _bars(section),
    ]
    return _braced(fields, 2)


def _bars(section: Section) -> bytes:
    # A chunk in one call; a line feed never stands inside JSON, so it can only part two bars.
    # Not all bars at once: a thread that writes must not keep the window's for milliseconds.
    chunks = [
        _encoder.encode_lines(chunk)[:-1].replace(b"\n", _BAR_BREAK)
        for chunk in section.bars.chunks
    ]
    if not chunks:
        return b"[]"
    return b"[\n" + _STEP * 4 + _BAR_BREAK.join(chunks) + b"\n" + _STEP * 3 + b"]"


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
    break_ = b"\n" + _STEP * (depth + 1)
    return break_ + (b"," + break_).join(members) + b"\n" + _STEP * depth
