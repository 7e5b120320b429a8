"""Marks of several kinds: the kinds in the order in which their key goes through them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from chalkfret.edits.drawing import bend_curve
from chalkfret.model import (
    Bend,
    Finger,
    FingerName,
    Mark,
    Note,
    Slide,
    SlideWay,
    Tremolo,
    mark_name,
)

SLIDES: Final = tuple(Slide(way) for way in SlideWay if way is not SlideWay.FROM_NOTE)
TREMOLOS: Final = (Tremolo(3), Tremolo(2), Tremolo(1))
FINGERS: Final = tuple(
    Finger(name)
    for name in (
        FingerName.INDEX,
        FingerName.MIDDLE,
        FingerName.RING,
        FingerName.LITTLE,
        FingerName.THUMB,
    )
)


def bends(note: Note) -> tuple[Bend, ...]:
    """A tone, half a tone, a tone and a half; bend and release; pre-bend, with release."""
    length = note.length
    return (
        bend_curve(length, 200, 200),
        bend_curve(length, 100, 100),
        bend_curve(length, 300, 300),
        bend_curve(length, 50, 50),
        bend_curve(length, 200, 0),
        bend_curve(length, 200, 200, before=True),
        bend_curve(length, 200, 0, before=True),
    )


def next_of(note: Note, kinds: Sequence[Mark]) -> tuple[Mark | None, Mark | None]:
    """The note's mark of these kinds, and the kind after it (None behind the last)."""
    for mark in note.marks:
        if mark in kinds:
            index = kinds.index(mark) + 1
            return mark, kinds[index] if index < len(kinds) else None
    other = next((mark for mark in note.marks if _alike(mark, kinds[0])), None)
    return other, kinds[0]


def _alike(mark: Mark, kind: Mark) -> bool:
    """A mark of the same name that its key does not make: the key begins again from the first."""
    return mark_name(mark) == mark_name(kind) and not isinstance(mark, Slide)
