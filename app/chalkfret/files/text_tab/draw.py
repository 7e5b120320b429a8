"""A bar as characters: its columns, a line a string, and what stands above them.

Conventions
-----------
- Columns are shared by all parts, so that what sounds together stands together.
- A bar begins with one ``-`` behind its bar line and ends with at least one before the next.
- Positions count characters from the bar's first one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.heads import meter_text
from chalkfret.files.text_tab.lengths import words
from chalkfret.files.text_tab.marks import BEHIND, cell_text
from chalkfret.model import Bar, BarHead, Mark, Note, Notes, Sign

_TIGHT: Final = 34  # characters up to which a bar's columns are spaced by their lengths
LANES: Final = ("bars", "count", "rhythm", "let ring", "PM", "TP", "strokes", ">", ".")
_SPANS: Final[dict[str, tuple[str, Mark]]] = {
    "let ring": ("L", Sign.LET_RING), "PM": ("m", Sign.PALM_MUTE), "TP": ("z3", BEHIND["z3"]),
}  # fmt: skip
_POINTS: Final[dict[str, dict[str, Mark]]] = {
    "strokes": {"d": Sign.DOWN_STROKE, "u": Sign.UP_STROKE},
    ">": {">": Sign.ACCENT},
    ".": {".": Sign.STACCATO},
}


class Row(Struct, frozen=True):
    """A part's share in a bar: what stands in each lane, and a line a string."""

    lanes: Mapping[str, str]
    strings: tuple[str, ...]


class Picture(Struct, frozen=True):
    """A bar, or a piece of one that is wider than a page: a row a part, all of one width."""

    width: int
    rows: tuple[Row, ...]


class _Cell(Struct, frozen=True):
    note: Note
    before: str
    rest: str


class _PartBar(Struct, frozen=True):
    """A part's events by tick with their length words, its cells, and the marks above them."""

    events: dict[int, str]
    cells: dict[tuple[int, int], _Cell]  # by tick and course
    above: dict[int, frozenset[Mark]]
    courses: int


def pictures(
    bar: Bar, before: Bar | None, courses: tuple[int, ...], is_first: bool, most: int
) -> list[Picture]:
    """The bar in one picture, or in several where it is wider than ``most`` characters."""
    parts = [
        _part_bar(notes, None if before is None else before.notes[part], bar.head,
                  None if before is None else before.head.ticks, courses[part])
        for part, notes in enumerate(bar.notes)
    ]  # fmt: skip
    ticks = sorted({tick for part in parts for tick in part.events})
    meter = None if before is None else (before.head.meter, before.head.grouping)
    lane = _bar_words(bar.head, is_first or meter == (bar.head.meter, bar.head.grouping))
    left = {tick: max((len(cell.before) for part in parts for (at, _), cell in part.cells.items()
                       if at == tick), default=0) for tick in ticks}  # fmt: skip
    widths = _widths(parts, ticks, left, bar.head.ticks)
    out = []
    for group in _pieces(ticks, widths, most):
        first = group[0] == 0
        out.append(_picture(bar.head, parts, group, left, widths, lane if first else ("", "")))
    return out


def _part_bar(
    notes: Notes, earlier: Notes | None, head: BarHead, earlier_ticks: int | None, courses: int
) -> _PartBar:
    edges = {0, *(n.onset for n in notes), *(n.end for n in notes)} - {head.ticks}
    events: dict[int, str] = {}
    for tick, after in pairwise((*sorted(edges), head.ticks)):
        for word, size in words(after - tick):
            events[tick] = word
            tick += size
    ended: dict[tuple[int, int], Note] = {
        (n.course, 0): n for n in earlier or () if n.end == earlier_ticks
    }
    ended |= {(n.course, n.end): n for n in notes}
    above = {tick: _above([n for n in notes if n.onset == tick]) for tick in events}
    cells = {}
    for note in notes:
        lead = ended.get((note.course, note.onset))
        texts = cell_text(note, lead, above[note.onset])
        cells[note.onset, note.course] = _Cell(note, *texts)
    return _PartBar(events, cells, above, courses)


def _above(struck: list[Note]) -> frozenset[Mark]:
    """The marks that all notes struck together have."""
    return frozenset(m for m in BEHIND.values() if struck and all(m in n.marks for n in struck))


def _widths(
    parts: list[_PartBar], ticks: list[int], left: dict[int, int], end: int
) -> dict[int, int]:
    """The width of each column: as its length asks where the bar stays narrow, never too little."""
    need: dict[int, int] = {}
    for tick in ticks:
        texts = [len(c.rest) for p in parts for (at, _), c in p.cells.items() if at == tick]
        texts += [len(part.events[tick]) for part in parts if tick in part.events]
        need[tick] = left[tick] + max(texts) + 1
    spans = {tick: after - tick for tick, after in pairwise((*ticks, end))}
    scale = max(need[tick] / spans[tick] for tick in ticks)
    scale = min(scale, _TIGHT / end)
    return {tick: max(need[tick], int(scale * spans[tick])) for tick in ticks}


def _pieces(ticks: list[int], widths: dict[int, int], most: int) -> list[list[int]]:
    groups: list[list[int]] = [[]]
    wide = 1
    for tick in ticks:
        if groups[-1] and wide + widths[tick] > most:
            groups.append([])
            wide = 1
        groups[-1].append(tick)
        wide += widths[tick]
    return groups


def _bar_words(head: BarHead, same_meter: bool) -> tuple[str, str]:
    """What is said of the bar at its beginning, and at its end."""
    said = [] if same_meter else [meter_text(head)]
    if head.pickup is not None:
        said.append("pickup")
    if head.passes:
        said.append(f"[{','.join(map(str, head.passes))}.]")
    return " ".join(said), f"x{head.repeat_close}" if head.repeat_close not in (0, 2) else ""


def _picture(
    head: BarHead, parts: list[_PartBar], ticks: list[int], left: dict[int, int],
    widths: dict[int, int], said: tuple[str, str],
) -> Picture:  # fmt: skip
    places, at = {}, 1
    for tick in ticks:
        places[tick] = at + left[tick]
        at += widths[tick]
    begin, end = said
    width = max(at, len(begin) + len(end) + 2)
    bars = begin + end.rjust(width - len(begin) - 1)
    rows = []
    for index, part in enumerate(parts):
        lanes = _lanes(part, places)
        if not index:
            lanes["bars"] = bars
            lanes["count"] = _count(head, places, width)
        rows.append(Row({name: text for name, text in lanes.items() if text.strip()},
                        _strings(part, places, left, width)))  # fmt: skip
    return Picture(width, tuple(rows))


def _strings(
    part: _PartBar, places: dict[int, int], left: dict[int, int], width: int
) -> tuple[str, ...]:
    lines = []
    for course in range(1, part.courses + 1):
        signs = ["-"] * width
        for tick, place in places.items():
            cell = part.cells.get((tick, course))
            if cell is not None:
                _put(signs, place - len(cell.before), cell.before + cell.rest)
        for note in (cell.note for (_, on), cell in part.cells.items() if on == course):
            _hold(signs, part, places, left, note)
        lines.append("".join(signs))
    return tuple(lines)


def _put(signs: list[str], at: int, text: str) -> None:
    signs[at : at + len(text)] = text


def _hold(
    signs: list[str], part: _PartBar, places: dict[int, int], left: dict[int, int], note: Note
) -> None:
    """Draw a note that goes on below the next lengths of its part as a line of ``=``."""
    over = [tick for tick in part.events if note.onset < tick < note.end]
    shown = [tick for tick in over if tick in places]
    if not shown:
        return
    start = places.get(note.onset, 0)
    later = [place - left[tick] for tick, place in places.items() if tick >= note.end]
    stop = min(later, default=len(signs) - 1)
    for at in range(start, max(stop, places[shown[-1]] + 1)):
        if signs[at] == "-" and (at > start or note.onset not in places):
            signs[at] = "="


def _lanes(part: _PartBar, places: dict[int, int]) -> dict[str, str]:
    lanes = {"rhythm": _words_at((place, part.events[tick]) for tick, place in places.items()
                                 if tick in part.events)}  # fmt: skip
    struck = sorted({tick for tick, _ in part.cells if tick in places})
    for name, (_sign, mark) in _SPANS.items():
        lanes[name] = _spans(name, [(places[t], mark in part.above[t]) for t in struck])
    for name, points in _POINTS.items():
        lanes[name] = _words_at(
            (places[tick], sign)
            for tick in struck
            for sign, mark in points.items()
            if mark in part.above[tick]
        )
    return lanes


def _words_at(placed: Iterable[tuple[int, str]]) -> str:
    line = ""
    for at, word in placed:
        line = line.ljust(at) + word
    return line


def _spans(name: str, struck: list[tuple[int, bool]]) -> str:
    """``PM--|`` over each run of columns that have the mark."""
    line, index = "", 0
    while index < len(struck):
        if not struck[index][1]:
            index += 1
            continue
        first = last = struck[index][0]
        while index < len(struck) and struck[index][1]:
            last = struck[index][0]
            index += 1
        size = last - first
        word = name if len(name) < size or name != "let ring" else "LR"
        text = word if first == last else word + "-" * (size - len(word)) + "|"
        line = line.ljust(first) + text
    return line


def _count(head: BarHead, places: dict[int, int], width: int) -> str:
    """The beats by number where they fall, and ``+`` where a column stands halfway."""
    ticks = sorted(places)
    known = [*((tick, places[tick]) for tick in ticks)]
    line = ""
    shift = head.meter.ticks - head.ticks  # a pickup is counted as the end of its bar
    full = BarHead(meter=head.meter, grouping=head.grouping)
    for number, (start, beat) in enumerate(zip(full.beat_starts, full.beats, strict=True), 1):
        for tick, word in ((start - shift, str(number)), (start - shift + beat // 2, "+")):
            at = _place(known, tick, head.ticks, width) if tick >= 0 else None
            if at is None or (word == "+" and tick not in places):
                continue
            if line and at <= len(line):
                return line if word == "+" else ""  # no room for every beat: no count
            line = line.ljust(at) + word
    return line


def _place(known: list[tuple[int, int]], tick: int, end: int, width: int) -> int | None:
    index = bisect_right(known, (tick, width)) - 1
    if index < 0 or tick >= end:
        return None
    start, at = known[index]
    if tick == start:
        return at
    if index + 1 == len(known):
        return None if known[0][0] else at + (tick - start) * (width - at) // (end - start)
    after, ahead = known[index + 1]
    return at + (tick - start) * (ahead - at) // (after - start)
