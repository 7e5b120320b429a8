"""The first steps, one after the other: what is asked, and how it is known that it was done.

A step is done when what is seen now differs in the way it wanted from what was seen before the
last change, however the teacher went about it and whatever was done in between. Only where several
things are asked for does it count from what was seen when they were asked. No Qt here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

from msgspec import Struct

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Bar, Lesson, Note
from chalkfret.words.text import N_

Place = tuple[str, int, int, int, int]
"""Of a note: its section's id, bar and part from 0, onset in ticks, course."""


class Seen(Struct, frozen=True):
    """What a coach can see of the desk: the lesson, its file, the cursor, and steps undone."""

    lesson: Lesson
    path: Path | None
    saved: bool
    cursor: Cursor
    undone: int


class Step(Struct, frozen=True):
    """``asks`` names keys by ``{}`` in the order of ``keys``, ids of actions.

    ``done`` holds the desk before the last change against the desk of now; where the step takes
    ``several`` changes, the desk as it was when the step was asked.
    """

    id: str
    asks: str
    keys: tuple[str, ...]
    done: Callable[[Seen, Seen], bool]
    several: bool = False


def _bars(lesson: Lesson) -> Iterator[Bar]:
    for section in lesson.sections:
        yield from section.bars


def _notes(seen: Seen) -> list[Note]:
    return [note for bar in _bars(seen.lesson) for part in bar.notes for note in part]


def _by_place(seen: Seen) -> dict[Place, Note]:
    return {
        (section.id, at, row, note.onset, note.course): note
        for section in seen.lesson.sections
        for at, bar in enumerate(section.bars)
        for row, part in enumerate(bar.notes)
        for note in part
    }


def _both(before: Seen, now: Seen) -> Iterator[tuple[Note, Note]]:
    """The notes that stand where one stood before, as they were and as they are."""
    old, new = _by_place(before), _by_place(now)
    return ((old[place], new[place]) for place in old.keys() & new.keys())


def _chords(seen: Seen) -> int:
    """How often several strings are struck together."""
    count = 0
    for bar in _bars(seen.lesson):
        for part in bar.notes:
            onsets = [note.onset for note in part]
            count += sum(onsets.count(onset) > 1 for onset in set(onsets))
    return count


def _marks(seen: Seen) -> int:
    return sum(len(note.marks) for note in _notes(seen))


def _twins(seen: Seen) -> int:
    """How often a bar with notes stands twice in a row."""
    count = 0
    for section in seen.lesson.sections:
        for one, other in pairwise(section.bars):
            count += any(one.notes) and one.notes == other.notes
    return count


def _wrote(asked: Seen, now: Seen) -> bool:
    return len(_notes(now)) >= len(_notes(asked)) + 2


def _moved(before: Seen, now: Seen) -> bool:
    return now.cursor.course != before.cursor.course


def _struck_together(before: Seen, now: Seen) -> bool:
    return _chords(now) > _chords(before)


def _lengthened(before: Seen, now: Seen) -> bool:
    return any(new.length > old.length for old, new in _both(before, now))


def _shifted(before: Seen, now: Seen) -> bool:
    # A fret that begins with the digits of the last one is that one typed on: 1 and then 2 is 12.
    return any(
        new.fret != old.fret and (new.fret < 10 or not str(new.fret).startswith(str(old.fret)))
        for old, new in _both(before, now)
    )


def _marked(before: Seen, now: Seen) -> bool:
    return _marks(now) > _marks(before)


def _undone(before: Seen, now: Seen) -> bool:
    return now.undone > before.undone


def _copied(before: Seen, now: Seen) -> bool:
    return _twins(now) > _twins(before)


def _tempo_set(before: Seen, now: Seen) -> bool:
    tempos = [section.head.tempo for section in before.lesson.sections]
    return tempos != [section.head.tempo for section in now.lesson.sections]


def _kept(_asked: Seen, now: Seen) -> bool:
    return now.path is not None and now.saved


STEPS = (
    Step(
        "write",
        N_("Type two frets, as in 0 and 3. Each writes a note and goes on."),
        (),
        _wrote,
        several=True,
    ),
    Step("move", N_("Press {} or {} to go to another string."), ("go_down", "go_up"), _moved),
    Step(
        "chord",
        N_("Press {} to select two strings, then type a fret: both sound together."),
        ("select_down",),
        _struck_together,
    ),
    Step("length", N_("Press {} to make what you wrote longer."), ("longer",), _lengthened),
    Step("fret", N_("Press {} to move it up a fret."), ("raise",), _shifted),
    Step(
        "mark", N_("Press {} to give it a mark: muted with the palm."), ("mark_palm_mute",), _marked
    ),
    Step("undo", N_("Press {} to take that back. Everything can be undone."), ("undo",), _undone),
    Step("copy", N_("Press {} to write the whole bar once more."), ("bar_duplicate",), _copied),
    Step(
        "tempo",
        N_("Press {} for the section’s tempo. Type 84 and Enter; Escape leads back."),
        ("edit_tempo",),
        _tempo_set,
    ),
    Step("save", N_("Press {} to keep your lesson in a file."), ("save",), _kept),
)
