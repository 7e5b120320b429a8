"""The degrees and names of the notes on a guitar, bar by bar.

Conventions
-----------
- A bar's notes are named between those of the bar before and the bar after in the same part and
  section (``spelling`` says how); the ends of a section have none.
- A dead note has no pitch: its degree is None. A tied note is the note it goes on from.
"""

from __future__ import annotations

from functools import lru_cache

from chalkfret.model.bars import Note, Notes
from chalkfret.model.marks import Sign
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_pitch
from chalkfret.theory.spelling import Line, degrees

Between = tuple[Notes, Notes, Notes]
"""A part's notes in the bar before, the bar that is meant, and the bar after."""


def between(section: Section, bar: int, part: int) -> Between:
    """A part's notes in a bar, from 0, between those of its neighbours."""
    bars = section.bars
    return (
        bars[bar - 1].notes[part] if bar else (),
        bars[bar].notes[part],
        bars[bar + 1].notes[part] if bar + 1 < len(bars) else (),
    )


def note_degree(section: Section, bar: int, part: int, setup: Setup, note: Note) -> str | None:
    """The degree of one of the notes of a bar: None for a dead one, "" without a key."""
    notes = between(section, bar, part)
    return bar_degrees(notes, setup, section.head.key)[notes[1].index(note)]


@lru_cache(maxsize=256)  # a few screens of bars: an edit makes three, which stay for no other
def bar_degrees(notes: Between, setup: Setup, key: Key | None) -> tuple[str | None, ...]:
    """The degree of each note of the bar that is meant; None for a dead one, "" without a key."""
    if key is None:
        return tuple(None if note.has(Sign.DEAD) else "" for note in notes[1])
    before, here, after = (_line(bar, setup) for bar in notes)
    found = iter(degrees(before, here, after, key))
    return tuple(None if note.has(Sign.DEAD) else next(found) for note in notes[1])


@lru_cache(maxsize=64)
def _line(notes: Notes, setup: Setup) -> Line:
    return tuple(
        (note.onset, named_pitch(setup, note)) for note in notes if not note.has(Sign.DEAD)
    )
