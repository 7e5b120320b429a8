"""A bar that was timed, as notes with all their marks."""

from __future__ import annotations

from chalkfret.files.text_tab.bars import RawBar
from chalkfret.files.text_tab.marks import settle
from chalkfret.files.text_tab.timing import Event, Timed
from chalkfret.model import Mark, Note, Notes, in_order


def notes_of(timed: Timed | None, raw: RawBar | None, before: dict[int, Note]) -> Notes:
    """The notes of a part's bar; ``before`` are those that sound up to its bar line, by string."""
    if timed is None or raw is None:
        return ()
    over = _marks_above(raw, timed.events)
    struck = frozenset((event, string) for event, string, _ in timed.cells)
    ended = {(course, 0): note for course, note in before.items()}
    notes: list[Note] = []
    for number, string, cell in sorted(timed.cells, key=lambda one: one[:2]):
        onset, course = timed.events[number].tick, string + 1
        length = _end_of(timed, struck, number, string) - onset
        plain = Note(onset, length, course, cell.fret, marks=in_order(tuple(over[number])))
        note = settle(cell, plain, ended.get((course, onset)))
        ended[course, note.end] = note
        notes.append(note)
    return tuple(sorted(notes, key=lambda note: (note.onset, note.course)))


def _end_of(timed: Timed, struck: frozenset[tuple[int, int]], event: int, string: int) -> int:
    """The tick at which a note that starts at an event ends."""
    number = event + 1
    while number < len(timed.events) and (number, string) not in struck:
        ahead = timed.events[number]
        if timed.strings[ahead.piece][string][ahead.at : ahead.at + 1] != "=":
            break
        number += 1
    return timed.events[number].tick if number < len(timed.events) else timed.ticks


def _marks_above(raw: RawBar, events: list[Event]) -> list[list[Mark]]:
    """For each event the marks that stand above it: below a line, or nearest to a single sign."""
    found: list[list[Mark]] = [[] for _ in events]
    for index, piece in enumerate(raw.pieces):
        here = [(number, event.at) for number, event in enumerate(events) if event.piece == index]
        for first, last, mark in piece.above:
            if first < last:
                meant = [number for number, at in here if first - 1 <= at <= last]
            else:
                nearest = min((abs(at - first) for _, at in here), default=2)
                meant = [number for number, at in here if abs(at - first) == nearest <= 1]
            for number in meant:
                found[number].append(mark)
    return found
