"""Rhythm spelling: the notes of a bar as a musician writes them.

``spell`` turns onsets and lengths into symbols that add up to exactly the bar's ticks. Each voice
is read alone: a symbol lasts until the next onset of its voice; a rest stands only where the voice
really is silent. A note that sounds on under later ones is not written twice.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise

from msgspec import Struct

from chalkfret.model import QUARTER, BarHead, Notes
from chalkfret.sheet.metric import Metric, metric_of
from chalkfret.sheet.tuplets import Window, windows
from chalkfret.sheet.values import FLAGS, cheapest_split, nearest, written


class Symbol(Struct, frozen=True):
    """One written note, chord or rest; ``notes`` are indices into the bar's notes of the part."""

    onset: int
    length: int  # real ticks
    value: int  # 1 whole, 2 half ... 64
    dots: int
    notes: tuple[int, ...] = ()  # what starts here; empty for rests and held symbols
    rest: bool = False
    held: bool = False  # goes on from the symbol before
    exact: bool = True  # False: no written value equals the length, this one comes closest


class Tuplet(Struct, frozen=True):
    """Symbols ``first`` to ``last`` stand ``count`` in the time of ``normal``."""

    first: int
    last: int
    count: int
    normal: int


class Rhythm(Struct, frozen=True):
    """One voice of one bar: symbols, tuplets, and beams as runs of symbol indices."""

    voice: int
    symbols: tuple[Symbol, ...]
    tuplets: tuple[Tuplet, ...] = ()
    beams: tuple[tuple[int, ...], ...] = ()

    @property
    def silent(self) -> bool:
        """Whether the voice rests for the whole bar."""
        return len(self.symbols) == 1 and self.symbols[0].rest


class _Span(Struct, frozen=True):
    start: int
    end: int
    notes: tuple[int, ...]
    rest: bool


_Pattern = tuple[tuple[int, int, int], ...]  # onset, length and voice of each note of a bar


def spell(notes: Notes, head: BarHead) -> tuple[Rhythm, ...]:
    """The bar's rhythm, a voice each; a bar without notes is one rest of voice 0."""
    return _spelled(tuple([(note.onset, note.length, note.voice) for note in notes]), head)


@lru_cache(maxsize=8192)
def _spelled(notes: _Pattern, head: BarHead) -> tuple[Rhythm, ...]:
    """Riffs that share their rhythm, on whatever strings, are read once."""
    voices = sorted({voice for _, _, voice in notes}) or [0]
    return tuple(_voice(notes, voice, head) for voice in voices)


def _voice(notes: _Pattern, voice: int, head: BarHead) -> Rhythm:
    spans = _spans(notes, voice, head.ticks)
    if len(spans) == 1 and spans[0].rest:
        return Rhythm(voice, (Symbol(0, head.ticks, 1, 0, rest=True),))
    metric = metric_of(head)
    # A rest ends with each beat it lies over, so that silence is in no tuplet of several beats.
    silent = {
        at for span in spans if span.rest for at in metric.starts if span.start < at < span.end
    }
    edges = sorted({span.start for span in spans} | silent | {head.ticks})
    symbols: list[Symbol] = []
    tuplets: list[Tuplet] = []
    for window in windows(metric, edges):
        first = len(symbols)
        for span in spans:
            start, end = max(span.start, window.start), min(span.end, window.end)
            if start < end:
                symbols += _written(metric, window, span, start, end)
        if window.count:
            tuplets.append(Tuplet(first, len(symbols) - 1, window.count, window.normal))
    return Rhythm(voice, tuple(symbols), tuple(tuplets), _beams(symbols, tuplets, metric))


def _spans(notes: _Pattern, voice: int, ticks: int) -> list[_Span]:
    """The voice as notes and silences without a gap."""
    starts: dict[int, list[int]] = {}
    for index, (onset, _, sounds_in) in enumerate(notes):
        if sounds_in == voice:
            starts.setdefault(onset, []).append(index)
    spans: list[_Span] = []
    at = sounding = 0  # where the last span ends, and how long anything sounds
    for onset, following in pairwise([*starts, ticks]):
        if onset > at:
            spans.append(_Span(at, onset, (), True))
        for index in starts[onset]:
            sounding = max(sounding, onset + notes[index][1])
        at = min(following, sounding)
        spans.append(_Span(onset, at, tuple(starts[onset]), False))
    if at < ticks:
        spans.append(_Span(at, ticks, (), True))
    return spans


def _written(metric: Metric, window: Window, span: _Span, start: int, end: int) -> list[Symbol]:
    """The symbols of the piece of a span that lies in a window."""
    if window.count:
        pieces = _split_in_tuplet(window, start, end)
    else:
        pieces = metric.split(start, end, span.rest)
    exact = pieces is not None
    symbols = []
    for one, two in pieces or ((start, end),):
        length = window.written_ticks(two - one)
        value, dots = written(length) or nearest(length)
        fresh = one == span.start and not span.rest
        symbols.append(
            Symbol(
                one, two - one, value, dots,
                notes=span.notes if fresh else (),
                rest=span.rest,
                held=not fresh and not span.rest,
                exact=exact,
            )
        )  # fmt: skip
    return symbols


def _split_in_tuplet(window: Window, start: int, end: int) -> tuple[tuple[int, int], ...] | None:
    quarter = window.unit // 4 if window.unit % 4 == 0 else window.unit

    def cost(one: int, two: int) -> float | None:
        value = None
        if (two - one) * window.count % window.normal == 0:
            value = written(window.written_ticks(two - one))
        return None if value is None else 1.0 + (0.0, 0.05, 0.9)[value[1]]

    inside = range(window.start, window.end, quarter)
    return cheapest_split([start, *(at for at in inside if start < at < end), end], cost)


def _beams(
    symbols: list[Symbol], tuplets: list[Tuplet], metric: Metric
) -> tuple[tuple[int, ...], ...]:
    """Flagged neighbours of one beat share a beam; rests part them."""
    groups: list[tuple[tuple[int, int], list[int]]] = []
    joined = False
    for index, symbol in enumerate(symbols):
        if symbol.rest or not FLAGS[symbol.value]:
            joined = False
            continue
        beat = metric.beat(symbol.onset)
        inside = symbol.onset - metric.starts[beat]
        long_beat = metric.lengths[beat] in (2 * QUARTER, 4 * QUARTER)
        place = (beat, inside // QUARTER if long_beat else 0)
        if joined and groups[-1][0] == place:
            groups[-1][1].append(index)
        else:
            groups.append((place, [index]))
        joined = True
    in_tuplet = {i for tuplet in tuplets for i in range(tuplet.first, tuplet.last + 1)}
    return tuple(
        tuple(run) for run in _halves_joined(groups, symbols, metric, in_tuplet) if len(run) > 1
    )


def _halves_joined(
    groups: list[tuple[tuple[int, int], list[int]]],
    symbols: list[Symbol],
    metric: Metric,
    in_tuplet: set[int],
) -> list[list[int]]:
    """Four plain eighths of a half bar are beamed together in bars of four quarters."""
    four = metric.lengths == (QUARTER,) * 4
    out: list[tuple[int, list[int]]] = []
    for (beat, _), run in groups:
        pair = len(run) == 2 and all(
            symbols[i].value == 8 and not symbols[i].dots and i not in in_tuplet for i in run
        )
        if (
            four and pair and beat % 2 == 1 and out and out[-1][0] == beat - 1
            and out[-1][1][-1] == run[0] - 1
        ):  # fmt: skip
            out[-1] = (-1, out[-1][1] + run)
        else:
            out.append((beat if pair else -1, run))
    return [run for _, run in out]
