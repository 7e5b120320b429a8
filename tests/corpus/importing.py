"""A score as music21 reads it becomes a lesson: bars, meters, pickups, repeats, ties, tuplets.

Placing is as plain as can be: each note on the free string with the lowest fret. What the strings
or the lesson cannot hold is listed with its place and reason, never dropped silently.
"""

from __future__ import annotations

from bisect import bisect_right
from fractions import Fraction
from typing import Any, NamedTuple

from chalkfret.model import (
    QUARTER,
    Bar,
    BarHead,
    Bars,
    Lesson,
    LessonHead,
    Meter,
    Note,
    Section,
    SectionHead,
    Setup,
    Sign,
    Tempo,
)
from chalkfret.model.limits import METER_COUNT_MAX
from chalkfret.model.pitch import midi_of
from tests.builder import part, tuned
from tests.corpus.pieces import Piece

FRETS = 24
GRACE = "grace note"
TIED = "tied to a note that is not placed"


class Unplaced(NamedTuple):
    """A note that the lesson does not carry: where it stands and why."""

    part: str
    bar: int
    pitch: str
    why: str
    tick: int  # from the beginning of the score
    midi: int


class Imported(NamedTuple):
    """The lesson, what it does not carry, and how many notes the score has."""

    lesson: Lesson
    unplaced: tuple[Unplaced, ...]
    notes: int


def import_score(score: Any, piece: Piece) -> Imported:
    """The score's parts on the piece's tunings, all in one section."""
    parts = list(score.parts)
    heads, starts = _bars(parts[0])
    tunings = (*piece.tunings, *[piece.tunings[-1]] * len(parts))
    setups = [tuned(names, fret_count=FRETS) for names in tunings[: len(parts)]]
    names = [f"Part {number}" for number in range(1, len(parts) + 1)]
    rows, unplaced, count = [], [], 0
    for name, one, setup in zip(names, parts, setups, strict=True):
        placing = _Placing(name, setup, heads, starts)
        placing.put_all(one.flatten().notes)
        rows.append(placing.rows)
        unplaced += placing.unplaced
        count += placing.count
    bars = [
        Bar(head, tuple(tuple(sorted(row[at], key=lambda n: (n.onset, n.course))) for row in rows))
        for at, head in enumerate(heads)
    ]
    section = Section("s-a", SectionHead("A", piece.title, Tempo(120.0)), Bars.of(bars))
    made = Lesson(
        LessonHead(title=piece.title),
        tuple(part(name, setup) for name, setup in zip(names, setups, strict=True)),
        (section,),
    )
    return Imported(made, tuple(unplaced), count)


def _bars(line: Any) -> tuple[list[BarHead], list[int]]:
    """The heads of all bars, and the tick at which each begins, with one for the end."""
    measures = list(line.getElementsByClass("Measure"))
    starts = [_ticks(one.offset) for one in measures]
    starts.append(_ticks(measures[-1].offset + measures[-1].duration.quarterLength))
    meter = Meter(4, 4)
    heads = []
    endings = _endings(line)
    for at, one in enumerate(measures):
        if one.timeSignature is not None:
            meter = Meter(one.timeSignature.numerator, one.timeSignature.denominator)
        length = starts[at + 1] - starts[at]
        here = meter if length <= meter.ticks else _meter(length)
        left, right = one.leftBarline, one.rightBarline
        heads.append(
            BarHead(
                meter=here,
                pickup=None if length == here.ticks else length,
                repeat_open=getattr(left, "direction", None) == "start",
                repeat_close=(right.times or 2)
                if getattr(right, "direction", None) == "end"
                else 0,
                passes=endings.get(one.id, ()),
            )
        )
    return heads, starts


def _endings(line: Any) -> dict[Any, tuple[int, ...]]:
    """The passes of each measure that stands under an ending's bracket, by the measure's id."""
    return {
        measure.id: tuple(number or 1 for number in bracket.numberRange)  # a first one says none
        for bracket in line.recurse().getElementsByClass("RepeatBracket")
        for measure in bracket.getSpannedElements()
    }


def _meter(length: int) -> Meter:
    """The meter of a bar that is longer than its time signature says."""
    for unit in (4, 8, 16, 32):
        count, rest = divmod(length, 4 * QUARTER // unit)
        if not rest and count <= METER_COUNT_MAX:
            return Meter(count, unit)
    raise ValueError(length)


def _ticks(quarters: Any) -> int:
    exact = Fraction(quarters) * QUARTER
    if exact.denominator != 1:
        raise ValueError(f"{quarters} quarters are no whole ticks")
    return int(exact)


class _Struck(NamedTuple):
    """One note of the score, in the order in which notes are placed: what goes on comes first."""

    start: int
    attack: bool
    depth: int  # lower notes later
    end: int
    one: Any
    bar: int


class _Placing:
    """Notes of one part on its strings, in the order in which they come."""

    def __init__(self, name: str, setup: Setup, heads: list[BarHead], starts: list[int]) -> None:
        self.name, self.starts = name, starts
        self.open = [midi_of(course.strings[0].pitch) for course in setup.courses]
        self.rows: list[list[Note]] = [[] for _ in heads]
        self.unplaced: list[Unplaced] = []
        self.count = 0
        self.busy = [0] * len(self.open)  # until when each string sounds
        self.held: dict[tuple[int, int], list[int]] = {}  # pitch, end: strings, -1 unplaced

    def put_all(self, elements: Any) -> None:
        """The notes and chords of the part."""
        struck: list[_Struck] = []
        for element in elements:
            if "ChordSymbol" in element.classes:
                continue  # a name above the staff, no notes
            for one in element.notes if element.isChord else (element,):
                self.count += 1
                struck += self._timed(element, one)
        for one in sorted(struck, key=lambda each: each[:3]):
            self._place(one)

    def _timed(self, element: Any, one: Any) -> list[_Struck]:
        bar = element.measureNumber or 0
        start = _ticks(element.offset)
        if element.duration.isGrace or not element.duration.quarterLength:
            self._miss(bar, one, GRACE, start)
            return []
        end = start + _ticks(element.duration.quarterLength)
        goes_on = one.tie is not None and one.tie.type in ("stop", "continue")
        return [_Struck(start, not goes_on, -one.pitch.midi, end, one, bar)]

    def _place(self, struck: _Struck) -> None:
        start, attack, depth, end, one, bar = struck
        pitch = -depth
        before = [] if attack else self.held.get((pitch, start), [])
        tie = bool(before)  # the corpus also ties different pitches: slurs
        string = before.pop() if tie else -1
        if tie and string < 0:
            self._hold(one, end, -1)
            self._miss(bar, one, TIED, start)
            return
        if not tie:
            free = [
                (pitch - low, string)
                for string, low in enumerate(self.open)
                if self.busy[string] <= start and 0 <= pitch - low <= FRETS
            ]
            if not free:
                self._hold(one, end, -1)
                reach = any(0 <= pitch - low <= FRETS for low in self.open)
                self._miss(bar, one, "no string is free" if reach else "out of reach", start)
                return
            string = min(free)[1]
        self.busy[string] = end
        self._hold(one, end, string)
        self._write(start, end, string, pitch - self.open[string], tie)

    def _hold(self, one: Any, end: int, string: int) -> None:
        """Remember the string of a note that a tie leads on from."""
        if one.tie is not None and one.tie.type in ("start", "continue"):
            self.held.setdefault((int(one.pitch.midi), end), []).append(string)

    def _write(self, start: int, end: int, string: int, fret: int, tie: bool) -> None:
        """Into the bars it sounds in, tied over each bar line."""
        bar = bisect_right(self.starts, start) - 1
        while self.starts[bar] < end:
            first, last = self.starts[bar], self.starts[bar + 1]
            onset = max(start, first)
            marks = (Sign.TIE,) if tie or onset > start else ()
            length = min(end, last) - onset
            self.rows[bar].append(Note(onset - first, length, string + 1, fret, marks=marks))
            bar += 1

    def _miss(self, bar: int, one: Any, why: str, start: int) -> None:
        name, midi = one.pitch.nameWithOctave, int(one.pitch.midi)
        self.unplaced.append(Unplaced(self.name, bar, name, why, start, midi))
