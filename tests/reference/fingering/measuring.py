"""Hand movement of the cheapest fingering and of the plain one, on the same pitches and times."""

from __future__ import annotations

import warnings
from typing import Any, NamedTuple

from chalkfret.arrange.fingering import Ask, Event, cheapest
from chalkfret.arrange.reach import SPAN, STRETCH_MAX, Place, can_be_held, places_of
from chalkfret.arrange.same_pitch import Hand, hand_of
from chalkfret.model import Setup
from tests.builder import tuned

STANDARD = tuned("E2 A2 D3 G3 B3 E4")
QUARTER_S = 0.5  # 120 quarters a minute

# Name, number in a book of tunes, part of the score. Melodies, and lines within a guitar's reach.
PIECES: tuple[tuple[str, int | None, int], ...] = (
    *(("airdsAirs/book1", number, 0) for number in (3, 10, 24)),
    *(("oneills1850/0001-0050", number, 0) for number in (1, 7, 31)),
    *(("oneills1850/0051-0100", number, 0) for number in (60, 77)),
    ("ryansMammoth/AcaciaReel", None, 0), ("ryansMammoth/AcrobatsHornpipe", None, 0),
    ("ryansMammoth/7thRegimentReel", None, 0),
    ("essenFolksong/altdeu10", 4, 0), ("essenFolksong/altdeu10", 9, 0),
    ("essenFolksong/ballad10", 1, 0),
    ("bach/bwv66.6", None, 2), ("bach/bwv66.6", None, 3), ("bach/bwv253", None, 2),
    ("palestrina/Agnus_00", None, 1), ("monteverdi/madrigal.3.1", None, 3),
    ("corelli/opus3no1/1grave", None, 2),
)  # fmt: skip


class Row(NamedTuple):
    """One piece: its notes, and both hands."""

    name: str
    notes: int
    ours: Hand
    plain: Hand


def line(name: str, number: int | None, part: int) -> list[tuple[float, tuple[int, ...]]]:
    """Attacks of a part: seconds, and MIDI numbers an octave lower, as guitars are written."""
    from music21 import corpus

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # music21's own about its old encodings
        score: Any = corpus.parse(name, number=number)
    found: dict[float, set[int]] = {}
    for element in score.parts[part].stripTies().flatten().notes:
        if element.duration.quarterLength and "ChordSymbol" not in element.classes:
            at = float(element.offset) * QUARTER_S
            found.setdefault(at, set()).update(int(pitch.midi) for pitch in element.pitches)
    attacks = sorted((at, tuple(sorted(pitches))) for at, pitches in found.items())
    low = min(min(pitches) for _, pitches in attacks)
    shift = -12 if low >= 52 else 0  # a tune for a violin or a voice goes down into the neck
    return [(at, tuple(pitch + shift for pitch in pitches)) for at, pitches in attacks]


def measured(name: str, number: int | None, part: int, setup: Setup = STANDARD) -> Row:
    """Both fingerings of one piece."""
    attacks = [
        (at, asked)
        for at, pitches in line(name, number, part)
        if can_be_held(asked := tuple(places_of(setup, pitch) for pitch in pitches))
    ]
    events, before, count = [], 0.0, 0
    for index, (at, asked) in enumerate(attacks):
        asks = tuple((count + n, Ask(places, index)) for n, places in enumerate(asked))
        events.append(Event(at - before, asks))
        before, count = at, count + len(asks)
    found = cheapest(events)
    groups = [[found.places[number] for number, _ in event.asks] for event in events]
    plain = [_lowest(asked) for _, asked in attacks]
    title = name if number is None else f"{name} {number}"
    return Row(title, count, hand_of(found.positions, groups), hand_of(_follow(plain), plain))


def _lowest(asked: tuple[tuple[Place, ...], ...]) -> list[Place]:
    """Each note, from the highest, at its lowest fret on a free string."""
    taken: set[int] = set()
    chosen = []
    for places in reversed(asked):
        course, fret = min(
            (place for place in places if place[0] not in taken), key=lambda place: place[1]
        )
        taken.add(course)
        chosen.append((course, fret))
    return chosen


def _follow(groups: list[list[Place]]) -> list[int]:
    """Where a hand lies that moves no further than each note asks; it reaches a fret beyond four.

    That is kinder to the plain placement than to ours, whose positions its cost has chosen.
    """
    positions, hand = [], 0
    for group in groups:
        frets = [fret for _, fret in group if fret]
        if frets:
            least, most = max(1, max(frets) - SPAN - STRETCH_MAX), min(frets)
            hand = min(max(hand, least), max(least, most)) if hand else max(least, most)
        positions.append(hand)
    return positions


def table(rows: list[Row]) -> str:
    """The rows and their means as text."""
    lines = [f"{'piece':34}{'notes':>6}{'move':>8}{'plain':>8}{'widest':>8}{'plain':>7}"]
    lines += [
        f"{row.name:34}{row.notes:6}{row.ours.mean_move:8.3f}{row.plain.mean_move:8.3f}"
        f"{row.ours.widest:8}{row.plain.widest:7}"
        for row in rows
    ]
    ours, plain = means(rows)
    widest = max(row.ours.widest for row in rows), max(row.plain.widest for row in rows)
    lines.append(
        f"{'mean; widest of all':34}{sum(row.notes for row in rows):6}{ours:8.3f}{plain:8.3f}"
        f"{widest[0]:8}{widest[1]:7}"
    )
    return "\n".join(lines)


def means(rows: list[Row]) -> tuple[float, float]:
    """Mean movement over the pieces, ours and the plain one."""
    ours = sum(row.ours.mean_move for row in rows) / len(rows)
    return ours, sum(row.plain.mean_move for row in rows) / len(rows)
