"""When the notes of a bar start and how long they last.

Where lengths stand above the strings, they count. Where not, a bar of n columns is shared out over
the ticks of its meter, and each note is put on the nearest step: of the steps that keep all notes
apart, the one that asks for the least bending of what was typed, the coarser where two are nearly
equal. Beats counted above (``1 + 2 +``) hold the columns below them. A note then lasts to the next
one of its part, or to the bar line.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from itertools import pairwise
from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.bars import Piece, RawBar
from chalkfret.files.text_tab.marks import Cell
from chalkfret.model import QUARTER, BarHead

# Steps a bar may fall into, and what each costs beside the bending of columns: (column off)².
_STEPS: Final = (
    (QUARTER, 0.0), (QUARTER // 2, 0.02), (QUARTER // 4, 0.05), (QUARTER // 3, 0.08),
    (QUARTER // 6, 0.2), (QUARTER // 8, 0.2), (QUARTER // 12, 0.4), (QUARTER // 16, 0.4),
)  # fmt: skip
_PARTS: Final = {"&": 2, "+": 2, "and": 2, "e": 1, "a": 3, "ah": 3}  # quarters of a beat


class Event(Struct, frozen=True):
    """Something starts here: its tick, and where that stands."""

    tick: int
    piece: int
    at: int


class Timed(Struct, frozen=True):
    """A bar's events in order, its length in ticks, and the event of each cell.

    ``cells`` has (event, string from 0, cell); ``strings`` are the characters of each piece.
    """

    events: list[Event]
    ticks: int
    cells: list[tuple[int, int, Cell]]
    strings: list[list[str]]


def by_lengths(bar: RawBar, most: int) -> Timed | None:
    """The bar by the lengths above it; None where there are none, or they do not fit."""
    events: list[Event] = []
    tick = 0
    if not any(piece.lengths for piece in bar.pieces):
        return None
    for index, piece in enumerate(bar.pieces):
        for at, ticks in sorted(piece.lengths):
            events.append(Event(tick, index, at))
            tick += ticks
    if tick > most:
        return None
    cells: list[tuple[int, int, Cell]] = []
    for index, piece in enumerate(bar.pieces):
        here = {event.at: number for number, event in enumerate(events) if event.piece == index}
        for string, row in enumerate(piece.cells):
            for cell in row:
                near = next((here[cell.at + by] for by in (0, 1, -1) if cell.at + by in here), None)
                if near is None:
                    return None
                cells.append((near, string, cell))
    places = {(event, string) for event, string, _ in cells}
    strings = [piece.strings for piece in bar.pieces]
    return Timed(events, tick, cells, strings) if len(places) == len(cells) else None


def by_spacing(bar: RawBar, head: BarHead) -> Timed:
    """The bar by its columns."""
    piece = _whole(bar.pieces)
    clusters = _clusters(piece)
    ticks = head.ticks
    if not clusters:
        return Timed([], ticks, [], [piece.strings])
    spots = [at for at, _ in clusters]
    onsets = _onsets(piece, clusters, head)
    events = [Event(tick, 0, at) for at, tick in zip(spots, onsets, strict=True)]
    cells = [
        (number, string, cell)
        for number, (_, cluster) in enumerate(clusters)
        for string, cell in cluster
    ]
    return Timed(events, ticks, cells, [piece.strings])


def _whole(pieces: list[Piece]) -> Piece:
    """A bar in one piece, whose lengths could not be used."""
    if len(pieces) == 1:
        return pieces[0]
    strings = max(len(piece.cells) for piece in pieces)
    whole = Piece([""] * strings, [[] for _ in range(strings)], 0)
    for piece in pieces:
        for string, row in enumerate(piece.cells):
            whole.strings[string] = (
                whole.strings[string].ljust(whole.width, "-") + piece.strings[string]
            )
            whole.cells[string] += [
                Cell(
                    c.at + whole.width,
                    c.end + whole.width,
                    c.fret,
                    c.marks,
                    c.bend,
                    c.brackets,
                    c.slide,
                )
                for c in row
            ]
        whole.width += piece.width
    return whole


Cluster = tuple[int, list[tuple[int, Cell]]]  # where it stands, and the cells with their strings


def _clusters(piece: Piece) -> list[Cluster]:
    """Cells that start together, one a string, in overlapping columns; none where a rest is."""
    slack = 1 if piece.ragged else 0
    cells = sorted(
        ((string, cell) for string, row in enumerate(piece.cells) for cell in row),
        key=lambda one: (one[1].at, one[0]),
    )
    out: list[Cluster] = []
    for string, cell in cells:
        if out:
            ends = max(one.at + len(str(one.fret)) for _, one in out[-1][1]) + slack
            if cell.at < ends and all(string != other for other, _ in out[-1][1]):
                out[-1][1].append((string, cell))
                continue
        out.append((cell.at, [(string, cell)]))
    if piece.ragged:  # none of its columns is sure: the middle of them counts
        out = [(int(sum(c.at for _, c in row) / len(row) + 0.5), row) for _, row in out]
    taken = {at for at, _ in out}
    out += [(at, []) for at in sorted(set(piece.rests) - taken)]
    return sorted(out, key=lambda cluster: cluster[0])


def _onsets(piece: Piece, clusters: list[Cluster], head: BarHead) -> list[int]:
    ticks = head.ticks
    spots = [at for at, _ in clusters]
    anchors = _anchors(piece, head)
    best: tuple[float, list[int]] | None = None
    if anchors:
        size = ticks / max(1, piece.width)
        best = _snapped(spots, _between(anchors), ticks, size, piece.ragged)
    else:
        wide = [any(cell.fret > 9 for _, cell in cells) for _, cells in clusters]
        bracketed = spots[0] == 2 and any(cell.brackets for _, cell in clusters[0][1])
        for pad in (2,) if bracketed else range(min(3, spots[0] + 1)):  # |-(5)- begins the bar
            for tail in (0, 1, -1):
                for narrowed in {False, any(wide)}:
                    found = _shared(
                        spots, wide, piece.width - pad - tail, pad, narrowed, head, piece.ragged
                    )
                    if found is not None:
                        cost = (
                            found[0]
                            + (0.004, 0.0, 0.01)[pad]
                            + 0.012 * abs(tail)
                            + 0.004 * narrowed
                        )
                        if best is None or cost < best[0]:
                            best = cost, found[1]
    if best is not None:
        return best[1]
    return [ticks * index // len(spots) for index in range(len(spots))]


def _shared(
    spots: list[int],
    wide: list[bool],
    columns: int,
    pad: int,
    narrowed: bool,
    head: BarHead,
    ragged: bool,
) -> tuple[float, list[int]] | None:
    """The columns shared out over the bar; ``narrowed`` takes a second digit for no column."""
    if narrowed:
        before = [sum(wide[:index]) for index in range(len(spots))]
        spots = [spot - less for spot, less in zip(spots, before, strict=True)]
        columns -= sum(wide)
    if columns <= spots[-1] - pad:
        return None
    size = head.ticks / columns
    found = _snapped(spots, lambda spot: (spot - pad) * size, head.ticks, size, ragged)
    odd = 0.0 if columns % len(head.beats) == 0 else 0.02
    return None if found is None else (found[0] + odd, found[1])


def _snapped(
    spots: list[int], place: Callable[[int], float], ticks: int, size: float, ragged: bool
) -> tuple[float, list[int]] | None:
    """The cheapest step that keeps the columns apart: its cost, and the onsets.

    The columns of a ragged bar say little, so that fine steps cost more there.
    """
    best: tuple[float, list[int]] | None = None
    for step, cost in _STEPS:
        onsets = [round(place(spot) / step) * step for spot in spots]
        if onsets[0] < 0 or onsets[-1] >= ticks or any(b <= a for a, b in pairwise(onsets)):
            continue
        bent = [(onset - place(spot)) / size for onset, spot in zip(onsets, spots, strict=True)]
        cost = cost * (5 if ragged else 1) + sum(one * one for one in bent) / len(bent)
        if best is None or cost < best[0]:
            best = cost, onsets
    return best


def _anchors(piece: Piece, head: BarHead) -> list[tuple[int, int]]:
    """Columns whose tick the count above says, in order."""
    numbers = [int(word) for _, word in piece.counted if word.isdigit()]
    if len(numbers) < 2:
        return []
    units = max(numbers) > len(head.beats)
    starts = head.beat_starts
    found: list[tuple[int, int]] = []
    beat = 0
    for at, word in piece.counted:
        if word.isdigit():
            beat = int(word)
        number = beat - 1
        size = head.meter.unit_ticks if units else head.beats[min(max(0, number), len(starts) - 1)]
        if not units and not 0 <= number < len(starts):
            return []
        tick = (number * size if units else starts[number]) + size * _PARTS.get(word, 0) // 4
        if word != "." and 0 <= tick < head.ticks and (not found or (at, tick) > found[-1]):
            if found and (at <= found[-1][0] or tick <= found[-1][1]):
                return []
            found.append((at, tick))
    return [*found, (max(piece.width, found[-1][0] + 1), head.ticks)] if len(found) > 1 else []


def _between(anchors: list[tuple[int, int]]) -> Callable[[int], float]:
    def place(spot: int) -> float:
        index = min(max(0, bisect_right(anchors, (spot, 10**9)) - 1), len(anchors) - 2)
        (at, tick), (ahead, later) = anchors[index], anchors[index + 1]
        return max(0.0, tick + (spot - at) * (later - tick) / (ahead - at))

    return place
