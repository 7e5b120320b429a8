"""An instrument as strung and tuned.

Conventions
-----------
- Courses (players say strings) are numbered from 1, the treble side first, as tab counts them;
  ``Setup.courses[0]`` is course 1.
- Players name a tuning low to high, so ``tuning_names`` turns the order round.
- Gauges are inches, scale lengths and heights millimetres, unit weights pounds an inch, as the
  trade prints them (strings are sold in thousandths of an inch).
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from msgspec import Meta

from chalkfret.model import limits
from chalkfret.model.pitch import PitchName, midi_of
from chalkfret.model.value import Figures, Value


class Winding(StrEnum):
    """How a string is made; the names are those of the families in the string table."""

    PLAIN = "plain_steel"
    NICKEL_ROUND = "nickel_round"
    STEEL_ROUND = "steel_round"
    STEEL_FLAT = "steel_flat"
    BRONZE_ROUND = "bronze_round"
    NYLON = "nylon"
    OTHER = "other"


class GuitarString(Figures, frozen=True):
    """One physical string: what it is tuned to and what it is made of."""

    pitch: PitchName
    cents: limits.Cents = 0.0  # offset from the named pitch
    gauge: limits.Gauge | None = None  # inches
    winding: Winding = Winding.PLAIN
    core_gauge: limits.Gauge | None = None  # inches, where the maker tells
    unit_weight: Annotated[float, Meta(gt=0.0, le=0.1)] | None = None  # lb/in, overrides the table
    scale_mm: limits.ScaleMm | None = None  # its own scale length; None: the setup's
    first_fret: limits.Fret = 0  # the fret at which a short string starts

    @property
    def midi(self) -> float:
        """The open pitch as a MIDI number, cents included, without capo."""
        return midi_of(self.pitch) + self.cents / 100


class Course(Value, frozen=True):
    """One string, or several that are played as one (twelve-string: six courses of two).

    The first string is the one that names the course's pitch.
    """

    strings: Annotated[
        tuple[GuitarString, ...], Meta(min_length=1, max_length=limits.STRINGS_PER_COURSE_MAX)
    ]


class Capo(Value, frozen=True):
    """A capo: its fret, and the courses it covers (none named: all)."""

    fret: Annotated[int, Meta(ge=1, le=limits.FRET_MAX)]
    courses: tuple[limits.CourseNumber, ...] = ()

    def covers(self, course: int) -> bool:
        """Whether the capo lies over this course."""
        return not self.courses or course in self.courses


class Setup(Figures, frozen=True, weakref=True, cache_hash=True):
    """A guitar as strung and tuned: 3 to 12 courses."""

    name: limits.Line
    courses: Annotated[
        tuple[Course, ...], Meta(min_length=limits.COURSES_MIN, max_length=limits.COURSES_MAX)
    ]
    scale_mm: limits.ScaleMm = 647.7
    fret_count: Annotated[int, Meta(ge=1, le=limits.FRET_MAX)] = 22
    capo: Capo | None = None
    a4: limits.ReferenceHz = 440.0  # Hz
    nut_height_mm: Annotated[float, Meta(ge=0.0, le=10.0)] | None = None
    saddle_height_mm: Annotated[float, Meta(ge=0.0, le=30.0)] | None = None

    def course(self, number: int) -> Course:
        """The course with this number, from 1."""
        return self.courses[number - 1]

    def capo_fret(self, course: int) -> int:
        """The capo's fret over this course, or 0."""
        return self.capo.fret if self.capo is not None and self.capo.covers(course) else 0

    def scale_of(self, string: GuitarString) -> float:
        """The scale length in mm of one of the setup's strings."""
        return self.scale_mm if string.scale_mm is None else string.scale_mm


def tuning_names(setup: Setup) -> tuple[str, ...]:
    """The pitch names of the courses, low to high as players say them (position, not pitch)."""
    return tuple(course.strings[0].pitch for course in reversed(setup.courses))
