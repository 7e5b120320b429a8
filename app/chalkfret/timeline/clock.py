"""The one timeline of a lesson: played ticks to seconds and back.

Conventions
-----------
- A fermata at a tick stands just behind the attacks there: what begins or sounds at it is held. At
  the last tick of its bar it holds what ends there. A break at a tick stands just before the
  attacks there: what ends at it has ended, what begins at it waits.
- So a tick may stand for three moments: ``ending_s`` (what ends there), ``onset_s`` (bar line,
  attacks, clicks; breaks over) and the moment when time goes on (fermatas over).
- ``onset_s`` and ``tick_at`` are inverse but inside a pause, where ``tick_at`` gives its tick.

A section's clock depends only on its tempo, swing, times and the heads of its bars: it is kept
under these while a timeline in use holds it, so typing notes never costs one.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property, lru_cache
from itertools import accumulate
from typing import NamedTuple
from weakref import WeakValueDictionary

from chalkfret.model import BarHead, Lesson, PauseKind, Section, Swing, Tempo
from chalkfret.timeline import swing as swings
from chalkfret.timeline.tempo import TempoCurve, curve
from chalkfret.timeline.unroll import PlayedBar, heads_of, unroll


class Stage(IntEnum):
    """The order of pauses that stand at one tick."""

    HOLD_OF_END = 0  # a fermata at the end of a bar
    BREAK = 1
    FERMATA = 2


class Stop(NamedTuple):
    """A pause as played: its tick from the section's start, its place there, and its seconds."""

    tick: int
    stage: Stage
    seconds: float


@dataclass(frozen=True, eq=False)
class SectionClock:
    """The time of one section, from its own start.

    ``ticks``, ``swung`` and ``bar_s`` (seconds) have one entry a played bar and one for the end.
    """

    bars: tuple[PlayedBar, ...]
    heads: tuple[BarHead, ...]  # of each played bar
    swing: Swing | None
    tempo: TempoCurve
    ticks: tuple[int, ...]
    swung: tuple[float, ...]
    stops: tuple[Stop, ...]
    stopped: tuple[float, ...]  # seconds stopped before each of the stops, and in all

    def swung_at(self, bar: int, tick: float) -> float:
        """The swung tick of the section at ``tick`` of its played bar ``bar``."""
        warp = swings.warp(self.heads[bar], self.swing)
        return self.swung[bar] + (tick if warp is None else warp.to_swung(tick))

    def onset_s(self, bar: int, tick: float) -> float:
        """Seconds at which what begins at ``tick`` of the played bar ``bar`` begins."""
        base = self.tempo.seconds(self.swung_at(bar, tick))
        return base + self._stopped(self.ticks[bar] + tick, Stage.FERMATA) if self.stops else base

    def ending_s(self, bar: int, tick: float) -> float:
        """Seconds at which what ends at ``tick`` of the played bar ``bar`` ends."""
        base = self.tempo.seconds(self.swung_at(bar, tick))
        return base + self._stopped(self.ticks[bar] + tick, Stage.BREAK) if self.stops else base

    def _stopped(self, tick: float, before: Stage) -> float:
        return self.stopped[bisect_left(self.stops, (tick, before))]

    @cached_property
    def bar_s(self) -> tuple[float, ...]:
        """Seconds of each bar line, and of the section's end."""
        lines = [self.onset_s(bar, 0) for bar in range(len(self.bars))]
        whole = self.tempo.seconds(self.swung[-1]) + self.stopped[-1]
        return (*lines, whole)

    @cached_property
    def _stop_s(self) -> tuple[float, ...]:
        """Seconds at which each of the stops begins."""
        out = []
        for before, stop in zip(self.stopped, self.stops, strict=False):
            bar = self.bar_at(stop.tick)
            swung = self.swung_at(bar, stop.tick - self.ticks[bar])
            out.append(self.tempo.seconds(swung) + before)
        return tuple(out)

    @property
    def length_s(self) -> float:
        """Seconds of the section, without the silence behind it."""
        return self.bar_s[-1]

    def bar_at(self, tick: float) -> int:
        """The played bar in which a tick of the section lies; the last one for its end."""
        return max(0, min(bisect_right(self.ticks, tick), len(self.bars)) - 1)

    def seconds(self, tick: float) -> float:
        """Seconds at which what begins at this tick of the section begins."""
        if tick >= self.ticks[-1]:
            return self.length_s
        bar = self.bar_at(tick)
        return self.onset_s(bar, tick - self.ticks[bar])

    def tick_at(self, seconds: float) -> float:
        """The tick of the section that sounds at ``seconds``, within its ends."""
        if not self.bars:
            return 0.0
        stop = bisect_right(self._stop_s, seconds) - 1
        if stop >= 0 and seconds <= self._stop_s[stop] + self.stops[stop].seconds:
            return float(self.stops[stop].tick)
        swung = self.tempo.x(seconds - self.stopped[stop + 1])
        bar = max(0, min(bisect_right(self.swung, swung), len(self.bars)) - 1)
        inside = swung - self.swung[bar]
        warp = swings.warp(self.heads[bar], self.swing)
        written = inside if warp is None else warp.to_written(inside)
        return min(max(self.ticks[bar] + written, 0.0), float(self.ticks[-1]))


_CLOCKS: WeakValueDictionary[tuple[tuple[BarHead, ...], int, Tempo, Swing | None], SectionClock] = (
    WeakValueDictionary()
)


def section_clock(section: Section) -> SectionClock:
    """The time of one section."""
    head = section.head
    key = (heads_of(section), head.times, head.tempo, head.swing)
    found = _CLOCKS.get(key)
    if found is None:
        found = _CLOCKS[key] = _clock(*key)
    return found


def _clock(
    heads: tuple[BarHead, ...], times: int, tempo: Tempo, swing: Swing | None
) -> SectionClock:
    bars = unroll(heads, times)
    sounding = tuple([heads[bar.bar] for bar in bars])
    lengths = [head.ticks for head in sounding]
    ticks = (0, *accumulate(lengths))
    swung: tuple[float, ...] = ticks
    if swing is not None:
        warps = [swings.warp(head, swing) for head in sounding]
        bent = [n if w is None else w.length for n, w in zip(lengths, warps, strict=True)]
        swung = (0.0, *accumulate(bent))
    stops = tuple(
        sorted(stop for at, head in enumerate(sounding) for stop in _stops(head, ticks[at]))
    )
    return SectionClock(
        bars=bars,
        heads=sounding,
        swing=swing,
        tempo=curve(tempo, swung[-1]),
        ticks=ticks,
        swung=swung,
        stops=stops,
        stopped=(0.0, *accumulate(stop.seconds for stop in stops)),
    )


def _stops(head: BarHead, start: int) -> list[Stop]:
    out = []
    for pause in head.pauses:
        stage = Stage.BREAK
        if pause.kind is PauseKind.FERMATA:
            stage = Stage.HOLD_OF_END if pause.tick == head.ticks else Stage.FERMATA
        out.append(Stop(start + pause.tick, stage, pause.seconds))
    return out


class BarLine(NamedTuple):
    """A bar line as played: ``played`` counts the section's bars from 0 as they sound."""

    section: int
    played: int
    bar: int  # index in the section
    pass_: int
    tick: int  # played tick of the lesson
    start_s: float


class Moment(NamedTuple):
    """Where the lesson is at some second."""

    section: int
    played: int
    bar: int  # index in the section
    pass_: int
    tick: float  # in the bar


@dataclass(frozen=True, eq=False)
class TimedSection:
    """A section in the lesson's time; ``end_s`` is its last bar line, before its silence."""

    section: Section
    clock: SectionClock
    start_tick: int
    start_s: float

    @property
    def end_s(self) -> float:
        """Seconds at which the section's music ends."""
        return self.start_s + self.clock.length_s

    @property
    def end_tick(self) -> int:
        """Played tick of the lesson at which the section ends."""
        return self.start_tick + self.clock.ticks[-1]


@dataclass(frozen=True, eq=False)
class Timeline:
    """The lesson's time. ``sections`` are those of the lesson, in order, none left out."""

    sections: tuple[TimedSection, ...]

    @property
    def total_s(self) -> float:
        """Seconds to the last bar line; the silence behind the last section does not count."""
        return self.sections[-1].end_s

    @property
    def total_ticks(self) -> int:
        """Played ticks of the lesson."""
        return self.sections[-1].end_tick

    def seconds(self, tick: float) -> float:
        """Seconds at which what begins at a played tick of the lesson begins."""
        timed = self.sections[self._section_of(tick)]
        return timed.start_s + timed.clock.seconds(tick - timed.start_tick)

    def tick(self, seconds: float) -> float:
        """The played tick of the lesson at ``seconds``, within its ends."""
        timed = self.sections[self.section_at(seconds)]
        return timed.start_tick + timed.clock.tick_at(seconds - timed.start_s)

    def section_at(self, seconds: float) -> int:
        """The index of the section that sounds, or that sounded last, at ``seconds``."""
        return max(0, bisect_right(self._starts_s, seconds) - 1)

    def moment(self, seconds: float) -> Moment | None:
        """Section, bar and tick at ``seconds``; None where the section has no sounding bar."""
        index = self.section_at(seconds)
        timed = self.sections[index]
        clock = timed.clock
        if not clock.bars:
            return None
        tick = clock.tick_at(seconds - timed.start_s)
        played = clock.bar_at(tick)
        return Moment(index, played, *clock.bars[played], tick - clock.ticks[played])

    def bar_lines(self) -> tuple[BarLine, ...]:
        """All bar lines as played; the end of the lesson is ``total_s``."""
        return tuple(
            BarLine(index, at, *bar, timed.start_tick + tick, timed.start_s + start_s)
            for index, timed in enumerate(self.sections)
            for at, (bar, tick, start_s) in enumerate(
                zip(timed.clock.bars, timed.clock.ticks, timed.clock.bar_s, strict=False)
            )
        )

    def _section_of(self, tick: float) -> int:
        return max(0, bisect_right(self._start_ticks, tick) - 1)

    @cached_property
    def _start_ticks(self) -> tuple[int, ...]:
        return tuple(timed.start_tick for timed in self.sections)

    @cached_property
    def _starts_s(self) -> tuple[float, ...]:
        return tuple(timed.start_s for timed in self.sections)


@lru_cache(maxsize=4)
def timeline(lesson: Lesson) -> Timeline:
    """The lesson's time, its sections one after the other as they stand."""
    timed: list[TimedSection] = []
    tick, start_s = 0, 0.0
    for section in lesson.sections:
        clock = section_clock(section)
        timed.append(TimedSection(section, clock, tick, start_s))
        tick += clock.ticks[-1]
        start_s += clock.length_s + section.head.pause_s
    return Timeline(tuple(timed))
