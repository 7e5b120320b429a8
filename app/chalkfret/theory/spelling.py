"""The name of a sounding note in a key, by what it does there.

Conventions
-----------
- A *line* is what one part plays in a bar: for each note its onset (any unit that orders notes;
  equal ones are struck together) and its MIDI number, in order of onset.
- Names and degrees are the model's (ASCII, no octave). Inside, a name is its place on the line of
  fifths above the tonic: 4 lies at -1, 5 at 1, flat 7 at -2, sharp 4 at 6. Two notes whose places
  differ by at most 5 form a plain interval; 6 is a tritone, 7 a chromatic semitone, more an
  augmented or diminished interval that ear and eye find harder (common practice).

The rule, in this order:

1. the teacher's wish, where it names the pitch that sounds;
2. a note of the scale is spelled as the scale spells it (F sharp Lydian has B sharp);
3. any other note is a raised or a lowered degree, whichever costs less by where it goes (a step
   up: raised, a step down: lowered, which makes lower neighbours and leading notes raised and
   upper ones lowered), by what it is struck with (the third of a secondary dominant), a little by
   where it comes from, and by how far it lies from the usual chromatic degrees (flat 2, flat 3,
   sharp 4, flat 6, flat 7 and the plain ones: the harmonic chromatic scale of common practice),
   which decide alone for a note by itself. So a raised seventh in A sharp minor is G double sharp;
4. without a key, the twelve names players use most.

What is looked at is the bar, the bar before and the bar after: a change there is the only one
that can rename a note, and equal bars between equal bars are named once. With the wish for simple
names a note with a double accidental takes its plain name instead; its degree stays what it is.

The weights are small whole numbers set by pieces that the table of agreement does not count
(``tests/reference/spelling``).
"""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import Final

from chalkfret.model.pitch import alteration_of, letter_of, octave_of, pitch_class
from chalkfret.model.section import Key
from chalkfret.theory.scales import degree_at, is_simple, note_of_degree, plain_name

Line = tuple[tuple[int, int], ...]  # onset, MIDI number

_FIFTHS: Final = "FCGDAEB"
_MAJOR: Final = "4152637"  # the degrees of the major scale in fifths, from -1
_USUAL: Final = (-5, 6)  # from flat 2 to sharp 4
_FARTHEST: Final = (-6, 11)  # flat 5 to sharp 3: no player says flat 1 or flat 4 of a plain scale
_NAMES: Final = (-15, 19)  # F double flat to B double sharp, in fifths above C

# What an interval of so many fifths costs: a tritone a little, a chromatic semitone more.
_INTERVAL: Final = (0, 0, 0, 0, 0, 0, 1, 3, 4, 4, 5, 5)
_WORST: Final = 6
_STEP: Final = 2  # semitones; a wider interval is a leap, which binds less
_TOGETHER: Final = 8
_NEXT: Final = (8, 2)  # to a note a step away, and a leap away
_LAST: Final = (2, 1)
_UNUSUAL: Final = 3  # for each fifth beyond the usual degrees
_LOOK: Final = 3  # onsets that are passed over while a pitch is only repeated


class _Heard:
    """A note of the three bars: its pitch, its bar, and its place in fifths once that is known."""

    __slots__ = ("bar", "given", "midi", "place", "semitones")

    def __init__(self, midi: int, semitones: int, bar: int, given: int | None) -> None:
        self.midi, self.semitones, self.bar = midi, semitones, bar
        self.given = self.place = given


def degrees(before: Line, here: Line, after: Line, key: Key) -> tuple[str, ...]:
    """The degree of each note of ``here``, between the bars before and after it."""
    tonic, given = pitch_class(key.tonic), _places_of_scale(key)
    known = [given[(midi - tonic) % 12] for _onset, midi in here]
    places = [place for place in known if place is not None]
    if len(places) < len(known):
        places = _placed((before, here, after), key)
    return tuple(_degree(place) for place in places)


def _placed(lines: tuple[Line, Line, Line], key: Key) -> list[int]:
    """Places of the middle line's notes. A second look takes the first one's names for granted."""
    tonic, given = pitch_class(key.tonic), _places_of_scale(key)
    groups = [
        [_Heard(midi, (midi - tonic) % 12, bar, given[(midi - tonic) % 12]) for _, midi in struck]
        for bar, line in enumerate(lines)
        for _, struck in groupby(line, key=lambda note: note[0])
    ]
    free = [(at, note) for at, group in enumerate(groups) for note in group if note.given is None]
    for _look in range(2):
        found = [_cheapest(note, groups, at, key) for at, note in free]
        for (_at, note), place in zip(free, found, strict=True):
            note.place = place
    heard = (note for group in groups for note in group if note.bar == 1)
    return [note.place for note in heard if note.place is not None]  # by now all have one


def _cheapest(note: _Heard, groups: list[list[_Heard]], at: int, key: Key) -> int:
    """The place with the least cost; of equals the one nearest to the usual degrees' middle."""
    pulls = [
        (other.place, _TOGETHER)
        for other in groups[at]
        if other.place is not None and other.semitones != note.semitones
    ]
    for way, (step, leap) in ((1, _NEXT), (-1, _LAST)):
        other = _neighbour(note, groups, at, way)
        if other is not None and other.place is not None and other.semitones != note.semitones:
            near = abs(other.midi - note.midi) <= _STEP
            pulls.append((other.place, step if near else leap))
    best, least = 0, float("inf")
    for place, unusual in _candidates(note.semitones, key):
        cost = unusual + sum(weight * _interval(place - other) for other, weight in pulls)
        if cost < least:
            best, least = place, cost
    return best


def _neighbour(note: _Heard, groups: list[list[_Heard]], at: int, way: int) -> _Heard | None:
    """The nearest of the notes struck next, or last (``way`` -1), that is another pitch."""
    for index in range(at + way, at + way * (_LOOK + 1), way):
        if not 0 <= index < len(groups):
            return None
        other = min(groups[index], key=lambda one: (abs(one.midi - note.midi), one.midi))
        if other.midi != note.midi:
            return other
    return None


def _interval(fifths: int) -> int:
    fifths = abs(fifths)
    return _INTERVAL[fifths] if fifths < len(_INTERVAL) else _WORST


@lru_cache(maxsize=4096)
def _candidates(semitones: int, key: Key) -> tuple[tuple[int, int], ...]:
    """The places a pitch can have that can be written, each with the cost of being unusual."""
    scale = [place for place in _places_of_scale(key) if place is not None]
    low, high = min(*_USUAL, *scale), max(*_USUAL, *scale)
    tonic = _FIFTHS.index(letter_of(key.tonic)) - 1 + 7 * alteration_of(key.tonic)
    first, last = _FARTHEST
    alike = [one for one in range(first, last + 1) if (one * 7 - semitones) % 12 == 0]
    written = [place for place in alike if _NAMES[0] <= place + tonic <= _NAMES[1]]
    costs = [(place, _UNUSUAL * max(0, place - high, low - place)) for place in written or alike]
    return tuple(sorted(costs, key=lambda one: (one[1], abs(2 * one[0] - sum(_USUAL)))))


@lru_cache(maxsize=1024)
def _places_of_scale(key: Key) -> tuple[int | None, ...]:
    """The scale's place in fifths at each of the twelve semitones above the tonic."""
    return tuple(None if one is None else _place(one) for one in degree_at(key))


def _place(degree: str) -> int:
    return _MAJOR.index(degree[-1]) - 1 + 7 * (degree.count("#") - degree.count("b"))


@lru_cache(maxsize=64)
def _degree(place: int) -> str:
    turns, at = divmod(place + 1, 7)
    return ("#" * turns if turns >= 0 else "b" * -turns) + _MAJOR[at]


@lru_cache(maxsize=8192)
def degree(midi: int, key: Key | None) -> str:
    """The degree of a note by itself in a key, ``"b3"``; empty without a key."""
    return "" if key is None else degrees((), ((0, midi),), (), key)[0]


def name_of(
    midi: int, degree: str, key: Key | None, wish: str | None = None, simple: bool = False
) -> str:
    """The note name of a MIDI number that is this degree of a key; ``degree`` is empty without one.

    ``wish`` is the teacher's note name, ignored where it does not name this pitch.
    """
    if wish is not None and (pitch_class(wish) - midi) % 12 == 0:
        return wish
    if key is None:
        return plain_name(midi)
    name = note_of_degree(key.tonic, degree)
    return plain_name(midi) if simple and not is_simple(name) else name


def spell(midi: int, key: Key | None, wish: str | None = None, simple: bool = False) -> str:
    """The note name of a MIDI number by itself in a key: ``spell(51, key)`` gives ``"Eb"``."""
    return name_of(midi, degree(midi, key), key, wish, simple)


def pitch_name(midi: int, key: Key | None, wish: str | None = None, simple: bool = False) -> str:
    """The pitch name, with octave, of a note by itself: ``pitch_name(39, key)`` gives ``"Eb2"``."""
    name = spell(midi, key, wish, simple)
    return f"{name}{octave_of(midi, name)}"
