"""How far a setup's strings are from standard tuning.

Conventions
-----------
- Steps are whole semitones (positive: up) and the cents that remain, at the setup's own A4.
- The standard of each number of courses is ``model.standards``; a course of several strings has
  each string at the standard of its course, in the octave in which it stands beside the first.
- Tension changes are those of the same string, in lb; None where its weight is not known.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model.pitch import OCTAVE_MAX, OCTAVE_MIN, midi_of
from chalkfret.model.setup import Course, GuitarString, Setup
from chalkfret.model.standards import STANDARDS, nearest_standard
from chalkfret.strings.tension import tension


class Step(Struct, frozen=True):
    """What one string does from standard tuning to where it is."""

    course: int  # from 1
    string: int  # from 0 within its course
    standard: str  # the pitch name it comes from
    pitch: str  # the pitch name it goes to
    semitones: int
    cents: float
    change_lb: float | None


def standard_of(setup: Setup) -> tuple[str, ...]:
    """The standard tuning from which the setup is reckoned, low to high."""
    choices = STANDARDS[len(setup.courses)]
    pitches = [midi_of(course.strings[0].pitch) for course in reversed(setup.courses)]
    costs = [
        sum(abs(midi - midi_of(name)) for midi, name in zip(pitches, names, strict=True))
        for names in choices
    ]
    return choices[nearest_standard(costs)]


@lru_cache(maxsize=512)
def from_standard(setup: Setup) -> tuple[Step, ...]:
    """The steps of every string from standard tuning, course 1 first."""
    steps: list[Step] = []
    for number, name in enumerate(reversed(standard_of(setup)), start=1):
        first = setup.course(number).strings[0]
        for index, string in enumerate(setup.course(number).strings):
            apart = midi_of(string.pitch) - midi_of(first.pitch)
            octaves = round(apart / 12)
            steps.append(_step(setup, number, index, string, octaves_up(name, octaves)))
    return tuple(steps)


def octaves_up(name: str, octaves: int) -> str:
    """A pitch name so many octaves higher, within those that have names."""
    octave = int(name[-1]) + octaves
    return f"{name[:-1]}{min(max(octave, OCTAVE_MIN), OCTAVE_MAX)}"


def _step(setup: Setup, course: int, index: int, string: GuitarString, standard: str) -> Step:
    now = tension(string, setup)
    before = tension(replace(string, pitch=standard, cents=0.0), setup)
    change = None if now is None or before is None else now.lb - before.lb
    return Step(
        course=course,
        string=index,
        standard=standard,
        pitch=string.pitch,
        semitones=midi_of(string.pitch) - midi_of(standard),
        cents=string.cents,
        change_lb=change,
    )


@lru_cache(maxsize=512)
def in_standard(setup: Setup) -> Setup:
    """The same strings in standard tuning, without cents."""
    pitches = iter(step.standard for step in from_standard(setup))
    courses = tuple(
        Course(tuple(replace(string, pitch=next(pitches), cents=0.0) for string in course.strings))
        for course in setup.courses
    )
    return replace(setup, courses=courses)


def total_change_lb(setup: Setup) -> float | None:
    """The change of total tension against standard tuning with the same strings, in lb.

    None where the weight of any string is not known: half a sum would mislead.
    """
    total = 0.0
    for step in from_standard(setup):
        if step.change_lb is None:
            return None
        total += step.change_lb
    return total
