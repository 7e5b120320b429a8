"""Where a note can be fretted, and which notes a hand can hold at once.

Conventions
-----------
- A *place* is a course, from 1, and a fret, counted as the lesson counts it (above the capo).
- The hand's *position* is the fret of its first finger, from 1; four fingers lie over the frets
  from there, and the fourth reaches one further by a stretch (common practice). A hand over open
  strings alone has no position of its own: it stays where it was.
- One finger presses several strings at one fret, a barre, where no open string is to sound between
  them; above the lowest fret only strings side by side.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import islice
from typing import Final, NamedTuple, TypeAlias

from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_fretted

Place: TypeAlias = tuple[int, int]  # course, fret

SPAN: Final = 3  # frets between first and fourth finger without a stretch
STRETCH_MAX: Final = 1  # frets beyond that
FINGERS: Final = 4
SHAPES_MAX: Final = 60
SHAPES_TRIED: Final = 1_000


class Shape(NamedTuple):
    """Places held together. ``positions``: where the hand may lie, with the frets of stretch."""

    places: tuple[Place, ...]  # in the order in which they were asked for
    positions: tuple[tuple[int, int], ...]  # empty: all open
    barres: int
    fretted: int
    low: int  # the courses from ``low`` to ``high`` are struck
    high: int


@lru_cache(maxsize=4096)
def places_of(setup: Setup, pitch: int) -> tuple[Place, ...]:
    """All places at which the pitch (a whole MIDI number) can be had, by course."""
    found = []
    for course in range(1, len(setup.courses) + 1):
        most = setup.fret_count - setup.capo_fret(course)
        low, high = named_fretted(setup, course), named_fretted(setup, course, most)
        if not low <= pitch <= high:
            continue
        fret = 0 if pitch == low else most - (high - pitch)  # a string that starts late has no less
        found.append((course, fret))
    return tuple(found)


@lru_cache(maxsize=16384)
def shape_of(places: tuple[Place, ...]) -> Shape | None:
    """The shape of places on different courses; None where one hand cannot hold it."""
    courses = [course for course, _ in places]
    if len(set(courses)) < len(courses):
        return None
    fretted = sorted((fret, course) for course, fret in places if fret)
    low, high = min(courses), max(courses)
    if not fretted:
        return Shape(places, (), 0, 0, low, high)
    first, last = fretted[0][0], fretted[-1][0]
    if last - first > SPAN + STRETCH_MAX:
        return None
    opened = {course for course, fret in places if not fret}
    groups = _groups(fretted, opened)
    if len(groups) > FINGERS:
        return None
    least = max(1, last - SPAN - STRETCH_MAX)
    positions = tuple(
        (position, max(0, last - position - SPAN)) for position in range(least, first + 1)
    )
    barres = sum(size > 1 for size in groups)
    if barres:  # the first finger lies on its barre
        positions = tuple(one for one in positions if one[0] == first)
    return Shape(places, positions, barres, len(fretted), low, high)


def _groups(fretted: list[tuple[int, int]], opened: set[int]) -> list[int]:
    """How many notes each finger presses."""
    first = fretted[0][0]
    groups: list[int] = []
    before: tuple[int, int] | None = None
    for fret, course in fretted:
        joins = before is not None and before[0] == fret
        if joins and before is not None:
            between = range(before[1] + 1, course)
            joins = not opened.intersection(between) if fret == first else not between
        if joins:
            groups[-1] += 1
        else:
            groups.append(1)
        before = fret, course
    return groups


@lru_cache(maxsize=8192)
def shapes_of(asked: tuple[tuple[Place, ...], ...]) -> tuple[Shape, ...]:
    """All shapes in which notes sound together, each at one of its places.

    Of a chord with more than ``SHAPES_MAX`` shapes those with the fewest fingers on the lowest
    frets (of the first ``SHAPES_TRIED``): six strings hardly give so many.
    """
    found = list(islice(_shapes(asked, ()), SHAPES_TRIED))
    if len(found) > SHAPES_MAX:
        found.sort(key=lambda shape: (shape.fretted + shape.barres, shape.positions[:1]))
    return tuple(found[:SHAPES_MAX])


@lru_cache(maxsize=8192)
def can_be_held(asked: tuple[tuple[Place, ...], ...]) -> bool:
    """Whether one hand can sound these notes together."""
    return next(_shapes(asked, ()), None) is not None


def _shapes(asked: tuple[tuple[Place, ...], ...], chosen: tuple[Place, ...]) -> Iterator[Shape]:
    if len(chosen) == len(asked):
        shape = shape_of(chosen)
        if shape is not None:
            yield shape
        return
    frets = [fret for _, fret in chosen if fret]
    for course, fret in asked[len(chosen)]:
        if any(course == other for other, _ in chosen):
            continue
        if fret and frets and max(fret, *frets) - min(fret, *frets) > SPAN + STRETCH_MAX:
            continue
        yield from _shapes(asked, (*chosen, (course, fret)))
