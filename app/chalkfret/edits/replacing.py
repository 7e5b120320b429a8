"""A lesson with one thing replaced: all else, and the lesson where nothing changes, the same."""

from __future__ import annotations

from typing import Any, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import Lesson, Part, Section

S = TypeVar("S", bound=Struct)


def updated(value: S, **fields: Any) -> S:
    """The struct with these fields; what is equal stays the same object, the struct as well."""
    changed = {name: new for name, new in fields.items() if getattr(value, name) != new}
    return replace(value, **changed) if changed else value


def with_section(lesson: Lesson, index: int, section: Section) -> Lesson:
    """The lesson with one section replaced."""
    found = lesson.sections[index]
    if section is found or (section.head is found.head and section.bars is found.bars):
        return lesson
    sections = (*lesson.sections[:index], section, *lesson.sections[index + 1 :])
    return replace(lesson, sections=sections)


def with_part(lesson: Lesson, index: int, part: Part) -> Lesson:
    """The lesson with one part's values replaced (not its notes)."""
    return replace(lesson, parts=(*lesson.parts[:index], part, *lesson.parts[index + 1 :]))
