"""The same pitches on another setup: the cheapest fingering, and what cannot be had.

Conventions
-----------
- What counts is the pitch by which a note is named; the cents of strings do not.
- A *phrase* is what sounds without silence between; one of more than four bars is taken bar by bar.
  Where a note of it has no place on the setup, the whole phrase goes to the nearest octave in which
  all its notes have one; where there is no such octave, the notes out of reach alone move, each to
  its nearest; a note that has no place in any octave is left out. Every note moved or left out is
  listed.
- Of a chord that no hand can hold the fewest notes are left out: doubled ones first, then inner
  ones, and listed too.
- A note is struck anew where its hammer-on, pull-off or slide could not stay on the string, ends
  early where its string is needed again, and loses a fretting finger that is no longer true.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum
from itertools import combinations, pairwise
from math import log2
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.arrange.fingering import Ask, Event, cheapest
from chalkfret.arrange.reach import SPAN, Place, can_be_held, places_of
from chalkfret.arrange.sounds import Run, Sound, links, run_of
from chalkfret.model.bars import Note, Notes
from chalkfret.model.lesson import Lesson
from chalkfret.model.limits import FRET_MAX
from chalkfret.model.marks import (
    Bend,
    Finger,
    Mark,
    NaturalHarmonic,
    Slide,
    Trill,
    Vibrato,
    in_order,
)
from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_fretted, partial_of_node

_OCTAVE: Final = 12
_OCTAVES: Final = (1, 2, 3)  # either way
_PHRASE_BARS: Final = 4
_NODES: Final = (12.0, 7.0, 5.0, 4.0, 3.2, 19.0, 24.0)  # as players name them (common practice)


class Why(StrEnum):
    """What became otherwise of a note."""

    OCTAVE = "octave"  # with its phrase
    OCTAVE_ALONE = "octave_alone"
    NO_PLACE = "no_place"  # left out: in no octave on this neck
    NO_HAND = "no_hand"  # left out: the chord cannot be held
    STRUCK = "struck"  # no longer hammered on, pulled off or slid to
    SHORTER = "shorter"  # its string is needed before it has ended


class Otherwise(Struct, frozen=True):
    """A note that is not as it was: where it stands, what it sounded, and what became of it."""

    why: Why
    section: int
    bar: int
    onset: int
    course: int
    pitch: int | None  # MIDI number as written; None of a dead note
    octaves: int = 0


class Hand(Struct, frozen=True):
    """How the hand moves: frets a move of position, counted over all events, and its reach."""

    mean_move: float
    widest: int  # frets between the lowest and the highest finger at once, from 0


class Arranged(Struct, frozen=True):
    """A part on another setup.

    ``notes``: section, bar and notes, one entry for each bar of the run.
    """

    setup: Setup
    notes: tuple[tuple[int, int, Notes], ...]
    otherwise: tuple[Otherwise, ...]
    cost: float
    hand: Hand

    def of_kind(self, *whys: Why) -> tuple[Otherwise, ...]:
        """The notes that became otherwise in these ways."""
        return tuple(one for one in self.otherwise if one.why in whys)


def same_pitch(
    lesson: Lesson, part: int, setup: Setup, sections: Sequence[int] | None = None
) -> Arranged:
    """The cheapest fingering of a part for a setup; of all sections where none are named."""
    run = run_of(lesson, part, range(len(lesson.sections)) if sections is None else sections)
    octaves, otherwise = _octaves(run, setup)
    groups = _groups(run)
    asked: dict[int, tuple[Place, ...]] = {}
    for group in groups:
        placed = {
            number: places
            for number in group
            if (places := _places(run.sounds[number], setup, octaves[number]))
        }
        for number in group:
            if number not in placed:
                otherwise.append(_other(run, number, Why.NO_PLACE))
        held = _held_in_hand(run, placed, len(setup.courses))
        otherwise += [_other(run, number, Why.NO_HAND) for number in placed if number not in held]
        asked |= held
    return _fingered(run, setup, groups, asked, octaves, otherwise)


def _fingered(
    run: Run,
    setup: Setup,
    groups: list[list[int]],
    asked: dict[int, tuple[Place, ...]],
    octaves: list[int],
    otherwise: list[Otherwise],
) -> Arranged:
    left = [kept for group in groups if (kept := [number for number in group if number in asked])]
    roots = {
        number: root
        for number in asked
        if (root := run.sounds[number].root) in asked and octaves[root] == octaves[number]
    }
    fingering = cheapest(_events(run, left, asked, roots))
    struck = {n for n in asked if run.sounds[n].root is not None and n not in roots}
    struck |= set(fingering.broken)
    otherwise += [_other(run, number, Why.STRUCK) for number in sorted(struck)]
    rows, short = _written(run, fingering.places, struck)
    otherwise += [_other(run, number, Why.SHORTER) for number in short]
    otherwise.sort(key=lambda one: (one.section, one.bar, one.onset, one.course))
    return Arranged(
        setup,
        tuple((*run.bars[at], notes) for at, notes in enumerate(rows)),
        tuple(otherwise),
        fingering.cost,
        hand_of(fingering.positions, [[fingering.places[n] for n in group] for group in left]),
    )


def hand_of(positions: Sequence[int], groups: Sequence[Sequence[Place]]) -> Hand:
    """How a hand moves through places in these positions; 0: it has none yet."""
    there = [position for position in positions if position]
    moves = [abs(two - one) for one, two in pairwise(there)]
    frets = [[fret for _, fret in group if fret] for group in groups]
    reach = [max(row) - min(row) for row in frets if row]
    reach += [
        max(row) - position
        for row, position in zip(frets, positions, strict=True)
        if row and max(row) - position > SPAN
    ]
    return Hand(sum(moves) / len(moves) if moves else 0.0, max(reach, default=0))


def _other(run: Run, number: int, why: Why, octaves: int = 0) -> Otherwise:
    sound = run.sounds[number]
    section, bar = run.bars[sound.pieces[0].bar]
    return Otherwise(why, section, bar, sound.note.onset, sound.note.course, sound.pitch, octaves)


# Where a note can be had


def _places(sound: Sound, setup: Setup, octaves: int) -> tuple[Place, ...]:
    note = sound.note
    if sound.pitch is None:  # a dead note is struck on a string that the left hand lies over
        return tuple((course, 0) for course in range(1, len(setup.courses) + 1))
    pitch = sound.pitch + _OCTAVE * octaves
    if note.mark(NaturalHarmonic) is not None:
        return tuple(_harmonics(setup, pitch))
    places = places_of(setup, pitch)
    if not any(piece.note.marks for piece in sound.pieces):
        return places
    if note.fret and any(isinstance(mark, Bend | Vibrato | Slide) for mark in note.marks):
        places = tuple(place for place in places if place[1])
    for piece in sound.pieces:  # a trill may begin, or change, with a tied note
        trill = piece.note.mark(Trill)
        if trill is not None:
            away = trill.fret - piece.note.fret
            places = tuple(
                (course, fret)
                for course, fret in places
                if 0 <= fret + away <= setup.fret_count - setup.capo_fret(course)
            )
    return places


def _harmonics(setup: Setup, pitch: int) -> Iterator[Place]:
    for course in range(1, len(setup.courses) + 1):
        node = _node(setup, course, pitch)
        if node is not None:
            yield course, int(node)


def _node(setup: Setup, course: int, pitch: int) -> float | None:
    """The node of a course at which it sounds a pitch, within its neck."""
    above = pitch - named_fretted(setup, course)
    most = setup.fret_count - setup.capo_fret(course)
    nodes = (node for node in _NODES if round(12 * log2(partial_of_node(node))) == above)
    return next((node for node in nodes if node <= most), None)


# Octaves


def _octaves(run: Run, setup: Setup) -> tuple[list[int], list[Otherwise]]:
    """By how many octaves each sound moves, and the ones that do."""
    moved = [0] * len(run.sounds)
    otherwise: list[Otherwise] = []
    for phrase in _phrases(run):
        out = [n for n in phrase if not _places(run.sounds[n], setup, 0)]
        if not out:
            continue
        together = _nearest(run, setup, phrase)
        if together:
            for number in phrase:
                if run.sounds[number].pitch is not None:
                    moved[number] = together
                    otherwise.append(_other(run, number, Why.OCTAVE, together))
            continue
        for number in out:
            moved[number] = _nearest(run, setup, [number])
            if moved[number]:
                otherwise.append(_other(run, number, Why.OCTAVE_ALONE, moved[number]))
    return moved, otherwise


def _nearest(run: Run, setup: Setup, numbers: Sequence[int]) -> int:
    """The nearest octave in which all these sounds have places, up before down; 0: none."""
    for octaves in (way * count for count in _OCTAVES for way in (1, -1)):
        if all(_places(run.sounds[number], setup, octaves) for number in numbers):
            return octaves
    return 0


def _phrases(run: Run) -> Iterator[list[int]]:
    phrase: list[int] = []
    end = 0
    for number, sound in enumerate(run.sounds):
        if phrase and sound.tick > end:
            yield from _short(run, phrase)
            phrase = []
        phrase.append(number)
        end = max(end, sound.tick + sum(piece.note.length for piece in sound.pieces))
    yield from _short(run, phrase)


def _short(run: Run, phrase: list[int]) -> Iterator[list[int]]:
    """The phrase, or its bars where it is long."""
    bars: dict[int, list[int]] = {}
    for number in phrase:
        bars.setdefault(run.sounds[number].pieces[0].bar, []).append(number)
    if len(bars) <= _PHRASE_BARS:
        yield phrase
    else:
        yield from bars.values()


# What a hand holds


def _groups(run: Run) -> list[list[int]]:
    """The numbers of the sounds that begin together."""
    groups: dict[int, list[int]] = {}
    for number, sound in enumerate(run.sounds):
        groups.setdefault(sound.tick, []).append(number)
    return list(groups.values())


def _held_in_hand(
    run: Run, placed: dict[int, tuple[Place, ...]], courses: int
) -> dict[int, tuple[Place, ...]]:
    """The notes of a chord that one hand can hold: all, or all but the fewest that matter least."""
    if not placed or (len(placed) <= courses and can_be_held(tuple(placed.values()))):
        return placed
    worth = _by_worth(run, list(placed))
    for count in range(max(1, len(placed) - courses), len(placed)):
        for gone in combinations(worth, count):
            kept = {number: places for number, places in placed.items() if number not in gone}
            if can_be_held(tuple(kept.values())):
                return kept
    return {}


def _by_worth(run: Run, numbers: list[int]) -> list[int]:
    """Notes of a chord from the one that is missed least to its lowest and highest."""
    pitches = {number: run.sounds[number].pitch for number in numbers}
    heard = [pitch for pitch in pitches.values() if pitch is not None]
    edge = {min(heard, default=0), max(heard, default=0)}

    def worth(number: int) -> tuple[int, int]:
        pitch = pitches[number]
        if pitch is None:
            return 0, number
        doubled = sum(other % _OCTAVE == pitch % _OCTAVE for other in heard) > 1
        return (3 if pitch in edge else 1 if doubled else 2), number

    return sorted(numbers, key=worth)


def _events(
    run: Run,
    groups: list[list[int]],
    asked: dict[int, tuple[Place, ...]],
    roots: dict[int, int],
) -> list[Event]:
    ticks = [run.sounds[group[0]].tick for group in groups]
    events = []
    before = 0.0
    for at, group in enumerate(groups):
        asks = []
        for number in group:
            sound = run.sounds[number]
            until = at
            while until + 1 < len(ticks) and ticks[until + 1] < sound.end:
                until += 1
            rings = not sound.note.fret and sound.pitch is not None and until > at
            asks.append((number, Ask(asked[number], until, roots.get(number), rings)))
        second = run.seconds[group[0]]
        events.append(Event(second - before, tuple(asks)))
        before = second
    return events


# The notes of the new part


def _written(run: Run, places: dict[int, Place], struck: set[int]) -> tuple[list[Notes], list[int]]:
    """The notes of each bar of the run, and the sounds that had to be made shorter."""
    rows: list[list[Note]] = [[] for _ in run.bars]
    free: dict[int, int] = {}  # by course, the tick of the next sound on it
    short: list[int] = []
    for number in reversed(range(len(run.sounds))):
        if number not in places:
            continue
        sound, (course, fret) = run.sounds[number], places[number]
        touched = sound.pitch is not None and sound.note.mark(NaturalHarmonic) is not None
        stop = free.get(course)
        free[course] = sound.tick
        for index, (bar, note) in enumerate(sound.pieces):
            length = note.length
            if stop is not None:
                length = min(length, stop - run.starts[bar] - note.onset)
            if length < note.length and number not in short[-1:]:
                short.append(number)
            if length > 0:
                again = not index and number in struck
                marks = _marks(note, fret, struck=again, touched=touched)
                row = replace(note, course=course, fret=fret, length=length, marks=marks)
                rows[bar].append(row)
    return [tuple(sorted(row, key=lambda one: (one.onset, one.course))) for row in rows], short


def _marks(note: Note, fret: int, *, struck: bool, touched: bool) -> tuple[Mark, ...]:
    if not note.marks:
        return ()
    kept: list[Mark] = []
    for mark in note.marks:
        if isinstance(mark, Finger) or (struck and links(mark)):
            continue
        if isinstance(mark, Trill):
            other = fret + mark.fret - note.fret
            if 0 <= other <= FRET_MAX:  # else of a dead note or a harmonic, which have no second
                kept.append(Trill(other))
        elif isinstance(mark, NaturalHarmonic) and touched:  # else of a tie, whose start is none
            kept.append(NaturalHarmonic(_node_at(fret)))
        else:
            kept.append(mark)
    return in_order(tuple(kept))


def _node_at(fret: int) -> float:
    """The node that is named by a fret of ``_harmonics``."""
    return next(node for node in _NODES if int(node) == fret)
