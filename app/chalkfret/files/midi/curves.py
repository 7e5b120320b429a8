"""Pitch that moves while a note sounds: bends and slides as straight lines, cut into steps.

Conventions
-----------
- A *line* is a run of points (tick after the attack, cents from the note as fretted), ticks rising,
  straight between them, even before the first and behind the last. Lines add up.
- How far and how long a slide goes that comes from or leads to nowhere is common practice for
  previews: two frets in, five out, never over the nut. So is vibrato: after a short while, up from
  the fretted pitch and back, as a finger that pushes a string does it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from itertools import pairwise
from math import ceil
from typing import Final

from chalkfret.model import QUARTER, Bend, Note, Slide, SlideWay, Vibrato
from chalkfret.timeline.attacks import Attack

Line = tuple[tuple[int, float], ...]

STEP: Final = 10.0  # cents between two steps of a moving pitch
_IN_FRETS: Final = 2
_OUT_FRETS: Final = 5
_IN_TICKS: Final = QUARTER // 4
_GLIDE_TICKS: Final = QUARTER // 4
_OUT_TICKS: Final = QUARTER // 2
_VIBRATO_HZ: Final = 5.5
_VIBRATO_AFTER: Final = 0.15  # seconds
_VIBRATO_CENTS: Final = {False: 25.0, True: 60.0}  # narrow, wide


def pitch_line(attack: Attack, reached: Note | None) -> Line:
    """How the pitch of an attack moves; empty where it stands still.

    ``reached`` is the note to which it slides, None where it does not.
    """
    if reached is None and not attack.note.marks and not attack.tied:
        return ()
    notes = (attack.note, *attack.tied)
    lines = [_bent(notes), *_slid(attack, notes), *_glide(attack, reached), *_shaken(attack, notes)]
    lines = [line for line in lines if line]
    if len(lines) < 2:
        return lines[0] if lines else ()
    ticks = sorted({tick for line in lines for tick, _ in line})
    return tuple((tick, sum(at(line, tick) for line in lines)) for tick in ticks)


def _bent(notes: tuple[Note, ...]) -> Line:
    """The bends of a note and of those tied to it, one after the other."""
    points: list[tuple[int, float]] = []
    start = 0
    for note in notes:
        bend = note.mark(Bend)
        if bend is not None:
            if start:
                # What is tied on holds its first point from its own start, not from the attack.
                before = points[-1][1] if points else 0.0
                points += [(start - 1, before), (start, float(bend.curve[0].cents))]
            points += [(start + point.tick, float(point.cents)) for point in bend.curve]
        start += note.length
    return tuple(sorted(points, key=lambda point: point[0]))


def _slid(attack: Attack, notes: tuple[Note, ...]) -> Iterator[Line]:
    fret, ticks = attack.note.fret, attack.ticks
    ways = {mark.way for note in notes for mark in note.marks if isinstance(mark, Slide)}
    rise = min(_IN_TICKS, ticks // 2)
    if SlideWay.IN_FROM_BELOW in ways:
        yield ((0, -100.0 * min(_IN_FRETS, fret)), (rise, 0.0))
    if SlideWay.IN_FROM_ABOVE in ways:
        yield ((0, 100.0 * _IN_FRETS), (rise, 0.0))
    fall = ticks - min(_OUT_TICKS, ticks // 2)
    if SlideWay.OUT_DOWN in ways:
        yield ((fall, 0.0), (ticks, -100.0 * min(_OUT_FRETS, fret)))
    if SlideWay.OUT_UP in ways:
        yield ((fall, 0.0), (ticks, 100.0 * _OUT_FRETS))


def _glide(attack: Attack, reached: Note | None) -> Iterator[Line]:
    if reached is not None:
        start = attack.ticks - min(_GLIDE_TICKS, attack.ticks // 2)
        yield ((start, 0.0), (attack.ticks, 100.0 * (reached.fret - attack.note.fret)))


def _shaken(attack: Attack, notes: tuple[Note, ...]) -> Iterator[Line]:
    """Vibrato over the first note that asks for it and all that is tied on."""
    start = 0
    for note in notes:
        vibrato = note.mark(Vibrato)
        if vibrato is not None:
            second = attack.ticks / (attack.end_s - attack.start_s)
            first = start + _VIBRATO_AFTER * second
            half = second / _VIBRATO_HZ / 2
            count = int((attack.ticks - first) / half) // 2 * 2  # it ends where it began
            depth = _VIBRATO_CENTS[vibrato.wide]
            if count > 0:
                yield tuple(
                    (round(first + place * half), depth if place % 2 else 0.0)
                    for place in range(count + 1)
                )
            return
        start += note.length


def at(line: Line, tick: float) -> float:
    """Cents of a line at a tick."""
    place = bisect_right(line, tick, key=lambda point: point[0])
    if place == 0:
        return line[0][1]
    if place == len(line):
        return line[-1][1]
    (start, low), (end, high) = line[place - 1], line[place]
    return low + (high - low) * (tick - start) / (end - start)


def steps(line: Line) -> Iterator[tuple[int, float]]:
    """The line as steps of at most ``STEP`` cents: tick and cents, its first point included."""
    yield 0, line[0][1]
    for (start, low), (end, high) in pairwise(line):
        count = max(1, ceil(abs(high - low) / STEP))
        for step in range(1, count + 1):
            yield start + (end - start) * step // count, low + (high - low) * step / count
