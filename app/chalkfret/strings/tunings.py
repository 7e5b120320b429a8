"""The trade's tunings by name, low to high (common practice).

A course of several strings is written with a slash: ``E2/E3`` are a string and its octave. In
brackets stands what else the tuning is called.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model.pitch import midi_of
from chalkfret.model.setup import Setup


class Tuning(Struct, frozen=True):
    """A tuning; ``courses`` low to high, each the pitches of its strings."""

    name: str
    also: str  # what else it is called, or empty
    courses: tuple[tuple[str, ...], ...]

    @property
    def pitches(self) -> tuple[str, ...]:
        """The pitch of each course's first string, low to high."""
        return tuple(course[0] for course in self.courses)


_TABLE: Final = """
Standard: E2 A2 D3 G3 B3 E4
E flat standard (half step down): Eb2 Ab2 Db3 Gb3 Bb3 Eb4
D standard (whole step down): D2 G2 C3 F3 A3 D4
C sharp standard: C#2 F#2 B2 E3 G#3 C#4
C standard (baritone C): C2 F2 Bb2 Eb3 G3 C4
B standard (baritone B): B1 E2 A2 D3 F#3 B3
A standard (baritone A): A1 D2 G2 C3 E3 A3
Drop D: D2 A2 D3 G3 B3 E4
Double drop D: D2 A2 D3 G3 B3 D4
Drop C sharp: C#2 G#2 C#3 F#3 A#3 D#4
Drop C: C2 G2 C3 F3 A3 D4
Drop B: B1 F#2 B2 E3 G#3 C#4
Drop A sharp: A#1 F2 A#2 D#3 G3 C4
Drop A (baritone drop A): A1 E2 A2 D3 F#3 B3
Open G: D2 G2 D3 G3 B3 D4
Open D: D2 A2 D3 F#3 A3 D4
Open C: C2 G2 C3 G3 C4 E4
Open E: E2 B2 E3 G#3 B3 E4
Open A: E2 A2 E3 A3 C#4 E4
Open D minor: D2 A2 D3 F3 A3 D4
Open G minor: D2 G2 D3 G3 Bb3 D4
Open C minor: C2 G2 C3 G3 C4 Eb4
Open E minor: E2 B2 E3 G3 B3 E4
Open C6: C2 A2 C3 G3 C4 E4
DADGAD (D sus 4): D2 A2 D3 G3 A3 D4
DADEAD (D sus 2): D2 A2 D3 E3 A3 D4
CGDGCD (C sus 2): C2 G2 D3 G3 C4 D4
DGDGCD (G sus 4): D2 G2 D3 G3 C4 D4
All fourths: E2 A2 D3 G3 C4 F4
All fifths: C2 G2 D3 A3 E4 B4
Major thirds: E2 G#2 C3 E3 G#3 C4
High-strung: E3 A3 D4 G4 B3 E4
Seven-string standard: B1 E2 A2 D3 G3 B3 E4
Seven-string drop A: A1 E2 A2 D3 G3 B3 E4
Seven-string half step down: Bb1 Eb2 Ab2 Db3 Gb3 Bb3 Eb4
Seven-string A standard: A1 D2 G2 C3 F3 A3 D4
Seven-string drop G: G1 D2 G2 C3 F3 A3 D4
Eight-string standard: F#1 B1 E2 A2 D3 G3 B3 E4
Eight-string drop E: E1 B1 E2 A2 D3 G3 B3 E4
Eight-string half step down: F1 Bb1 Eb2 Ab2 Db3 Gb3 Bb3 Eb4
Nine-string standard: C#1 F#1 B1 E2 A2 D3 G3 B3 E4
Twelve-string standard: E2/E3 A2/A3 D3/D4 G3/G4 B3/B3 E4/E4
Twelve-string half step down: Eb2/Eb3 Ab2/Ab3 Db3/Db4 Gb3/Gb4 Bb3/Bb3 Eb4/Eb4
Twelve-string whole step down: D2/D3 G2/G3 C3/C4 F3/F4 A3/A3 D4/D4
Twelve-string drop D: D2/D3 A2/A3 D3/D4 G3/G4 B3/B3 E4/E4
Bass, four strings: E1 A1 D2 G2
Bass, four strings, drop D: D1 A1 D2 G2
Bass, five strings: B0 E1 A1 D2 G2
Bass, six strings: B0 E1 A1 D2 G2 C3
Six-string bass, an octave below the guitar: E1 A1 D2 G2 B2 E3
Tenor guitar: C3 G3 D4 A4
Octave fiddle tuning: G2 D3 A3 E4
Guitar's first four strings: D3 G3 B3 E4
Ukulele: G4 C4 E4 A4
Five strings, open G: G2 D3 G3 B3 D4
Box guitar, open G: G2 D3 G3
"""


def _read(table: str) -> tuple[Tuning, ...]:
    tunings: list[Tuning] = []
    for line in table.strip().splitlines():
        names, _, row = line.partition(": ")
        name, _, also = names.rstrip(")").partition(" (")
        tunings.append(Tuning(name, also, tuple(tuple(one.split("/")) for one in row.split())))
    return tuple(tunings)


TUNINGS: Final = _read(_TABLE)
_USUAL: Final = ("Standard", "Drop D", "D standard", "Drop C")


def _plain(name: str) -> str:
    small = name.casefold().replace("♯", " sharp").replace("#", " sharp").replace("-", " ")
    return " ".join(small.split())


@lru_cache(maxsize=1)
def _by_name() -> dict[str, Tuning]:
    names: dict[str, Tuning] = {}
    for tuning in TUNINGS:
        for name in (tuning.name, tuning.also):
            names.setdefault(_plain(name), tuning)
    del names[""]  # most tunings have no other name
    return names


def named(text: str) -> Tuning | None:
    """The tuning that is called so, in any case of letters: ``named("drop d")``; or None."""
    return _by_name().get(_plain(text))


def usual_tunings() -> tuple[Tuning, ...]:
    """Standard and the usual low ones: what most students' guitars are in (common practice)."""
    return tuple(tuning for name in _USUAL if (tuning := named(name)) is not None)


def tunings_for(courses: int) -> tuple[Tuning, ...]:
    """The trade's tunings for so many courses, in the order of the table."""
    return tuple(tuning for tuning in TUNINGS if len(tuning.courses) == courses)


def name_of(setup: Setup) -> str | None:
    """What the trade calls the setup's tuning, or None where it has no name.

    Spellings do not matter (A sharp standard is B flat standard); cents and the capo are not part
    of a tuning. Courses of several strings are told apart from single ones.
    """
    here = tuple(_sounds(string.pitch for string in course.strings) for course in setup.courses)
    tuning = _by_sound().get(here[::-1])
    return None if tuning is None else tuning.name


@lru_cache(maxsize=1)
def _by_sound() -> dict[tuple[tuple[int, ...], ...], Tuning]:
    return {tuple(map(_sounds, tuning.courses)): tuning for tuning in TUNINGS}


def _sounds(pitches: Iterable[str]) -> tuple[int, ...]:
    return tuple(map(midi_of, pitches))
