"""Where the teacher is in the grid, and how the keys move there.

Conventions
-----------
- ``Cursor.tick`` is where a step begins, or the end of a section's last bar: the place behind
  everything, where typing adds a bar.
- A selection is the rectangle between an anchor and the cursor, both of them in it.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.desk.riffs.columns import spans_of, step_at, step_starts
from chalkfret.edits.place import Moment, Span, Spot
from chalkfret.model import BarHead, Lesson


class Cursor(Struct, frozen=True):
    """A cell of the grid: section, bar and part from 0, tick of the bar, course from 1."""

    section: int = 0
    bar: int = 0
    tick: int = 0
    part: int = 0
    course: int = 1

    @property
    def spot(self) -> Spot:
        """The cell as edits name it."""
        return Spot(self.section, self.bar, self.part, self.tick, self.course)

    @property
    def time(self) -> tuple[int, int, int]:
        """Section, bar and tick, for comparing."""
        return self.section, self.bar, self.tick


def head_at(lesson: Lesson, cursor: Cursor) -> BarHead:
    """The head of the cursor's bar."""
    return lesson.sections[cursor.section].bars[cursor.bar].head


def behind(lesson: Lesson, cursor: Cursor) -> bool:
    """Whether the cursor stands behind the last bar of its section."""
    return cursor.tick >= head_at(lesson, cursor).ticks


def step_length(lesson: Lesson, cursor: Cursor) -> int:
    """Ticks of the step under the cursor."""
    head = head_at(lesson, cursor)
    return spans_of(head)[step_at(head, cursor.tick)][1]


def kept(lesson: Lesson, cursor: Cursor) -> Cursor:
    """The cursor, or the nearest place that the lesson has, at the beginning of a step."""
    section = min(cursor.section, len(lesson.sections) - 1)
    bars = lesson.sections[section].bars
    bar = min(cursor.bar, len(bars) - 1)
    part = min(cursor.part, len(lesson.parts) - 1)
    course = min(cursor.course, len(lesson.parts[part].setup.courses))
    head = bars[bar].head
    last = bar == len(bars) - 1
    if cursor.tick >= head.ticks and last and bar == cursor.bar:
        tick = head.ticks
    else:
        tick = step_starts(head)[step_at(head, cursor.tick)]
    return Cursor(section, bar, tick, part, course)


def at(lesson: Lesson, cursor: Cursor, section: int, bar: int, tick: int = 0) -> Cursor:
    """The same string at another time."""
    return kept(lesson, replace(cursor, section=section, bar=bar, tick=tick))


def step_on(lesson: Lesson, cursor: Cursor) -> Cursor:
    """One step to the right, over bars and sections; the lesson's end holds."""
    if not behind(lesson, cursor):
        head = head_at(lesson, cursor)
        step = step_at(head, cursor.tick) + 1
        if step < len(step_starts(head)):
            return replace(cursor, tick=step_starts(head)[step])
    return bar_on(lesson, cursor) or cursor


def step_back(lesson: Lesson, cursor: Cursor) -> Cursor:
    """One step to the left; the lesson's beginning holds."""
    head = head_at(lesson, cursor)
    if cursor.tick > 0:
        starts = step_starts(head)
        step = step_at(head, cursor.tick - 1)
        return replace(cursor, tick=starts[step])
    before = bar_back(lesson, cursor)
    if before is None:
        return cursor
    return replace(before, tick=step_starts(head_at(lesson, before))[-1])


def bar_on(lesson: Lesson, cursor: Cursor) -> Cursor | None:
    """The beginning of the next bar, or None at the end."""
    if cursor.bar + 1 < len(lesson.sections[cursor.section].bars):
        return replace(cursor, bar=cursor.bar + 1, tick=0)
    if cursor.section + 1 < len(lesson.sections):
        return replace(cursor, section=cursor.section + 1, bar=0, tick=0)
    return None


def bar_back(lesson: Lesson, cursor: Cursor) -> Cursor | None:
    """The beginning of the bar before, or None at the beginning."""
    if cursor.bar > 0:
        return replace(cursor, bar=cursor.bar - 1, tick=0)
    if cursor.section > 0:
        bars = lesson.sections[cursor.section - 1].bars
        return replace(cursor, section=cursor.section - 1, bar=len(bars) - 1, tick=0)
    return None


def after_typing(lesson: Lesson, cursor: Cursor, ticks: int) -> Cursor:
    """Where typing goes on after a note of so many ticks at the cursor: in its own section.

    At the section's end it stays behind the last bar.
    """
    bars = lesson.sections[cursor.section].bars
    bar, tick = cursor.bar, cursor.tick + ticks
    while tick >= bars[bar].head.ticks:
        if bar + 1 == len(bars):
            return replace(cursor, bar=bar, tick=bars[bar].head.ticks)
        tick -= bars[bar].head.ticks
        bar += 1
    head = bars[bar].head
    starts = step_starts(head)
    step = step_at(head, tick)
    if starts[step] < tick:  # off the steps: on to the next one
        ahead = replace(cursor, bar=bar, tick=starts[step])
        on = step_on(lesson, ahead)
        return on if on.section == cursor.section else replace(ahead, tick=head.ticks)
    return replace(cursor, bar=bar, tick=tick)


def string_above(lesson: Lesson, cursor: Cursor) -> Cursor:
    """The string above, into the part above."""
    if cursor.course > 1:
        return replace(cursor, course=cursor.course - 1)
    if cursor.part > 0:
        part = cursor.part - 1
        return replace(cursor, part=part, course=len(lesson.parts[part].setup.courses))
    return cursor


def string_below(lesson: Lesson, cursor: Cursor) -> Cursor:
    """The string below, into the part below."""
    if cursor.course < len(lesson.parts[cursor.part].setup.courses):
        return replace(cursor, course=cursor.course + 1)
    if cursor.part + 1 < len(lesson.parts):
        return replace(cursor, part=cursor.part + 1, course=1)
    return cursor


def end_of_step(lesson: Lesson, cursor: Cursor) -> Moment:
    """The moment at which the cursor's step ends."""
    head = head_at(lesson, cursor)
    if behind(lesson, cursor):
        return Moment(cursor.section, cursor.bar, head.ticks)
    start, length = spans_of(head)[step_at(head, cursor.tick)]
    return Moment(cursor.section, cursor.bar, start + length)


def span_between(lesson: Lesson, anchor: Cursor, cursor: Cursor) -> Span:
    """The rectangle between two cells, both in it.

    Within a part it takes the strings between them, over several parts all their strings.
    """
    first, last = sorted((anchor, cursor), key=lambda one: one.time)
    if behind(lesson, first):  # nothing lies there: the step before it is meant
        first = step_back(lesson, first)
    start = Moment(*first.time)
    low, high = sorted((anchor.part, cursor.part))
    courses: tuple[int, ...] = ()
    if low == high:
        top, bottom = sorted((anchor.course, cursor.course))
        courses = tuple(range(top, bottom + 1))
    return Span(start, end_of_step(lesson, last), tuple(range(low, high + 1)), courses)
