"""What stands in a lesson file: the outermost values, and the way from them to a lesson and back.

A file is read as the record of the version it names. Where the format changes, the old record
stays as it is under its version in ``RECORDS``, and the way from it to the newest one is added
to ``lesson_of``: an old file is read and migrated, never guessed at.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from msgspec import Meta

from chalkfret.model import Bar, Bars, Lesson, LessonHead, Part, Section, SectionHead, limits
from chalkfret.model.value import Value

FORMAT: Final = "chalkfret"
VERSION: Final = 1
SUFFIX: Final = ".chalkfret"


class SectionRecord(Value, frozen=True):
    """A section as the file has it: its bars in one run."""

    id: limits.Id
    head: SectionHead
    bars: tuple[Bar, ...]


class LessonRecord(Value, frozen=True):
    """A lesson file of version 1."""

    format: Literal["chalkfret"]
    version: Literal[1]
    lesson: LessonHead
    parts: Annotated[tuple[Part, ...], Meta(min_length=1, max_length=limits.PARTS_MAX)]
    sections: Annotated[
        tuple[SectionRecord, ...], Meta(min_length=1, max_length=limits.SECTIONS_MAX)
    ]


RECORDS: Final = {VERSION: LessonRecord}


def lesson_of(record: LessonRecord) -> Lesson:
    """The lesson that a record says."""
    return Lesson(
        head=record.lesson,
        parts=record.parts,
        sections=tuple(
            Section(section.id, section.head, Bars.of(section.bars)) for section in record.sections
        ),
    )
