"""What a student with another setup is to play: the same frets, with a capo or not, or other ones.

Conventions
-----------
- The best advice is the first of: play as written; the same frets with a capo where it makes
  every note sound as written; the same pitches, fingered anew.
- A capo is advised up to fret ``CAPO_MAX`` (common practice), and only on a setup that has none.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.arrange.same_frets import SameFrets, same_frets
from chalkfret.arrange.same_pitch import Arranged, same_pitch
from chalkfret.model.lesson import Lesson, StudentSetup
from chalkfret.model.setup import Capo, Setup

CAPO_MAX: Final = 9


class Advice(StrEnum):
    """What to play."""

    AS_WRITTEN = "as_written"
    CAPO = "capo"
    FINGERED = "fingered"


class StudentPart(Struct, frozen=True):
    """One part for one student's setup.

    ``setup`` is what to play it on, the capo of the advice included; ``frets`` is what the same
    frets would give without that capo, ``fingered`` the other fingering where it is needed.
    """

    name: str
    part: int
    advice: Advice
    setup: Setup
    frets: SameFrets
    fingered: Arranged | None = None


def student_card(
    lesson: Lesson, students: Iterable[StudentSetup], part: int
) -> tuple[StudentPart, ...]:
    """For each student's setup what to play of a part."""
    return tuple(_student(lesson, student, part) for student in students)


def _student(lesson: Lesson, student: StudentSetup, part: int) -> StudentPart:
    setup = student.setup
    frets = same_frets(lesson, part, setup)
    if frets.shift == 0:
        return StudentPart(student.name, part, Advice.AS_WRITTEN, setup, frets)
    capo = with_capo(lesson, part, setup)
    if capo is not None:
        return StudentPart(student.name, part, Advice.CAPO, capo, frets)
    fingered = same_pitch(lesson, part, setup)
    return StudentPart(student.name, part, Advice.FINGERED, setup, frets, fingered)


def with_capo(lesson: Lesson, part: int, setup: Setup) -> Setup | None:
    """The setup with a capo that makes the same frets sound as written; None where none does."""
    shift = same_frets(lesson, part, setup).shift
    if setup.capo is not None or shift is None or not 1 <= -shift <= CAPO_MAX:
        return None
    capoed = replace(setup, capo=Capo(-shift))
    return capoed if same_frets(lesson, part, capoed).shift == 0 else None
