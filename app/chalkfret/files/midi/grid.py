"""Where the lesson's ticks stand in a MIDI file.

Conventions
-----------
- A MIDI tick is a swung tick, rounded within its bar, behind the count-in, and behind what stops
  for a time: a pause has no ticks on the page, but needs some in a file, so whole units of its bar
  are put in, and the tempo there is what makes them last as long as the pause.
- The silence behind a section is so many quarters of the same kind.
- Seconds are those of the file: the timeline's divided by ``speed``, from the count-in's start.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import accumulate
from math import ceil
from typing import Final

from chalkfret.model import QUARTER, BarHead, Swing
from chalkfret.timeline.clicks import CountIn
from chalkfret.timeline.clock import Stage, TimedSection, Timeline
from chalkfret.timeline.swing import warp

SLOWEST: Final = 4.0  # quarters a minute; 24 bits of microseconds end at 3.58
_LONGEST: Final = 60.0 / SLOWEST  # seconds that a quarter may last
_SHORTEST: Final = 0.0001  # seconds; a shorter pause is left to the tempo's correction


def stop_ticks(seconds: float, unit: int = QUARTER) -> int:
    """Ticks put in for a pause: whole quarters and whole units of ``unit`` ticks."""
    if seconds < _SHORTEST:
        return 0
    chunk = max(unit, QUARTER)
    return chunk * ceil(seconds / (_LONGEST * chunk / QUARTER))


@lru_cache(maxsize=4096)
def _rounded(head: BarHead, swing: Swing | None, tick: int) -> int:
    bent = warp(head, swing)
    return tick if bent is None else round(bent.to_swung(tick))


@dataclass(frozen=True, eq=False)
class SectionGrid:
    """One section in the file: it begins at MIDI tick ``base`` and second ``start_s``."""

    timed: TimedSection
    base: int
    start_s: float
    speed: float

    @cached_property
    def lengths(self) -> tuple[int, ...]:
        """MIDI ticks of each played bar, pauses left out."""
        clock = self.timed.clock
        return tuple([_rounded(head, clock.swing, head.ticks) for head in clock.heads])

    @cached_property
    def starts(self) -> tuple[int, ...]:
        """Ticks from the section's start to each played bar and to the end, pauses left out."""
        return (0, *accumulate(self.lengths))

    @cached_property
    def inserted(self) -> tuple[int, ...]:
        """Ticks put in before each of the clock's stops, and in all."""
        clock = self.timed.clock
        units = [
            stop_ticks(stop.seconds / self.speed, self._unit(stop.tick, stop.stage))
            for stop in clock.stops
        ]
        return (0, *accumulate(units))

    def _unit(self, tick: int, stage: Stage) -> int:
        clock = self.timed.clock
        inside = tick - 1 if stage is Stage.HOLD_OF_END else tick
        return clock.heads[clock.bar_at(inside)].meter.unit_ticks

    def offset(self, bar: int, tick: int) -> int:
        """MIDI ticks from a played bar's start to its ``tick``, pauses left out."""
        clock = self.timed.clock
        return tick if clock.swing is None else _rounded(clock.heads[bar], clock.swing, tick)

    def onset(self, bar: int, tick: int) -> int:
        """The MIDI tick of what begins at ``tick`` of the played bar ``bar``."""
        return self._at(bar, tick, Stage.FERMATA)

    def ending(self, bar: int, tick: int) -> int:
        """The MIDI tick of what ends at ``tick`` of the played bar ``bar``."""
        return self._at(bar, tick, Stage.BREAK)

    def _at(self, bar: int, tick: int, before: Stage) -> int:
        clock = self.timed.clock
        at = self.base + self.starts[bar] + self.offset(bar, tick)
        if clock.stops:
            at += self.inserted[bisect_left(clock.stops, (clock.ticks[bar] + tick, before))]
        return at

    @cached_property
    def lines(self) -> tuple[int, ...]:
        """MIDI ticks of each played bar line, and of the section's end."""
        bars = range(len(self.timed.clock.bars))
        return (*(self.onset(bar, 0) for bar in bars), self.end)

    @property
    def end(self) -> int:
        """The MIDI tick at which the section's music ends."""
        return self.base + self.starts[-1] + self.inserted[-1]

    @property
    def end_s(self) -> float:
        """The file's second at which the section's music ends."""
        return self.start_s + self.timed.clock.length_s / self.speed

    @property
    def silence_s(self) -> float:
        """Seconds of the silence behind the section."""
        return self.timed.section.head.pause_s / self.speed


@dataclass(frozen=True, eq=False)
class Grid:
    """The whole file: its sections in order, behind ``lead`` ticks of count-in."""

    sections: tuple[SectionGrid, ...]
    lead: int
    lead_s: float

    @property
    def end(self) -> int:
        """The MIDI tick at which the lesson ends."""
        return self.sections[-1].end

    @cached_property
    def _played(self) -> tuple[int, ...]:
        return tuple(grid.timed.start_tick for grid in self.sections)

    def at(self, tick: int) -> int:
        """The MIDI tick of what begins at a played tick of the lesson."""
        grid = self.sections[max(0, bisect_right(self._played, tick) - 1)]
        clock, inside = grid.timed.clock, tick - grid.timed.start_tick
        if inside >= clock.ticks[-1]:
            return grid.end
        bar = clock.bar_at(inside)
        return grid.onset(bar, inside - clock.ticks[bar])

    def ending(self, tick: int) -> int:
        """The MIDI tick of what ends at a played tick of the lesson."""
        grid = self.sections[max(0, bisect_left(self._played, tick) - 1)]
        clock, inside = grid.timed.clock, tick - grid.timed.start_tick
        bar = max(0, bisect_left(clock.ticks, inside) - 1)
        return grid.ending(bar, inside - clock.ticks[bar])


def grid(time: Timeline, counted: CountIn, speed: float) -> Grid:
    """The file's grid for a lesson's timeline."""
    lead = round(counted.ticks)
    base, start_s = lead, counted.seconds / speed
    sections = []
    for index, timed in enumerate(time.sections):
        one = SectionGrid(timed, base, start_s, speed)
        sections.append(one)
        last = index == len(time.sections) - 1
        base = one.end + (0 if last else stop_ticks(one.silence_s))
        start_s = one.end_s + one.silence_s
    return Grid(tuple(sections), lead, counted.seconds / speed)
