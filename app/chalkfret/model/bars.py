"""Notes, bars, and long runs of bars.

Conventions
-----------
- Onsets and lengths are ticks (``meter.QUARTER`` a quarter) from the bar line; a note ends within
  its bar, and one that sounds across a bar line goes on as a tied note in the next bar.
- Notes of a part stand in order of onset, then of course; at most one note starts at a time on a
  course.
- ``Bar.notes`` has one tuple of notes for each part of the lesson, in the lesson's order of parts.
- Frets count from the nut, or from the capo where it covers the course.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from enum import StrEnum
from typing import Annotated, Final, Literal, TypeVar

from msgspec import Meta, field
from msgspec.structs import replace

from chalkfret.model import limits
from chalkfret.model.marks import Mark, Sign
from chalkfret.model.meter import COMMON_TIME, Meter, bar_steps, beat_lengths, beat_starts
from chalkfret.model.pitch import NoteName
from chalkfret.model.value import Figures, Value

M = TypeVar("M")


class Note(Value, frozen=True, omit_defaults=True, gc=False):
    """One note: where it starts, how long it lasts, where it is fretted, and how."""

    onset: limits.Ticks
    length: limits.Length
    course: limits.CourseNumber
    fret: limits.Fret
    voice: Annotated[int, Meta(ge=0, lt=limits.VOICES_MAX)] = 0
    spelling: NoteName | None = None  # the teacher's wish; its octave follows from the pitch
    marks: Annotated[tuple[Mark, ...], Meta(max_length=24)] = ()

    @property
    def end(self) -> int:
        """The tick at which the note ends."""
        return self.onset + self.length

    def has(self, sign: Sign) -> bool:
        """Whether the note carries this sign."""
        return sign in self.marks

    def mark(self, kind: type[M]) -> M | None:
        """The note's first mark of this kind, or None: ``note.mark(Bend)``."""
        for mark in self.marks:
            if isinstance(mark, kind):
                return mark
        return None


Notes = tuple[Note, ...]


class PauseKind(StrEnum):
    """A fermata holds what sounds; a break is silence."""

    FERMATA = "fermata"
    BREAK = "break"


class Pause(Figures, frozen=True):
    """Time stands still at ``tick`` of the bar for so many seconds."""

    tick: limits.Ticks
    kind: PauseKind
    seconds: limits.Seconds


class BarHead(Value, frozen=True, omit_defaults=True, weakref=True, cache_hash=True):
    """What all parts share in a bar."""

    # A plain default would be left out of the file by identity, so equal heads would be written
    # differently: the meter always stands there.
    meter: Meter = field(default_factory=lambda: COMMON_TIME)
    # Units of each beat; () the usual ones.
    grouping: Annotated[tuple[limits.MeterCount, ...], Meta(max_length=32)] = ()
    pickup: limits.Length | None = None  # ticks of an incomplete bar
    # Steps of each beat; () the usual ones.
    steps: Annotated[tuple[limits.Steps, ...], Meta(max_length=32)] = ()
    repeat_open: bool = False
    repeat_close: Annotated[int, Meta(ge=0, le=limits.TIMES_MAX)] = 0  # times in all; 0: no sign
    # Played only in these passes of the repeat that the bar stands in (outside of one: of the
    # section); () in all.
    passes: Annotated[tuple[limits.Pass, ...], Meta(max_length=64)] = ()
    pauses: Annotated[tuple[Pause, ...], Meta(max_length=16)] = ()
    simile: bool = False  # the sheet prints the sign for "as the bar before" where it is true
    join_rests: bool = False  # the sheet may join this empty bar with its neighbours
    break_after: Literal["system", "page"] | None = None

    @property
    def ticks(self) -> int:
        """Length of the bar in ticks."""
        return self.meter.ticks if self.pickup is None else self.pickup

    @property
    def beats(self) -> tuple[int, ...]:
        """Ticks of each beat."""
        return beat_lengths(self.meter, self.grouping, self.pickup)

    @property
    def beat_starts(self) -> tuple[int, ...]:
        """Tick of each beat's beginning."""
        return beat_starts(self.meter, self.grouping, self.pickup)

    @property
    def step_spans(self) -> tuple[tuple[int, int], ...]:
        """Onset and length in ticks of each step of the grid."""
        return bar_steps(self.beats, self.steps)


PLAIN_HEAD: Final = BarHead()


class Bar(Value, frozen=True, weakref=True, cache_hash=True):
    """A bar: its head and, for each part of the lesson, its notes."""

    head: BarHead
    notes: tuple[Notes, ...]


CHUNK: Final = 64


class Bars(Value, frozen=True, cache_hash=True):
    """An immutable run of bars, held in chunks of 64.

    An edit of one bar copies one chunk and the short list of chunks, so ten thousand remembered
    lessons of two thousand bars share nearly everything. Every chunk but the last is full: equal
    runs are equal values whatever edits led to them. Build with ``Bars.of``.
    """

    chunks: tuple[tuple[Bar, ...], ...]

    @staticmethod
    def of(bars: Iterable[Bar]) -> Bars:
        """The run of these bars."""
        run = tuple(bars)
        return Bars(tuple(run[at : at + CHUNK] for at in range(0, len(run), CHUNK)))

    def __len__(self) -> int:
        return 0 if not self.chunks else (len(self.chunks) - 1) * CHUNK + len(self.chunks[-1])

    def __getitem__(self, index: int) -> Bar:
        if not 0 <= index < len(self):
            raise IndexError(index)
        return self.chunks[index // CHUNK][index % CHUNK]

    def __iter__(self) -> Iterator[Bar]:
        for chunk in self.chunks:
            yield from chunk

    def slice(self, start: int, stop: int) -> tuple[Bar, ...]:
        """The bars from ``start`` up to, without, ``stop``."""
        start, stop = max(0, start), min(len(self), stop)
        out: list[Bar] = []
        while start < stop:
            at = start % CHUNK
            taken = self.chunks[start // CHUNK][at : at + stop - start]
            out.extend(taken)
            start += len(taken)
        return tuple(out)

    def with_bars(self, changed: Mapping[int, Bar]) -> Bars:
        """The run with some bars replaced, by index.

        Chunks without a changed bar stay the same objects, and so does the run without any.
        """
        chunks: dict[int, list[Bar]] = {}
        for index, bar in changed.items():
            if self[index] is not bar:
                place, at = divmod(index, CHUNK)
                chunks.setdefault(place, list(self.chunks[place]))[at] = bar
        if not chunks:
            return self
        return Bars(
            tuple(
                tuple(chunks[place]) if place in chunks else chunk
                for place, chunk in enumerate(self.chunks)
            )
        )

    def splice(self, start: int, stop: int, bars: Iterable[Bar]) -> Bars:
        """The run with the bars from ``start`` up to ``stop`` replaced by ``bars``.

        Chunks before ``start`` stay the same objects.
        """
        place = start // CHUNK
        kept = self.chunks[:place]
        tail = (*self.slice(place * CHUNK, start), *bars, *self.slice(stop, len(self)))
        return Bars((*kept, *Bars.of(tail).chunks))


def with_notes(bar: Bar, part: int, notes: Notes) -> Bar:
    """The bar with one part's notes replaced; the same object where they are equal."""
    if bar.notes[part] == notes:
        return bar
    return replace(bar, notes=(*bar.notes[:part], notes, *bar.notes[part + 1 :]))
