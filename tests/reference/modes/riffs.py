"""Made riffs: every mode in odd tunings, five ways of playing each, 140 in all.

They are made by rule from the mode's degrees, by a draw seeded from the riff's name, and with what
riffs really use: a pedal on an open or a fretted string, power chords (whose fifth is perfect
whatever the mode says), palm-muted repeats, a chromatic note on the way between two notes of the
scale, a loop that does not begin on its tonic, an open low string that is not the tonic. A degree
may be left out, but none that colours the mode or makes its third: a riff without those has no one
answer. The labels are ours: these measure that the rules hold together, not what players do.
"""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha1
from itertools import pairwise
from random import Random
from typing import Final, NamedTuple

from msgspec.structs import replace

from chalkfret.model import QUARTER, Bar, Bars, Key, Lesson, Mode, Note, Setup
from chalkfret.theory.degrees import colour_degrees
from chalkfret.theory.scales import degree_semitones, mode_intervals, plain_name
from chalkfret.theory.sounding import named_fretted
from tests.builder import lesson, part, section, tuned

TUNINGS: Final = (
    "C2 G2 C3 F3 A3 D4",
    "A1 E2 A2 D3 F#3 B3",
    "D2 A2 D3 G3 A3 D4",
    "B1 F#2 B2 E3 G#3 C#4",
    "C#2 G#2 C#3 F#3 A#3 D#4",
    "G#1 D#2 G#2 C#3 F#3 A#3 D#4",
    "Bb1 F2 Bb2 Eb3 G3 C4",
)
WAYS: Final = ("pedal", "power chords", "chromatic line", "gallop", "loop off the tonic")
_EIGHTH, _SIXTEENTH = QUARTER // 2, QUARTER // 4
Struck = tuple[int, tuple[int, ...]]  # length, MIDI numbers together


class Riff(NamedTuple):
    """A riff with the tonic (a pitch class) and the mode it was made in."""

    name: str
    tonic: int
    mode: Mode
    lesson: Lesson


def riffs() -> Iterator[Riff]:
    """All of them, the same each time."""
    for at, mode in enumerate(Mode):
        for way, name in enumerate(WAYS):
            setup = tuned(TUNINGS[(at + way) % len(TUNINGS)])
            yield _riff(f"{mode} {name}", mode, way, setup)


def _riff(name: str, mode: Mode, way: int, setup: Setup) -> Riff:
    draw = Random(sha1(name.encode()).digest())
    low = named_fretted(setup, len(setup.courses))
    if way in (0, 1):
        tonic = low
    elif way == 4:  # the open low string is another note of the scale
        tonic = low + 12 - draw.choice(mode_intervals(mode)[2:])
    else:
        tonic = low + draw.randrange(1, 11)
    play = (_pedal, _power, _line, _gallop, _loop)[way]
    struck = play(draw, _Scale(mode, tonic), low)
    bars: list[list[Note]] = [[]]
    tick = 0
    for length, midis in struck:
        if tick == 4 * QUARTER:
            bars.append([])
            tick = 0
        bars[-1].extend(_fingered(setup, tick, length, midis))
        tick += length
    words = section("A", "r" + " | r" * (len(bars) - 1))
    made = lesson(words, parts=(part("Low", setup),))
    return Riff(name, tonic % 12, mode, _with(made, bars))


def _with(made: Lesson, bars: list[list[Note]]) -> Lesson:
    head = made.sections[0].bars[0].head
    run = (Bar(head, (tuple(sorted(bar, key=lambda n: (n.onset, n.course))),)) for bar in bars)
    return replace(made, sections=(replace(made.sections[0], bars=Bars.of(run)),))


def _fingered(setup: Setup, tick: int, length: int, midis: tuple[int, ...]) -> Iterator[Note]:
    """Each note at the lowest fret of a string that is still free."""
    free = list(range(len(setup.courses), 0, -1))
    for midi in midis:
        frets = {course: midi - named_fretted(setup, course) for course in free}
        course = min((one for one in free if frets[one] >= 0), key=lambda one: frets[one])
        free.remove(course)
        yield Note(tick, length, course, frets[course])


class _Scale:
    """The notes of a mode over two octaves from a tonic, and which a riff must not leave out."""

    def __init__(self, mode: Mode, tonic: int) -> None:
        self.tonic = tonic
        self.steps = mode_intervals(mode)
        key = Key(plain_name(tonic), mode)
        needed = {degree_semitones(one) for one in colour_degrees(key)} | {0}
        self.needed = sorted(needed | {one for one in self.steps if one in (3, 4)})

    def notes(self, draw: Random, count: int) -> list[int]:
        """A melody of ``count`` notes: mostly steps, with every needed note in it."""
        ladder = [octave + step for octave in (0, 12) for step in self.steps]
        at = draw.randrange(len(self.steps))
        line = []
        for _ in range(count):
            line.append(ladder[at])
            at = max(0, min(len(ladder) - 1, at + draw.choice((-2, -1, -1, 1, 1, 2))))
        heard = {one % 12 for one in line}
        optional = [one for one in self.steps if one not in self.needed]
        left_out = draw.choice(optional) if optional and len(self.steps) > 6 else None
        for missing in (one for one in self.steps if one not in heard | {left_out}):
            doubled = [at for at, one in enumerate(line) if line.count(one) > 1]
            if doubled:
                line[draw.choice(doubled)] = missing
        return [self.tonic + one for one in line]


def _pedal(draw: Random, scale: _Scale, low: int) -> Iterator[Struck]:
    """Eighths: the open string, a note over it, twice two bars."""
    for note in scale.notes(draw, 16):
        yield _EIGHTH, (low,)
        yield _EIGHTH, (note if note > low else note + 12,)


def _power(draw: Random, scale: _Scale, _low: int) -> Iterator[Struck]:
    """Power chords on the degrees over a muted tonic, a run at the end of every other bar."""
    chords = [one - scale.tonic for one in scale.notes(draw, 6)]
    run = scale.notes(draw, 16)
    for bar in range(4):
        root = scale.tonic if bar == 0 else scale.tonic + chords[bar] % 12
        yield QUARTER, (root, root + 7, root + 12)
        yield _EIGHTH, (scale.tonic,)
        yield _EIGHTH, (scale.tonic,)
        if bar % 2 == 0:
            other = scale.tonic + chords[bar + 2] % 12
            yield QUARTER, (other, other + 7)
            yield QUARTER, (scale.tonic,)
        else:
            for note in run[bar // 2 * 8 : bar // 2 * 8 + 8]:
                yield _SIXTEENTH, (note + 12,)


def _line(draw: Random, scale: _Scale, _low: int) -> Iterator[Struck]:
    """Single notes, home at every other bar line; a semitone between two whole steps is filled."""
    notes = [scale.tonic, *scale.notes(draw, 15), scale.tonic, *scale.notes(draw, 15), scale.tonic]
    filled = 0
    for note, following in pairwise(notes):
        gap = following - note
        if abs(gap) == 2 and filled < 3 and draw.random() < 0.4:
            filled += 1
            yield _SIXTEENTH, (note,)
            yield _SIXTEENTH, (note + gap // 2,)
        else:
            yield _EIGHTH, (note,)


def _gallop(draw: Random, scale: _Scale, _low: int) -> Iterator[Struck]:
    """A fretted tonic galloped, a stab of a note on every other beat, two bars twice."""
    for note in scale.notes(draw, 8):
        yield _EIGHTH, (scale.tonic,)
        yield _SIXTEENTH, (scale.tonic,)
        yield _SIXTEENTH, (scale.tonic,)
        yield QUARTER, (note + 12,)


def _loop(draw: Random, scale: _Scale, low: int) -> Iterator[Struck]:
    """A loop that begins a step away and comes home on the second bar; the low string drones."""
    away = scale.tonic + scale.steps[-1] - 12
    away = away if away >= low else scale.tonic + scale.steps[-1]
    for half in range(2):
        notes = scale.notes(draw, 12)
        yield QUARTER, (away,)
        for note in notes[:6]:
            yield _EIGHTH, (note,)
        yield QUARTER + _EIGHTH, (scale.tonic, scale.tonic + 7)
        yield _EIGHTH, (low if half else scale.tonic,)
        for note in notes[6:10]:
            yield _EIGHTH, (note,)
