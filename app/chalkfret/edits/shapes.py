"""Hand shapes: the chords of a guitar, remembered and written again anywhere along the neck.

A *shape* is strings with frets, the lowest string first. Two that differ only by where they stand
on the neck are one shape.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from chalkfret.edits.draft import same_where_equal
from chalkfret.edits.notes import set_fret
from chalkfret.edits.place import Spot, check_part, check_section
from chalkfret.model import Lesson

SHAPES_MAX: Final = 12
_SEEN_MAX: Final = 512  # bars looked at

Shape = tuple[tuple[int, int], ...]  # course and fret


def shapes_before(lesson: Lesson, spot: Spot) -> list[Shape]:
    """The shapes that the spot's guitar played up to the spot, the latest first."""
    check_section(lesson, spot.section)
    check_part(lesson, spot.part)
    found: dict[Shape, Shape] = {}
    for shape in _chords_before(lesson, spot):
        found.setdefault(moved_to(shape, 0), shape)
        if len(found) == SHAPES_MAX:
            break
    return list(found.values())


def _chords_before(lesson: Lesson, spot: Spot) -> Iterator[Shape]:
    left = _SEEN_MAX
    for section in range(spot.section, -1, -1):
        run = lesson.sections[section].bars
        last = min(spot.bar, len(run) - 1) if section == spot.section else len(run) - 1
        for bar in range(last, -1, -1):
            left -= 1
            if left < 0:
                return
            here = (section, bar) == (spot.section, spot.bar)
            notes = run[bar].notes[spot.part]
            chords = [list(chord) for _, chord in groupby(notes, key=lambda note: note.onset)]
            for chord in reversed(chords):
                if len(chord) > 1 and not (here and chord[0].onset >= spot.onset):
                    yield tuple((note.course, note.fret) for note in reversed(chord))


def moved_to(shape: Shape, fret: int) -> Shape:
    """The shape with its lowest string at a fret."""
    way = fret - shape[0][1]
    return tuple((course, at + way) for course, at in shape)


def write_shape(lesson: Lesson, spot: Spot, shape: Shape, length: int) -> Lesson:
    """Write a shape at the spot's place in time; CannotEdit where a fret would lie off the neck."""
    after = lesson
    for course, fret in shape:
        place = Spot(spot.section, spot.bar, spot.part, spot.onset, course)
        after = set_fret(after, place, fret, length)
    return same_where_equal(lesson, after)
