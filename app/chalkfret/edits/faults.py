"""What an edit cannot do, and why.

An impossible request raises ``CannotEdit`` with a ``Fault``; ``words`` makes its sentence. Codes of
``model.validate`` are used again where an edit would break the very rule they name.
"""

from __future__ import annotations

from chalkfret.model import Fault, Where, fault


class CannotEdit(Exception):
    """The edit asked for is impossible; the lesson stays as it is. ``fault`` says why and where."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault)
        self.fault = fault


def refuse(code: str, where: Where | None = None, **figures: str | int | float) -> CannotEdit:
    """The refusal to raise: ``raise refuse("fret_range", where, fret=40, most=36)``."""
    return CannotEdit(fault(code, where, **figures))
