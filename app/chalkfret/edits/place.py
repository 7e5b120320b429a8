"""Places in a lesson that an edit is asked to change.

Conventions
-----------
- Sections, bars and parts are indices from 0; ticks count from the bar line; courses from 1.
- A ``Span`` runs from its start up to, without, its end. Its end may be written as the end of a
  bar (tick = the bar's ticks) or as the beginning of the next one; it is the same place.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator

from msgspec import Struct

from chalkfret.edits.faults import refuse
from chalkfret.model import Bars, Lesson, Where


class Spot(Struct, frozen=True):
    """A cell of the grid: where a note starts or could start."""

    section: int
    bar: int
    part: int
    onset: int
    course: int


class Moment(Struct, frozen=True, order=True):
    """A point in the lesson's written time."""

    section: int
    bar: int
    tick: int


class Span(Struct, frozen=True):
    """What is selected: from a moment to another, in some parts, on some courses.

    ``courses`` empty means all; otherwise the same ones in each part.
    """

    start: Moment
    end: Moment
    parts: tuple[int, ...]
    courses: tuple[int, ...] = ()

    def takes(self, course: int) -> bool:
        """Whether the span covers this course."""
        return not self.courses or course in self.courses


class Stretch(Struct, frozen=True):
    """The share that one bar has in a span: ticks ``start`` up to ``stop`` of the bar.

    ``base`` is the tick, counted from the span's start, at which the bar's tick 0 lies; it is
    negative where the span starts inside the bar.
    """

    section: int
    bar: int
    start: int
    stop: int
    base: int


def where_of(lesson: Lesson, spot: Spot) -> Where:
    """The spot as a fault names it."""
    section = lesson.sections[spot.section]
    part = lesson.parts[spot.part]
    return Where(section.head.letter, spot.bar + 1, part.name, spot.course)


def check_spot(lesson: Lesson, spot: Spot) -> None:
    """Raise CannotEdit where the lesson has no such cell."""
    check_bars(lesson, spot.section, spot.bar, 1)
    check_part(lesson, spot.part)
    section = lesson.sections[spot.section]
    if not 0 <= spot.onset < section.bars[spot.bar].head.ticks:
        raise refuse("no_such_place", Where(section.head.letter, spot.bar + 1))
    courses = len(lesson.parts[spot.part].setup.courses)
    if not 1 <= spot.course <= courses:
        raise refuse("course_beyond_setup", where_of(lesson, spot),
                     course=spot.course, courses=courses)  # fmt: skip


def check_section(lesson: Lesson, section: int) -> None:
    """Raise CannotEdit where the lesson has no such section."""
    if not 0 <= section < len(lesson.sections):
        raise refuse("no_such_place")


def check_part(lesson: Lesson, part: int) -> None:
    """Raise CannotEdit where the lesson has no such part."""
    if not 0 <= part < len(lesson.parts):
        raise refuse("no_such_place")


def check_bars(lesson: Lesson, section: int, start: int, count: int) -> None:
    """Raise CannotEdit where the section does not have these bars, at least one."""
    check_section(lesson, section)
    if count < 1 or not 0 <= start <= start + count <= len(lesson.sections[section].bars):
        raise refuse("no_such_place", Where(lesson.sections[section].head.letter))


def check_span(lesson: Lesson, span: Span) -> None:
    """Raise CannotEdit where the span names what the lesson does not have, or nothing at all."""
    if not span.parts or span.end <= span.start:
        raise refuse("span_empty")
    for part in span.parts:
        check_part(lesson, part)
    for moment in (span.start, span.end):
        check_section(lesson, moment.section)
        bars = lesson.sections[moment.section].bars
        at_end = moment.bar == len(bars) and moment.tick == 0
        if not at_end and (
            not 0 <= moment.bar < len(bars) or not 0 <= moment.tick <= bars[moment.bar].head.ticks
        ):
            raise refuse("no_such_place", Where(lesson.sections[moment.section].head.letter))


def stretches(lesson: Lesson, span: Span) -> Iterator[Stretch]:
    """The bars of a span in order, each with its share; ``check_span`` must have passed."""
    base = -span.start.tick
    for section in range(span.start.section, span.end.section + 1):
        bars = lesson.sections[section].bars
        first = span.start.bar if section == span.start.section else 0
        last = span.end.bar if section == span.end.section else len(bars) - 1
        for offset, bar in enumerate(bars.slice(first, last + 1)):
            index, ticks = first + offset, bar.head.ticks
            here = Moment(section, index, 0)
            start = span.start.tick if here < span.start else 0
            at_end = section == span.end.section and index == span.end.bar
            stop = span.end.tick if at_end else ticks
            if start < stop:
                yield Stretch(section, index, start, stop, base)
            base += ticks


class Ruler:
    """Ticks counted from the beginning of a bar, found again as bars and ticks of the section.

    It measures only as far as it is asked, so that a place near the start costs little.
    """

    def __init__(self, bars: Bars, bar: int) -> None:
        self._bars = bars
        self._first = bar
        self._starts = [0]  # of bar first + index; one more than bars measured

    def _measure(self, ticks: int) -> None:
        while self._starts[-1] <= ticks and self._first + len(self._starts) - 1 < len(self._bars):
            bar = self._bars[self._first + len(self._starts) - 1]
            self._starts.append(self._starts[-1] + bar.head.ticks)

    def place(self, ticks: int) -> tuple[int, int] | None:
        """Bar and tick that lie so far on, from 0 up; None from the section's end on."""
        self._measure(ticks)
        if ticks >= self._starts[-1]:
            return None
        index = bisect_right(self._starts, ticks) - 1
        return self._first + index, ticks - self._starts[index]

    def tick_of(self, bar: int) -> int:
        """Where a bar from the first one on begins."""
        while len(self._starts) <= bar - self._first:
            self._measure(self._starts[-1])
        return self._starts[bar - self._first]

    def missing(self, ticks: int) -> int:
        """How many of so many ticks lie beyond the section's end."""
        self._measure(ticks)
        return max(0, ticks - self._starts[-1])
