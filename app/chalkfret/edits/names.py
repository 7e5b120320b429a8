"""Ids and letters that are new in a lesson, always the same ones for the same lesson."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count
from string import ascii_uppercase

from chalkfret.model import Lesson


def new_id(taken: Iterable[str], prefix: str) -> str:
    """The first of ``p1``, ``p2`` ... that is not taken."""
    used = set(taken)
    return next(name for n in count(1) if (name := f"{prefix}{n}") not in used)


def new_ids(taken: Iterable[str], prefix: str) -> Iterator[str]:
    """Ids that are not taken, one after another."""
    used = set(taken)
    return (name for n in count(1) if (name := f"{prefix}{n}") not in used)


def section_id(lesson: Lesson) -> str:
    """An id for a new section."""
    return new_id((section.id for section in lesson.sections), "s")


def part_id(lesson: Lesson) -> str:
    """An id for a new part."""
    return new_id((part.id for part in lesson.parts), "p")


def cue_ids(lesson: Lesson) -> Iterator[str]:
    """Ids for new cues."""
    return new_ids((cue.id for section in lesson.sections for cue in section.head.cues), "c")


def letter(lesson: Lesson) -> str:
    """The next free letter: A to Z, then A2, B2 ..."""
    used = {section.head.letter for section in lesson.sections}
    letters = (f"{one}{round_ or ''}" for round_ in (0, *range(2, 1000)) for one in ascii_uppercase)
    return next(name for name in letters if name not in used)


def part_name(lesson: Lesson, wished: str) -> str:
    """The wished name; where it is taken, with the next free number at its end, from 2."""
    used = {part.name for part in lesson.parts}
    if wished not in used:
        return wished
    stem, _space, number = wished.rpartition(" ")
    if not (stem and number.isdecimal()):
        stem, number = wished, "1"
    return next(name for n in count(int(number) + 1) if (name := f"{stem} {n}") not in used)
