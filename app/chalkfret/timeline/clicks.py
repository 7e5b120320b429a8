"""The click: where it falls, how strong, and the count-in.

Conventions
-----------
- Three strengths: the bar, the beat, and the pulse between.
- It falls on every unit of the meter where the beats are of unequal length (7/8 as 2+2+3), where
  units are quarters or longer, or where the tempo counts the unit or less; else on every beat
  (6/8 in two).
- A pickup has the clicks of the end of its bar, and none where it begins inside a unit.
- The count-in runs in the meter, grouping and first tempo of what follows it. A pickup takes its
  place in the last of its bars, and where that leaves less than half a bar of clicks, one more
  bar is counted (common practice).
"""

from __future__ import annotations

from enum import IntEnum
from functools import lru_cache
from typing import NamedTuple

from chalkfret.model import BarHead, Lesson
from chalkfret.model.meter import beat_lengths
from chalkfret.timeline.clock import Timeline, timeline


class Accent(IntEnum):
    """How strong a click is."""

    PULSE = 0
    BEAT = 1
    BAR = 2


class Click(NamedTuple):
    """One click: its second, its strength, and where it stands; in a count-in ``section`` is -1."""

    start_s: float
    accent: Accent
    section: int
    played: int
    tick: int  # in its bar


class CountIn(NamedTuple):
    """What is counted before the first bar line: swung ticks before it, and their seconds."""

    clicks: tuple[tuple[float, Accent], ...]  # swung ticks after the count-in's start
    ticks: float
    seconds: float


@lru_cache(maxsize=1024)
def bar_clicks(head: BarHead, tempo_unit: int) -> tuple[tuple[int, Accent], ...]:
    """Tick and strength of each click of a bar; ``tempo_unit`` is the tempo's unit in ticks."""
    meter = head.meter
    beats = beat_lengths(meter, head.grouping)
    units = len(set(beats)) > 1 or meter.unit <= 4 or tempo_unit <= meter.unit_ticks
    missing = meter.ticks - head.ticks
    out: list[tuple[int, Accent]] = []
    start = 0
    for beat in beats:
        for tick in range(start, start + beat, meter.unit_ticks if units else beat):
            accent = Accent.BAR if tick == 0 else Accent.BEAT if tick == start else Accent.PULSE
            if tick >= missing:
                out.append((tick - missing, accent))
        start += beat
    return tuple(out)


def clicks(lesson: Lesson) -> tuple[Click, ...]:
    """All clicks of the lesson in order of time, without count-in."""
    return tuple(
        Click(timed.start_s + timed.clock.onset_s(played, tick), accent, index, played, tick)
        for index, timed in enumerate(timeline(lesson).sections)
        for played, head in enumerate(timed.clock.heads)
        for tick, accent in bar_clicks(head, timed.section.head.tempo.unit.ticks)
    )


def count_in(time: Timeline, bars: int, section: int = 0) -> CountIn:
    """The count-in of ``bars`` bars before a section."""
    timed = time.sections[section]
    clock = timed.clock
    if not bars or not clock.bars:
        return CountIn((), 0.0, 0.0)
    head = clock.heads[0]
    whole = head.meter.ticks
    pickup = 0.0 if head.pickup is None else clock.swung[1]
    if pickup and (bars * whole - pickup) * 2 < whole:
        bars += 1
    ticks = bars * whole - pickup
    full = BarHead(meter=head.meter, grouping=head.grouping)
    found = [
        (float(bar * whole + tick), accent)
        for bar in range(bars)
        for tick, accent in bar_clicks(full, timed.section.head.tempo.unit.ticks)
        if bar * whole + tick < ticks
    ]
    return CountIn(tuple(found), ticks, ticks / clock.tempo.start)


def count_in_clicks(time: Timeline, bars: int, section: int = 0) -> tuple[Click, ...]:
    """The clicks of a count-in, at negative seconds before the section's start."""
    counted = count_in(time, bars, section)
    timed = time.sections[section]
    first = timed.start_s - counted.seconds
    return tuple(
        Click(first + tick / timed.clock.tempo.start, accent, -1, -1, int(tick))
        for tick, accent in counted.clicks
    )
