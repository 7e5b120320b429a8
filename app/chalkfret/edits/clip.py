"""What is on the clipboard: notes without bar lines, as a value.

Conventions
-----------
- ``at`` counts ticks from the clip's beginning; the note's own onset is 0.
- A sound belongs to the clip by its attack and comes whole: it may run beyond the clip's length.
- A clip covers the courses it was taken from (empty: all), so that a pasted rest is silent too.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated

from msgspec import Meta, Struct

from chalkfret.model import Mark, Note, in_order
from chalkfret.model.limits import COURSES_MAX, PARTS_MAX, CourseNumber, Length, Steps
from chalkfret.model.marks import bends_rise
from chalkfret.model.meter import QUARTER

TICKS_MAX = 1_000_000 * QUARTER


class ClipNote(Struct, frozen=True, gc=False):
    """A note and where it lies in the clip."""

    at: Annotated[int, Meta(ge=0, le=TICKS_MAX)]
    note: Note


class ClipPart(Struct, frozen=True):
    """What a clip holds of one part: the courses it covers and the notes in order of time."""

    courses: Annotated[tuple[CourseNumber, ...], Meta(max_length=COURSES_MAX)]
    notes: tuple[ClipNote, ...]


class ClipBeat(Struct, frozen=True, gc=False):
    """A whole beat of a clip and the steps it is cut into."""

    at: Annotated[int, Meta(ge=0, le=TICKS_MAX)]
    length: Length
    steps: Steps


class Clip(Struct, frozen=True):
    """A run of music of one part or several, so many ticks long.

    Without ``beats`` the beats it lands on keep their steps.
    """

    length: Annotated[int, Meta(ge=1, le=TICKS_MAX)]
    parts: Annotated[tuple[ClipPart, ...], Meta(min_length=1, max_length=PARTS_MAX)]
    beats: tuple[ClipBeat, ...] = ()


@lru_cache(maxsize=4096)
def _are_sound(marks: tuple[Mark, ...]) -> bool:
    return marks == in_order(marks) and bends_rise(marks)


def is_sound(clip: Clip) -> bool:
    """Whether a clip from outside keeps the rules that the types cannot say."""
    for part in clip.parts:
        last = (-1, 0)
        for placed in part.notes:
            note, marks = placed.note, placed.note.marks
            place = (placed.at, note.course)
            if place <= last or note.onset:
                return False
            last = place
            if marks and not _are_sound(marks):
                return False
            if part.courses and note.course not in part.courses:
                return False
    return True
