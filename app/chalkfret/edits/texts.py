"""Edits of what is said of the lesson as a whole: title, credit, names, sheet, order."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from chalkfret.edits.values import obey, with_fields
from chalkfret.model import Lesson, LessonHead


def set_head(lesson: Lesson, **fields: Any) -> Lesson:
    """Set any fields of the lesson's head: ``set_head(lesson, title="Slate", credit="...")``."""
    head = with_fields(lesson.head, fields, LessonHead)
    return lesson if head is lesson.head else obey(replace(lesson, head=head))
