"""Staves cut into bars, and the strings of a bar read sign by sign.

Conventions
-----------
- Positions in a bar count characters from behind its bar line, for lanes and strings alike. Where
  the bar lines of the strings do not stand under one another, each string is cut at its own, and
  its bar is stretched to the width of the widest.
- A bar's ``pieces`` are more than one where it goes on in the next line (``+``).
"""

from __future__ import annotations

import re
from collections import Counter
from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.heads import read_meter
from chalkfret.files.text_tab.lengths import ticks_of
from chalkfret.files.text_tab.lines import ENDING, TIMES, spans_at, words_at, words_behind
from chalkfret.files.text_tab.marks import Cell, cell_at, core_at
from chalkfret.files.text_tab.staves import Staff
from chalkfret.model import Fault, Mark, Meter, Sign, Tremolo, Vibrato, fault, in_order
from chalkfret.model.limits import TIMES_MAX

_SIGN: Final = re.compile(r"[:*o]*[|][|:*o]*")
_SPAN_MARKS: Final[dict[str, Mark]] = {
    "PM": Sign.PALM_MUTE, "ring": Sign.LET_RING, "TP": Tremolo(3),
}  # fmt: skip
_STROKES: Final = {"d": Sign.DOWN_STROKE, "n": Sign.DOWN_STROKE,
                   "u": Sign.UP_STROKE, "v": Sign.UP_STROKE}  # fmt: skip


class Piece(Struct):
    """A bar's share of a line: the cells of each string, and what stands above."""

    strings: list[str]
    cells: list[list[Cell]]
    width: int
    ragged: bool = False
    lengths: list[tuple[int, int]] = []  # position, ticks
    counted: list[tuple[int, str]] = []
    above: list[tuple[int, int, Mark]] = []  # first and last position
    rests: list[int] = []


class RawBar(Struct):
    """A bar as it was typed."""

    line: int
    pieces: list[Piece]
    opens: bool = False
    closes: int = 0  # times in all; 0: no sign
    passes: tuple[int, ...] = ()
    meter: tuple[Meter, tuple[int, ...]] | None = None
    is_pickup: bool = False
    goes_on: bool = False  # in the next line
    went_on: bool = False  # from the line before


class _Cut(Struct):
    """A string's bar lines: where each begins and ends with its dots, and where its ``|`` is."""

    starts: list[int]
    ends: list[int]
    bars: list[int]
    signs: list[str]


def bars_of(staff: Staff, faults: list[Fault]) -> list[RawBar]:
    """The bars of a staff, and what could not be read of it."""
    texts, tails = _without_tails(staff)
    came = all(t.lstrip().startswith("+") for t in texts)
    goes = all(t.endswith("+") for t in texts)
    texts = [_framed(t, line.start) for t, line in zip(texts, staff.strings, strict=True)]
    cuts = _cuts(staff, texts, faults)
    aligned = all(len({cut.bars[at] for cut in cuts}) == 1 for at in range(len(cuts[0].bars)))
    bars: list[RawBar] = []
    for at in range(len(cuts[0].bars) - 1):
        bar = _bar(staff, texts, cuts, at, aligned, faults)
        if bar is None:
            continue
        before = "".join(cut.signs[at][cut.signs[at].find("|") :] for cut in cuts)
        behind = "".join(cut.signs[at + 1].partition("|")[0] for cut in cuts)
        bar.opens = any(sign in before for sign in ":*o")
        closing = any(sign in behind for sign in ":*o")
        if closing:
            bar.closes = bar.closes or 2
        elif bar.closes and not (goes and at == len(cuts[0].bars) - 2):
            bar.opens = True  # x4 over a bar without signs means this bar
        bars.append(bar)
    if bars:
        bars[0].went_on, bars[-1].goes_on = came, goes
    _repeat_by_tail(bars, tails)
    return bars


def _cuts(staff: Staff, texts: list[str], faults: list[Fault]) -> list[_Cut]:
    """Where each string is cut; one with another number of bars than most is cut as most are."""
    cuts = [_cut(text) for text in texts]
    counts = Counter(len(cut.bars) for cut in cuts)
    most = max(counts, key=lambda count: (counts[count], count))
    lead = next(cut for cut in cuts if len(cut.bars) == most)
    for index, cut in enumerate(cuts):
        if len(cut.bars) != most:
            faults.append(fault("tab_bars_differ", line=staff.strings[index].number,
                                have=len(cut.bars) - 1, need=most - 1))  # fmt: skip
            cuts[index] = lead
    return cuts


def _without_tails(staff: Staff) -> tuple[list[str], list[int]]:
    """The strings without what is said behind their last bar line, and how often that says.

    All columns are one more than in the line, so that there is one before the first.
    """
    texts, times = [], []
    for line in staff.strings:
        text = " " * (line.start + 1) + line.text[line.start :]
        cut = words_behind(text)
        if (match := TIMES.fullmatch(text[cut:].strip())) is not None:
            times.append(int(next(filter(None, match.groups()))))
        texts.append(text[:cut].rstrip())
    return texts, times


def words_at_the_end(staff: Staff) -> list[tuple[int, str]]:
    """The lines behind whose last bar line words stand, and the words."""
    found = [(line.number, line.text[words_behind(line.text) :].strip()) for line in staff.strings]
    return [(number, text) for number, text in found if text and not TIMES.fullmatch(text)]


def _repeat_by_tail(bars: list[RawBar], tails: list[int]) -> None:
    """``x4`` behind a line: what its signs frame, or else the whole line, so often."""
    times = next((t for t in tails if 1 < t <= TIMES_MAX), 0)
    if not (bars and times):
        return
    if not bars[-1].closes and not any(bar.opens for bar in bars):
        bars[0].opens = True
    bars[-1].closes = times


def _framed(text: str, start: int) -> str:
    """The string with a bar line at both ends, of its own or put there for the page's edge."""
    at = start + 1
    if text.startswith("+", at):
        text = text[:at] + "|" + text[at + 1 :]
    elif not _SIGN.match(text, at):
        text = text[: at - 1] + "|" + text[at:]
    if text.endswith("+"):
        return text[:-1] + "|"
    return text if re.search(r"\|[:*o|]*$", text[at:]) else text + "|"


def _cut(text: str) -> _Cut:
    found = _Cut([], [], [], [])
    for match in _SIGN.finditer(text):
        found.starts.append(match.start())
        found.ends.append(match.end())
        found.bars.append(match.start() + match[0].find("|"))
        found.signs.append(match[0])
    if len(found.bars) == 1:  # nothing stands between two bar lines
        for row in (found.starts, found.ends, found.bars):
            row.append(len(text))
        found.signs.append("|")
    return found


def _bar(
    staff: Staff, texts: list[str], cuts: list[_Cut], at: int, aligned: bool, faults: list[Fault]
) -> RawBar | None:
    if aligned:
        first, stop = min(c.ends[at] for c in cuts), max(c.starts[at + 1] for c in cuts)
        edges = [(first, stop)] * len(cuts)
    else:
        edges = [(cut.ends[at], cut.starts[at + 1]) for cut in cuts]
    inner = [text[first:stop] for text, (first, stop) in zip(texts, edges, strict=True)]
    width = max(map(len, inner))
    if not width:
        return None
    piece = Piece(inner, [], width, ragged=len(set(map(len, inner))) > 1)
    for line, text, (first, _) in zip(staff.strings, inner, edges, strict=True):
        cells, rests = scan(text, line.number, first, faults)
        if piece.ragged and text:
            cells = [_stretched(cell, width / len(text)) for cell in cells]
        piece.cells.append(cells)
        piece.rests += rests
    bar = RawBar(staff.strings[0].number, [piece])
    _take_lanes(staff, bar, piece, edges[0][0], (cuts[0].bars[at], cuts[0].bars[at + 1]))
    return bar


def _stretched(cell: Cell, factor: float) -> Cell:
    at = round(cell.at * factor)
    return Cell(
        at, at + cell.end - cell.at, cell.fret, cell.marks, cell.bend, cell.brackets, cell.slide
    )


def _take_lanes(
    staff: Staff, bar: RawBar, piece: Piece, origin: int, edges: tuple[int, int]
) -> None:
    low, high = edges
    for kind, line in staff.lanes:
        if kind == "spans":
            for name, first, last in spans_at(line.text):
                if last + 1 >= low and first + 1 < high:
                    piece.above.append((first + 1 - origin, last + 1 - origin, _SPAN_MARKS[name]))
            continue
        for at, word in words_at(line.text):
            if not low <= at + 1 < high:
                continue
            here = at + 1 - origin
            if kind == "rhythm":
                piece.lengths.append((here, ticks_of(word) or 0))
            elif kind == "count":
                here += word.startswith("(")
                piece.counted.append((here, word.strip("()").lower()))
                if word.startswith("("):  # counted, not played
                    piece.rests.append(here)
            elif kind == "strokes":
                mark = _STROKES[word.lower()] if word != "V" else Sign.UP_STROKE
                piece.above.append((here, here, mark))
            elif kind in (">", "."):
                piece.above.append((here, here, Sign.ACCENT if kind == ">" else Sign.STACCATO))
            else:
                _take_bar_word(bar, word)


def _take_bar_word(bar: RawBar, word: str) -> None:
    if word == "pickup":
        bar.is_pickup = True
    elif (meter := read_meter(word)) is not None:
        bar.meter = meter
    elif (match := TIMES.fullmatch(word)) is not None:
        bar.closes = min(TIMES_MAX, int(next(filter(None, match.groups()))))
    elif (match := ENDING.fullmatch(word)) is not None:
        bar.passes = _passes(match[1])


def _passes(text: str) -> tuple[int, ...]:
    out: list[int] = []
    for word in text.split(","):
        first, dash, last = word.partition("-")
        numbers = range(int(first), int(last) + 1) if dash else [int(first)]
        out += [n for n in numbers if n >= 1]
    return tuple(out[:64])


def scan(text: str, line: int, shift: int, faults: list[Fault]) -> tuple[list[Cell], list[int]]:
    """The cells of a string's bar, and where rests are marked.

    ``shift`` is the column of its first character, from 1.
    """
    cells: list[Cell] = []
    rests: list[int] = []
    pending, pending_at, at = "", 0, 0
    unread = ""

    def say_unread(stop: int) -> None:
        if unread.strip():
            faults.append(fault("tab_sign_unread", line=line,
                                column=shift + stop - len(unread), text=unread[:40]))  # fmt: skip

    while at < len(text):
        sign = text[at]
        match = core_at(text, at)
        if match is not None and match.start() == at:
            say_unread(at)
            unread = ""
            cell = cell_at(text, match, pending)
            cells.append(cell)
            pending, at = "", max(cell.end, at + 1)
            continue
        if sign in "hptsHPTS/\\":
            if not pending:
                pending_at = at
            pending += sign
        elif sign in "rR":
            rests.append(at)
        elif sign in "~vV" and cells and not unread:
            marks = in_order((*cells[-1].marks, Vibrato(wide=sign == "V")))
            cells[-1] = Cell(cells[-1].at, cells[-1].end, cells[-1].fret, marks, cells[-1].bend,
                             cells[-1].brackets, cells[-1].slide)  # fmt: skip
        elif sign not in "-= :*|o.+(" or (sign == "(" and core_at(text, at + 1) is None):
            unread += sign
            at += 1
            continue
        say_unread(at)
        unread = ""
        at += 1
    say_unread(at)
    if pending:
        faults.append(fault("tab_sign_unread", line=line, column=shift + pending_at,
                            text=pending[:40]))  # fmt: skip
    return cells, rests
