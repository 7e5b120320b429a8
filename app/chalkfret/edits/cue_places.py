"""Cues keep their music while bars come, go or change their lengths.

Each function returns the section's head, the same object where no cue moved. An end that lies on
a bar line belongs to the music before it, a start to the music behind it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec.structs import replace

from chalkfret.model import Cue, Place, SectionHead


def with_cues(head: SectionHead, cues: Iterable[Cue]) -> SectionHead:
    """The head with these cues; the same object where they are equal."""
    new = tuple(cues)
    return head if new == head.cues else replace(head, cues=new)


def moved(cue: Cue, start: Place, end: Place | None) -> Cue:
    """The cue at another place; an end never lies before the start."""
    if end is not None and end < start:
        end = start
    if start == cue.start and end == cue.end:
        return cue
    return replace(cue, start=start, end=end)


def each(
    head: SectionHead, start: Callable[[Place], Place], end: Callable[[Place], Place]
) -> SectionHead:
    """All cues with their places sent through ``start`` and ``end``."""
    return with_cues(head, (
        moved(cue, start(cue.start), None if cue.end is None else end(cue.end))
        for cue in head.cues
    ))  # fmt: skip


def after_insert(head: SectionHead, at: int, count: int) -> SectionHead:
    """The head when ``count`` bars were put before bar ``at``."""

    def start(place: Place) -> Place:
        return Place(place.bar + count, place.tick) if place.bar >= at else place

    def end(place: Place) -> Place:
        return start(place) if place > Place(at, 0) else place

    return each(head, start, end)


def after_delete(head: SectionHead, at: int, count: int, left: int) -> SectionHead:
    """The head when ``count`` bars from ``at`` were taken out and ``left`` bars remain.

    A cue whose music all went goes with it.
    """
    first_kept = Place(at + count, 0)

    def shift(place: Place) -> Place:
        if place.bar < at:
            return place
        return Place(at, 0) if place < first_kept else Place(place.bar - count, place.tick)

    cues = []
    for cue in head.cues:
        gone = Place(at, 0) <= cue.start < first_kept
        to_the_end = cue.end is None and at < left
        if gone and not to_the_end and (cue.end is None or cue.end <= first_kept):
            continue
        cues.append(moved(cue, shift(cue.start), None if cue.end is None else shift(cue.end)))
    return with_cues(head, cues)
