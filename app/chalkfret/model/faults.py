"""Faults and remarks as values: what is wrong, where, and with which figures.

No sentence is made here: ``words`` turns a fault into one, in the user's language.
"""

from __future__ import annotations

from msgspec import Struct


class Where(Struct, frozen=True):
    """A place in a lesson, as far as it is known. Bars, strings and notes count from 1."""

    section: str | None = None  # the section's letter
    bar: int | None = None
    part: str | None = None  # the part's name
    course: int | None = None
    path: str | None = None  # a place in the file where no musical one exists: "parts[0].setup"


class Fault(Struct, frozen=True):
    """One thing that is wrong: a code known to ``words``, its place, and the figures it names."""

    code: str
    where: Where = Where()
    figures: tuple[tuple[str, str | int | float], ...] = ()


def fault(code: str, where: Where | None = None, **figures: str | int | float) -> Fault:
    """A fault in one line: ``fault("fret_range", where, fret=40)``."""
    return Fault(code, where or Where(), tuple(figures.items()))
