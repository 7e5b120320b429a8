"""How many notes of a piece get the printed name: by our rule, and by others on the same notes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from chalkfret.model.pitch import pitch_class
from chalkfret.theory.scales import degree_at
from chalkfret.theory.spelling import Line, degrees, name_of, spell
from tests.reference.spelling.reading import PrintedBar


class Agreement(NamedTuple):
    """Notes in all, and how many have the printed name; ``outside`` are those not of the scale."""

    notes: int = 0
    ours: int = 0
    alone: int = 0  # each note by itself in the key, without its neighbours
    theirs: int = 0  # music21's name of the number
    outside: int = 0
    ours_outside: int = 0

    def plus(self, other: Agreement) -> Agreement:
        return Agreement(*(one + two for one, two in zip(self, other, strict=True)))


def agreement(parts: Iterable[list[PrintedBar]]) -> Agreement:
    """The agreement over all parts of a piece, each spelled as a part by itself."""
    total = Agreement()
    for part in parts:
        lines = [_line(bar) for bar in part]
        for at, bar in enumerate(part):
            before = lines[at - 1] if at else ()
            after = lines[at + 1] if at + 1 < len(lines) else ()
            total = total.plus(_bar(bar, before, lines[at], after))
    return total


def _line(bar: PrintedBar) -> Line:
    """Onsets as their places in the bar: the rule only asks what is struck together."""
    onsets = {onset: at for at, onset in enumerate(dict.fromkeys(one.onset for one in bar.notes))}
    return tuple((onsets[one.onset], one.midi) for one in bar.notes)


def _bar(bar: PrintedBar, before: Line, here: Line, after: Line) -> Agreement:
    from music21.pitch import Pitch

    found = Agreement()
    tonic, scale = pitch_class(bar.key.tonic), degree_at(bar.key)
    for note, degree in zip(bar.notes, degrees(before, here, after, bar.key), strict=True):
        ours = name_of(note.midi, degree, bar.key) == note.name
        outside = scale[(note.midi - tonic) % 12] is None
        theirs = Pitch(note.midi).name.replace("-", "b") == note.name
        alone = spell(note.midi, bar.key) == note.name
        found = found.plus(Agreement(1, ours, alone, theirs, outside, outside and ours))
    return found
