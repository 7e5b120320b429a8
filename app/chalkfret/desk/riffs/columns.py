"""Where steps, bars and sections stand in the grid, counted in columns.

Conventions
-----------
- A column is one step; the whole lesson runs left to right, section after section.
- Places within a bar may be fractions of a column: a note off the steps is shown where it is.
- Only heads of bars matter here, so an edit of notes costs a look at the chunks it touched.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import NamedTuple

from chalkfret.model import QUARTER, Bar, BarHead, Bars, Lesson


@lru_cache(maxsize=4096)
def spans_of(head: BarHead) -> tuple[tuple[int, int], ...]:
    """Onset and length in ticks of each step of a bar."""
    return head.step_spans


@lru_cache(maxsize=4096)
def step_starts(head: BarHead) -> tuple[int, ...]:
    """The tick at which each step begins."""
    return tuple(start for start, _length in spans_of(head))


@lru_cache(maxsize=4096)
def beat_columns(head: BarHead) -> tuple[int, ...]:
    """The columns, from the bar's first, at which beats begin."""
    starts = step_starts(head)
    return tuple(starts.index(tick) for tick in head.beat_starts)


@lru_cache(maxsize=4096)
def tuplets(head: BarHead) -> tuple[tuple[int, int], ...]:
    """First column and number of steps of each beat whose steps are no plain halves of a note."""
    columns = (*beat_columns(head), len(spans_of(head)))
    found = []
    for length, (first, behind) in zip(head.beats, pairwise(columns), strict=True):
        a_whole, rest = divmod(4 * QUARTER * (behind - first), length)
        if rest or a_whole & (a_whole - 1):
            found.append((first, behind - first))
    return tuple(found)


@lru_cache(maxsize=16384)
def column_in_bar(head: BarHead, tick: int) -> float:
    """The column of a tick, from the bar's first; whole where a step begins."""
    step = step_at(head, tick)
    start, length = spans_of(head)[step]
    return step + (tick - start) / length


def step_at(head: BarHead, tick: int) -> int:
    """The step that holds this tick; a tick at the bar's end belongs to the last one."""
    return max(0, bisect_right(step_starts(head), tick) - 1)


class BarPlace(NamedTuple):
    """A bar and where it stands: section and number from 0, its first column, how many it has."""

    section: int
    number: int
    bar: Bar
    column: int
    steps: int


class Columns:
    """The columns of a lesson; ``show`` another lesson and only what differs is reckoned anew."""

    def __init__(self, lesson: Lesson) -> None:
        self._lesson = lesson
        self._counts: list[list[tuple[int, ...]]] = []  # a section, a chunk, a bar
        self._starts: list[int] = []  # first column of each bar of the lesson, and the end
        self._first_bars: list[int] = []  # of each section, and the end
        self.heads_seen = 0  # another number whenever the head of any bar differs
        self._count_all()

    def _count_all(self) -> None:
        self._counts = [
            [_counts(chunk) for chunk in section.bars.chunks] for section in self._lesson.sections
        ]
        self._add_up()

    def _add_up(self) -> None:
        counts = (count for section in self._counts for chunk in section for count in chunk)
        self._starts = [0, *accumulate(counts)]
        bars = (len(section.bars) for section in self._lesson.sections)
        self._first_bars = [0, *accumulate(bars)]

    def show(self, lesson: Lesson) -> bool:
        """Take another lesson; True where a column came, went or moved."""
        before, self._lesson = self._lesson, lesson
        if len(before.sections) != len(lesson.sections):
            self.heads_seen += 1
            self._count_all()
            return True
        moved = False
        for index, (old, new) in enumerate(zip(before.sections, lesson.sections, strict=True)):
            if new.bars is old.bars or heads_are_same(old.bars, new.bars):
                continue
            self.heads_seen += 1
            counts = _counts_after(old.bars, new.bars, self._counts[index])
            if counts != self._counts[index]:
                self._counts[index] = counts
                moved = True
        if moved:
            self._add_up()
        return moved

    @property
    def total(self) -> int:
        """How many columns there are."""
        return self._starts[-1]

    def bar_column(self, section: int, bar: int) -> int:
        """The first column of a bar; of the bar behind the last one: where the section ends."""
        return self._starts[self._first_bars[section] + bar]

    def column(self, section: int, bar: int, tick: int) -> float:
        """The column of a place."""
        head = self._lesson.sections[section].bars[bar].head
        first = self.bar_column(section, bar)
        if tick >= head.ticks:
            return float(first + len(spans_of(head)))
        return first + column_in_bar(head, tick)

    def place(self, column: int) -> tuple[int, int, int]:
        """Section, bar and tick of the step in a column; beyond the ends the nearest one."""
        column = min(max(column, 0), self.total - 1)
        flat = bisect_right(self._starts, column) - 1
        section = bisect_right(self._first_bars, flat) - 1
        bar = flat - self._first_bars[section]
        head = self._lesson.sections[section].bars[bar].head
        return section, bar, step_starts(head)[column - self._starts[flat]]

    def bars_between(self, first: int, last: int) -> Iterator[BarPlace]:
        """The bars that have a column from ``first`` up to, with, ``last``."""
        flat = max(0, bisect_right(self._starts, max(0, first)) - 1)
        section = bisect_right(self._first_bars, flat) - 1
        while flat < len(self._starts) - 1 and self._starts[flat] <= last:
            while flat >= self._first_bars[section + 1]:
                section += 1
            index = flat - self._first_bars[section]
            start = self._starts[flat]
            bar = self._lesson.sections[section].bars[index]
            yield BarPlace(section, index, bar, start, self._starts[flat + 1] - start)
            flat += 1


def _counts(chunk: tuple[Bar, ...]) -> tuple[int, ...]:
    return tuple(len(spans_of(bar.head)) for bar in chunk)


def _counts_after(old: Bars, new: Bars, counts: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    known = len(old.chunks)
    return [
        counts[index] if index < known and chunk is old.chunks[index] else _counts(chunk)
        for index, chunk in enumerate(new.chunks)
    ]


def heads_are_same(old: Bars, new: Bars) -> bool:
    """Whether the heads of all bars are the same objects; found chunk by chunk."""
    if len(old) != len(new):
        return False
    return all(
        before is after or all(one.head is two.head for one, two in zip(before, after, strict=True))
        for before, after in zip(old.chunks, new.chunks, strict=True)
    )


def changed_bars(old: Bars, new: Bars) -> tuple[int, int] | None:
    """The first and the last bar that are not the same objects; None where all are.

    For runs of equal length; found chunk by chunk.
    """
    first = last = None
    start = 0
    for before, after in zip(old.chunks, new.chunks, strict=True):
        if before is not after:
            for index, (one, two) in enumerate(zip(before, after, strict=True), start):
                if one is not two:
                    first = index if first is None else first
                    last = index
        start += len(after)
    return None if first is None or last is None else (first, last)
