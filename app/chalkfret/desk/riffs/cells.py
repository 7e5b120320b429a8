"""What the grid shows of one part in one bar: notes as bars along their strings, and degrees.

Conventions
-----------
- Columns are counted from the bar's first one and may be fractions.
- What is shown of a bar depends on nothing but the arguments, which are values, and is cached.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby
from typing import NamedTuple

from chalkfret.desk.riffs.columns import column_in_bar, spans_of
from chalkfret.desk.riffs.signs import fret_text, signs_text
from chalkfret.model import BarHead, Key, Note, Notes, Section, Setup, Sign, Slide, SlideWay
from chalkfret.theory.degrees import Role, role
from chalkfret.theory.names import Between, bar_degrees
from chalkfret.theory.naming import degree_shown
from chalkfret.theory.sounding import named_pitch


class NoteCell(NamedTuple):
    """A note to paint: from column ``start`` to ``end`` on its course."""

    start: float
    end: float
    course: int
    fret: str
    signs: str
    role: Role
    tied: bool
    slide: Note | None  # the note itself where it is reached by a slide
    room: float  # the column at which the next note of the string starts, or the bar ends


class DegreeCell(NamedTuple):
    """The degrees that start at a column, low to high; ``until`` is where the next ones start."""

    start: float
    until: float
    text: str
    role: Role


def pitch_of(setup: Setup, note: Note) -> int | None:
    """The MIDI number by which a note is named; None for a dead note."""
    return None if note.has(Sign.DEAD) else named_pitch(setup, note)


@lru_cache(maxsize=256)
def note_cells(notes: Notes, head: BarHead, setup: Setup, key: Key | None) -> tuple[NoteCell, ...]:
    """The notes of a bar on a setup."""
    columns = len(spans_of(head))
    out: list[NoteCell] = []
    next_start: dict[int, float] = {}
    for note in reversed(notes):
        start = column_in_bar(head, note.onset)
        pitch = pitch_of(setup, note)
        end = float(columns) if note.end >= head.ticks else column_in_bar(head, note.end)
        out.append(
            NoteCell(
                start=start,
                end=end,
                course=note.course,
                fret=fret_text(note),
                signs=signs_text(note),
                role=Role.PLAIN if pitch is None else role(pitch, key),
                tied=note.has(Sign.TIE),
                slide=note if Slide(SlideWay.FROM_NOTE) in note.marks else None,
                room=next_start.get(note.course, float(columns)),
            )
        )
        next_start[note.course] = start
    return tuple(reversed(out))


def slides_down(section: Section, bar: int, part: int, note: Note) -> bool:
    """Whether a slide that reaches a note comes from a higher fret: of the note before it on its
    string, in its bar or the one before.
    """
    bars = section.bars
    ahead = [one for one in bars[bar].notes[part] if one.onset < note.onset]
    behind = bars[bar - 1].notes[part] if bar else ()
    on_string = [one for one in (*behind, *ahead) if one.course == note.course]
    return bool(on_string) and on_string[-1].fret > note.fret


@lru_cache(maxsize=256)
def degree_cells(
    notes: Between, head: BarHead, setup: Setup, key: Key | None
) -> tuple[DegreeCell, ...]:
    """The degrees of a bar: at each onset those of the notes struck there, low to high.

    ``notes`` are those of the bar between its neighbours, by which they are named.
    """
    if key is None:
        return ()
    named = zip(notes[1], bar_degrees(notes, setup, key), strict=True)
    struck = [
        (onset, pitches)
        for onset, group in groupby(named, key=lambda one: one[0].onset)
        if (pitches := sorted(set(_struck(group, setup))))
    ]
    ends = [*(onset for onset, _pitches in struck), head.ticks][1:]
    last = float(len(spans_of(head)))
    out = []
    for (onset, pitches), end in zip(struck, ends, strict=True):
        names = dict.fromkeys(degree_shown(degree) for _pitch, degree in pitches)
        until = last if end >= head.ticks else column_in_bar(head, end)
        start = column_in_bar(head, onset)
        out.append(DegreeCell(start, until, " ".join(names), role(pitches[0][0], key)))
    return tuple(out)


def _struck(named: Iterator[tuple[Note, str | None]], setup: Setup) -> Iterator[tuple[int, str]]:
    for note, degree in named:
        if degree is not None and not note.has(Sign.TIE):
            yield named_pitch(setup, note), degree
