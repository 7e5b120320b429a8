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
from chalkfret.model.start import plain_setup
from chalkfret.strings.tunings import usual_tunings

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


def students_of(lesson: Lesson) -> tuple[StudentSetup, ...]:
    """The lesson's list of students' setups; where it has none, the usual tunings."""
    return lesson.head.students or tuple(
        StudentSetup(one.name, plain_setup(one.pitches, [None] * len(one.pitches), name=one.name))
        for one in usual_tunings()
    )


def student_card(
    lesson: Lesson, students: Iterable[StudentSetup], part: int
) -> tuple[StudentPart, ...]:
    """For each student's setup what to play of a part, with the other fingering it may need."""
    return tuple(_with_fingering(lesson, advised(lesson, one, part)) for one in students)


def advised(lesson: Lesson, student: StudentSetup, part: int) -> StudentPart:
    """What is best on a student's setup; another fingering is not looked for yet."""
    setup = student.setup
    frets = same_frets(lesson, part, setup)
    if frets.shift == 0:
        return StudentPart(student.name, part, Advice.AS_WRITTEN, setup, frets)
    capo = with_capo(lesson, part, setup)
    if capo is not None:
        return StudentPart(student.name, part, Advice.CAPO, capo, frets)
    return StudentPart(student.name, part, Advice.FINGERED, setup, frets)


def _with_fingering(lesson: Lesson, one: StudentPart) -> StudentPart:
    if one.advice is not Advice.FINGERED:
        return one
    return replace(one, fingered=same_pitch(lesson, one.part, one.setup))


def with_capo(lesson: Lesson, part: int, setup: Setup) -> Setup | None:
    """The setup with a capo that makes the same frets sound as written; None where none does."""
    shift = same_frets(lesson, part, setup).shift
    if setup.capo is not None or shift is None or not 1 <= -shift <= CAPO_MAX:
        return None
    capoed = replace(setup, capo=Capo(-shift))
    return capoed if same_frets(lesson, part, capoed).shift == 0 else None
