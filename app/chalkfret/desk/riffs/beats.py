"""The beats between two places of the grid."""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Lesson


def beats_between(lesson: Lesson, one: Cursor, other: Cursor) -> Iterator[tuple[int, int, int]]:
    """Section, bar and beat of all beats from one place to another, both in it."""
    first, last = sorted((one, other), key=lambda cursor: cursor.time)
    for section in range(first.section, last.section + 1):
        run = lesson.sections[section].bars
        start = first.bar if section == first.section else 0
        stop = last.bar if section == last.section else len(run) - 1
        for bar in range(start, stop + 1):
            head = run[bar].head
            starts = head.beat_starts
            for beat, tick in enumerate(starts):
                is_last = beat + 1 == len(starts)
                end = head.ticks if is_last else starts[beat + 1]
                behind = is_last and last.tick >= end
                if ((section, bar, end) > first.time or behind) and (
                    section, bar, tick,
                ) <= last.time:  # fmt: skip
                    yield section, bar, beat
