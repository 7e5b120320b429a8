"""What a note on a string sounds: MIDI numbers with fractions, and Hz.

Conventions
-----------
- MIDI numbers are floats here: cents of the string / 100 are part of them, A4 is 69.0 whatever
  its frequency; ``hz`` takes the setup's A4 into account.
- Frets count from the capo where it covers the course, from the nut where it does not. A string
  that starts late (``first_fret``) sounds its pitch up to there, and frets count on from the nut.
- Harmonics sound pure multiples of the open (or fretted) string's frequency: partial n lies
  12 log2(n) semitones above it. The point that divides a string at k/n lies -12 log2(1 - k/n)
  frets above its lower end.
"""

from __future__ import annotations

from functools import lru_cache
from math import floor, gcd, log2
from typing import Final

from chalkfret.model.bars import Note
from chalkfret.model.marks import ArtificialHarmonic, Bend, NaturalHarmonic
from chalkfret.model.pitch import midi_of
from chalkfret.model.setup import Setup

PARTIAL_MAX: Final = 16
# Players name nodes by whole frets or tenths: of the partials this near, the lowest is meant
# (common practice: "4" is the fifth partial, whose node lies at 3.86).
_NEAR: Final = 0.2  # frets


def hz(midi: float, a4: float = 440.0) -> float:
    """Frequency in Hz of a MIDI number (ISO 16: A4 = 69 = 440 Hz)."""
    return float(a4 * 2.0 ** ((midi - 69.0) / 12.0))


def node_position(partial: int, part: int = 1) -> float:
    """The fret, as a fraction, at which a string is divided at ``part / partial``."""
    return -12.0 * log2(1.0 - part / partial)


_NODES: Final = tuple(
    (partial, node_position(partial, part))
    for partial in range(2, PARTIAL_MAX + 1)
    for part in range(1, partial)
    if gcd(part, partial) == 1
)


@lru_cache(maxsize=512)
def partial_of_node(node: float) -> int:
    """The partial, 2 to 16, that rings when a string is touched ``node`` frets above its end."""
    near = [partial for partial, at in _NODES if abs(at - node) <= _NEAR]
    if near:
        return min(near)
    return min(_NODES, key=lambda place: (abs(place[1] - node), place[0]))[0]


@lru_cache(maxsize=4096)
def open_pitch(setup: Setup, course: int, string: int = 0) -> float:
    """The MIDI number of an open course as it stands, capo and cents included.

    ``course`` counts from 1, ``string`` from 0 within the course.
    """
    one = setup.course(course).strings[string]
    return one.midi + max(0, setup.capo_fret(course) - one.first_fret)


@lru_cache(maxsize=16384)
def fretted_pitch(setup: Setup, course: int, fret: int, string: int = 0) -> float:
    """The MIDI number of a fretted string, capo and cents included."""
    one = setup.course(course).strings[string]
    return one.midi + max(0, setup.capo_fret(course) + fret - one.first_fret)


def attack_pitch(setup: Setup, note: Note, string: int = 0) -> float:
    """The MIDI number that sounds when a note is struck: capo, cents, harmonic and pre-bend in.

    A dead note gives the pitch of its fret: whether it has one is the caller's to judge.
    ``string`` counts from 0 within the course; the first one names the note.
    """
    if not note.marks:
        return fretted_pitch(setup, note.course, note.fret, string)
    natural = note.mark(NaturalHarmonic)
    artificial = note.mark(ArtificialHarmonic)
    bend = note.mark(Bend)
    if natural is not None:
        pitch = open_pitch(setup, note.course, string) + 12 * log2(partial_of_node(natural.node))
    else:
        pitch = fretted_pitch(setup, note.course, note.fret, string)
        if artificial is not None:
            pitch += 12 * log2(partial_of_node(artificial.node))
    return pitch if bend is None else pitch + bend.curve[0].cents / 100


def named_pitch(setup: Setup, note: Note) -> int:
    """The whole MIDI number by which a note is named: its attack without the string's cents.

    A string tuned 50 cents low is still called by its name.
    """
    cents = setup.course(note.course).strings[0].cents
    return floor(attack_pitch(setup, note) - cents / 100 + 0.5)


def named_fretted(setup: Setup, course: int, fret: int = 0) -> int:
    """The whole MIDI number by which a fret of a course (0: open) is named, capo included."""
    one = setup.course(course).strings[0]
    return midi_of(one.pitch) + max(0, setup.capo_fret(course) + fret - one.first_fret)
