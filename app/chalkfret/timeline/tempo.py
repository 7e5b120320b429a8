"""A section's tempo as a function of its ticks, in closed form.

Conventions
-----------
- ``x`` is a position in swung ticks from the section's start, 0 to ``length``; seconds count from
  there too, pauses left out.
- Over beats, the speed v (ticks a second) is linear in x: t = ln(v(x) / v0) * length / (v1 - v0).
  Over time, v is linear in t: x = v0 t + b t^2 / 2 with b = (v1^2 - v0^2) / (2 length).
  Both integrate dt = dx / v exactly, and both are inverted exactly.
"""

from __future__ import annotations

from math import expm1, log1p, sqrt

from msgspec import Struct

from chalkfret.model import QUARTER, Tempo, TempoShape


class TempoCurve(Struct, frozen=True):
    """Speed over a section: ``start`` and ``end`` in ticks a second, over ``length`` ticks."""

    start: float
    end: float
    length: float
    over_time: bool

    def speed(self, x: float) -> float:
        """Ticks a second at ``x``."""
        if self.start == self.end or self.length <= 0:
            return self.start
        share = x / self.length
        if self.over_time:
            return sqrt(self.start**2 + (self.end**2 - self.start**2) * share)
        return self.start + (self.end - self.start) * share

    def seconds(self, x: float) -> float:
        """Seconds from the section's start to ``x``."""
        if self.start == self.end or self.length <= 0:
            return x / self.start
        if self.over_time:
            return 2 * x / (self.start + self.speed(x))
        rise = (self.end - self.start) / self.length
        return log1p(rise * x / self.start) / rise

    def x(self, seconds: float) -> float:
        """The position after ``seconds``; beyond the section it goes on at the speed there."""
        if self.start == self.end or self.length <= 0:
            return seconds * self.start
        if seconds < 0:
            return seconds * self.start
        whole = self.seconds(self.length)
        if seconds > whole:
            return self.length + (seconds - whole) * self.end
        if self.over_time:
            gain = (self.end**2 - self.start**2) / (2 * self.length)
            return seconds * (self.start + gain * seconds / 2)
        rise = (self.end - self.start) / self.length
        return self.start * expm1(rise * seconds) / rise


def ticks_a_second(beats_a_minute: float, tempo: Tempo) -> float:
    """Ticks a second of so many of the tempo's beats a minute."""
    return beats_a_minute * tempo.unit.ticks / 60


def quarters_a_minute(ticks_per_second: float) -> float:
    """Quarters a minute of a speed in ticks a second."""
    return ticks_per_second * 60 / QUARTER


def curve(tempo: Tempo, length: float) -> TempoCurve:
    """The speed of a section of ``length`` swung ticks."""
    start = ticks_a_second(tempo.start, tempo)
    end = start if tempo.end is None else ticks_a_second(tempo.end, tempo)
    return TempoCurve(start, end, length, tempo.shape is TempoShape.OVER_TIME)
