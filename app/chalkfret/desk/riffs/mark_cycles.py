"""Marks of several kinds: the kinds in the order in which their key goes through them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from chalkfret.model import (
    Bend,
    BendPoint,
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
    """A tone, half a tone, a tone and a half; bend and release; pre-bend, with release.

    The bend takes the first quarter of the note, the release the third.
    """
    up, top, down = note.length // 4, note.length // 2, note.length * 3 // 4

    def plain(cents: int) -> Bend:
        return Bend((BendPoint(0, 0), BendPoint(up, cents)))

    return (
        plain(200),
        plain(100),
        plain(300),
        plain(50),
        Bend((BendPoint(0, 0), BendPoint(up, 200), BendPoint(top, 200), BendPoint(down, 0))),
        Bend((BendPoint(0, 200),)),
        Bend((BendPoint(0, 200), BendPoint(top, 200), BendPoint(down, 0))),
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
