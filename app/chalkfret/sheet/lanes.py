"""How high the lanes over a staff stand: a skyline in steps of columns.

Each kind of sign has a lane in which it stands in line along a system, but a lane lies only as
high as what is beneath its own signs: accents over bars without bends are close to the staff even
if another bar of the system bends. Where signs stand is known before spacing by the columns they
stand over, kept as the bits of a whole number; what may touch a neighbouring column claims it too.
So a system's height is known without drawing it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from chalkfret.model import BarHead, Notes
from chalkfret.sheet.marks import LANE_HEIGHTS, Lane, signs
from chalkfret.sheet.rhythm import Rhythm

EVERYWHERE: Final = -1  # all bits: over the whole system

Claims = tuple[tuple[Lane, int], ...]  # lanes of one staff in one bar, and the columns they claim
Stack = tuple[tuple[Lane, float], ...]  # lanes of one staff in a system, and the mm below each

# Labels of spans reach over the columns behind them.
_REACH_RIGHT: Final = {Lane.MUTES: 3, Lane.RINGS: 4, Lane.LETTERS: 2, Lane.BENDS: 2}
_SINGLE: Final = (Lane.LETTERS, Lane.ACCENTS, Lane.STROKES, Lane.MUTES, Lane.BENDS)


def claims(
    notes: Notes, voices: tuple[Rhythm, ...], columns: tuple[int, ...], head: BarHead, top: bool
) -> Claims:
    """The lanes of a staff in one bar; ``top``: it is the first staff of its system."""
    found: dict[Lane, int] = {}
    for note in notes:
        if note.marks:
            sign = signs(note.fret, note.marks)
            at = bisect_right(columns, note.onset) - 1
            for lane in _SINGLE:
                if sign.lanes & lane:
                    found[lane] = found.get(lane, 0) | 1 << at
            for lane in (Lane.WAVES, Lane.RINGS):
                if sign.lanes & lane:
                    stop = max(at + 1, bisect_right(columns, note.end - 1))
                    found[lane] = found.get(lane, 0) | (1 << stop) - (1 << at)
            if note.course == 1 and (sign.slur or sign.slide or sign.tie):
                found[Lane.ARCS] = EVERYWHERE
    if len(voices) == 2:
        everything = (1 << len(columns)) - 1
        found[Lane.STEMS] = everything
        if voices[0].tuplets:
            found[Lane.TUPLETS] = everything
    return (*found.items(), *head_claims(head, columns, top))


def head_claims(head: BarHead, columns: tuple[int, ...], top: bool) -> Claims:
    """The lanes that a bar's head asks for: pauses over each staff, endings over the first."""
    found: list[tuple[Lane, int]] = []
    if head.pauses:
        bits = 0
        for pause in head.pauses:
            bits |= 1 << max(0, bisect_right(columns, pause.tick) - 1)
        found.append((Lane.FERMATAS, bits))
    if top and (head.passes or head.repeat_close > 2):
        found.append((Lane.ENDINGS, EVERYWHERE))
    return tuple(found)


def stack(bars: Sequence[tuple[Claims, int]]) -> tuple[Stack, float]:
    """The lanes of a staff in a system: the mm beneath each at normal print, and beneath all.

    ``bars`` has each bar's claims and its number of columns.
    """
    found: dict[Lane, int] = {}
    offset = 0
    for claimed, columns in bars:
        for lane, bits in claimed:
            known = found.get(lane, 0)
            found[lane] = EVERYWHERE if EVERYWHERE in (bits, known) else known | bits << offset
        offset += max(1, columns)
    return _stacked(tuple(found.items()))


@lru_cache(maxsize=8192)
def _stacked(claimed: Claims) -> tuple[Stack, float]:
    standing: list[tuple[Lane, int, int, float]] = []
    out: list[tuple[Lane, float]] = []
    highest = 0.0
    for lane, bits in sorted(claimed):
        wide = bits if bits == EVERYWHERE else _widened(bits, _REACH_RIGHT.get(lane, 1))
        base = 0.0
        for other, taken, reached, top in standing:
            # Spacing keeps letters and the amounts of bends apart, so they share their height.
            touches = taken & wide or reached & bits
            if touches and not (lane is Lane.LETTERS and other is Lane.BENDS):
                base = max(base, top)
        top = base + LANE_HEIGHTS[lane]
        standing.append((lane, bits, wide, top))
        out.append((lane, base))
        highest = max(highest, top)
    return tuple(out), highest


def _widened(bits: int, right: int) -> int:
    wide = bits | bits >> 1
    for step in range(1, right + 1):
        wide |= bits << step
    return wide
