"""Checking the values that an edit is given: their types, their bounds, and the lesson's rules.

msgspec checks a value when it is read from a file, not when it is made; an edit that takes values
from a form sends them through here, so that nothing can be written that could not be read.
"""

from __future__ import annotations

import re
from typing import Any, TypeVar

import msgspec
from msgspec.structs import replace

from chalkfret.edits.faults import CannotEdit, refuse
from chalkfret.model import (
    BarHead,
    Bars,
    Lesson,
    LessonHead,
    Section,
    SectionHead,
    Where,
    validate,
)
from chalkfret.model.start import empty_bar

T = TypeVar("T")
S = TypeVar("S", bound=msgspec.Struct)
_PATH = "at `$."
_STEP = re.compile(r"(\w+)|\[(\d+)\]")


def fresh(value: T, kind: type[T], where: Where | None = None) -> T:
    """An equal value with tuples where lists and floats where whole numbers were given.

    Raises CannotEdit naming the field that is not of its kind or outside its bounds.
    """
    plain: Any = None
    try:
        plain = msgspec.to_builtins(value)
        return msgspec.convert(plain, kind)
    except (msgspec.ValidationError, TypeError) as error:
        _, found, path = str(error).partition(_PATH)
        field = path.rstrip("`") if found else ""
        shown = str(_at(plain, field)) if field else ""
        raise refuse("value_refused", where, field=field, value=shown[:60]) from None


def checked(value: T, kind: type[T], where: Where | None = None) -> T:
    """The very value, or CannotEdit like ``fresh``."""
    fresh(value, kind, where)
    return value


def _at(plain: Any, path: str) -> Any:
    """The value at a path as msgspec writes it: ``tempo.start``, ``marks[0].node``."""
    for name, index in _STEP.findall(path):
        plain = plain[int(index)] if index else plain[name]
    return plain


def with_fields(value: S, fields: dict[str, Any], kind: type[S], where: Where | None = None) -> S:
    """The struct with some fields replaced and checked; the same object where they are equal."""
    unknown = next((name for name in fields if name not in kind.__struct_fields__), None)
    if unknown is not None:
        raise refuse("value_refused", where, field=unknown, value=str(fields[unknown])[:60])
    changed = {name: new for name, new in fields.items() if getattr(value, name) != new}
    if not changed:
        return value
    whole = fresh(replace(value, **changed), kind, where)
    return replace(value, **{name: getattr(whole, name) for name in changed})


def obey(lesson: Lesson) -> Lesson:
    """The lesson, or CannotEdit with the first rule it breaks outside its bars.

    The bars are left out of the check: an edit of a head does not touch them, and a lesson may
    hold thousands.
    """
    bar = Bars.of([empty_bar(len(lesson.parts))])
    heads = tuple(Section(s.id, s.head, bar) for s in lesson.sections)
    for fault in validate(Lesson(lesson.head, lesson.parts, heads), most=1):
        raise CannotEdit(fault)
    return lesson


def obey_bar(lesson: Lesson, section: int, index: int, head: BarHead) -> BarHead:
    """The bar's new head, or CannotEdit with the rule that it breaks, at its place."""
    letter = lesson.sections[section].head.letter
    checked(head, BarHead, Where(letter, index + 1))
    bars = Bars.of([empty_bar(len(lesson.parts), head)])
    plain = SectionHead(letter=letter, name="", tempo=lesson.sections[section].head.tempo)
    for fault in validate(Lesson(LessonHead(), lesson.parts, (Section("s", plain, bars),)), most=1):
        raise CannotEdit(replace(fault, where=replace(fault.where, bar=index + 1)))
    return head
