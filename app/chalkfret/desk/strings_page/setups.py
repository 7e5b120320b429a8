"""What the Strings page does to a setup: plain functions from a setup to a setup.

Courses count from 1 (treble), strings within a course from 0; pitches stand low to high, as the
teacher types them.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Any

from msgspec.structs import replace

from chalkfret.model import Course, GuitarString, NoteNaming, Setup, Winding
from chalkfret.model.limits import STRINGS_PER_COURSE_MAX
from chalkfret.model.pitch import midi_of, note_of
from chalkfret.model.standards import STANDARDS
from chalkfret.model.start import STANDARD_SETUP

WOUND_FROM = 0.020  # inches; thinner strings of common electric sets are plain (common practice)
_OCTAVE_FROM = 3  # of a twelve-string's courses, those paired in octaves (common practice)


class Doubling(StrEnum):
    """How many strings a course has."""

    SINGLE = "single"
    TWELVE = "twelve"
    UNISON = "unison"
    MIXED = "mixed"  # made course by course


def with_pitches(setup: Setup, pitches: Sequence[str]) -> Setup:
    """The setup tuned to these pitches, low to high; as many strings as there are pitches.

    Strings are added and taken away on the low side, where guitars grow; the other strings of a
    course keep their distance from its first.
    """
    sized = with_count(setup, len(pitches))
    courses = tuple(
        _tuned(course, pitch)
        for course, pitch in zip(sized.courses, reversed(pitches), strict=True)
    )
    return setup if courses == setup.courses else _named(setup, replace(sized, courses=courses))


def with_courses(setup: Setup, courses: Sequence[Sequence[str]]) -> Setup:
    """The setup tuned to these courses, low to high, each with the pitches of its strings."""
    tuned = with_pitches(setup, [course[0] for course in courses])
    made = tuple(
        _strung(course, pitches)
        for course, pitches in zip(tuned.courses, reversed(courses), strict=True)
    )
    return tuned if made == tuned.courses else replace(tuned, courses=made)


def _strung(course: Course, pitches: Sequence[str]) -> Course:
    """The course with as many strings as pitches; strings that are there keep what they are."""
    have = [replace(one, pitch=pitch) for one, pitch in zip(course.strings, pitches, strict=False)]
    return Course((*have, *map(GuitarString, pitches[len(have) :])))


def _named(before: Setup, after: Setup) -> Setup:
    """The new tuning's name, unless the teacher gave the setup a name of its own."""
    if before.name not in ("", STANDARD_SETUP.name, _usual_name(before)):
        return after
    return replace(after, name=_usual_name(after))


def _usual_name(setup: Setup) -> str:
    from chalkfret.strings.tunings import name_of
    from chalkfret.words.strings import tuning_row

    return name_of(setup) or tuning_row(setup)


def _tuned(course: Course, pitch: str) -> Course:
    first, *others = course.strings
    shift = midi_of(pitch) - midi_of(first.pitch)
    moved = (replace(one, pitch=moved_pitch(one.pitch, shift, pitch)) for one in others)
    return Course((replace(first, pitch=pitch), *moved))


def moved_pitch(pitch: str, semitones: int, like: str | None = None) -> str:
    """A pitch so many semitones away; spelled like the note ``like`` where it is that note."""
    from chalkfret.theory.spelling import pitch_name

    if semitones == 0:
        return pitch
    midi = min(119, max(12, midi_of(pitch) + semitones))
    return pitch_name(midi, None, wish=note_of(like) if like else None)


def with_count(setup: Setup, count: int) -> Setup:
    """The setup with so many courses; new ones are tuned as the usual wider guitar is."""
    have = len(setup.courses)
    if count <= have:
        return setup if count == have else _cut(setup, count)
    standard = tuple(reversed(STANDARDS[count][0]))  # from course 1
    added = []
    below = setup.courses[-1].strings[0]
    for course in range(have, count):
        step = midi_of(standard[course]) - midi_of(standard[course - 1])
        below = GuitarString(moved_pitch(below.pitch, step), winding=Winding.NICKEL_ROUND)
        added.append(Course((below,)))
    return replace(setup, courses=(*setup.courses, *added))


def _cut(setup: Setup, count: int) -> Setup:
    capo = setup.capo
    if capo is not None and capo.courses:
        over = tuple(course for course in capo.courses if course <= count)
        capo = replace(capo, courses=over) if over else None
    return replace(setup, courses=setup.courses[:count], capo=capo)


def with_string(setup: Setup, course: int, string: int, **fields: Any) -> Setup:
    """The setup with these fields of one string changed."""
    strings = setup.course(course).strings
    one = strings[string]
    if fields.get("gauge") is not None and one.gauge is None and "winding" not in fields:
        wound = fields["gauge"] >= WOUND_FROM
        fields["winding"] = Winding.NICKEL_ROUND if wound else Winding.PLAIN
    changed = replace(one, **fields)
    return with_course(setup, course, Course((*strings[:string], changed, *strings[string + 1 :])))


def with_course(setup: Setup, number: int, course: Course) -> Setup:
    """The setup with one course replaced."""
    courses = setup.courses
    return replace(setup, courses=(*courses[: number - 1], course, *courses[number:]))


def with_strings_in(setup: Setup, number: int, count: int) -> Setup:
    """The setup with so many strings in one course; a new one lies an octave above the first."""
    strings = setup.course(number).strings[:count]
    while len(strings) < min(count, STRINGS_PER_COURSE_MAX):
        strings = (*strings, GuitarString(moved_pitch(strings[0].pitch, 12, strings[0].pitch)))
    return with_course(setup, number, Course(strings))


def doubled(setup: Setup, doubling: Doubling) -> Setup:
    """The setup with all courses single, all in pairs of the same pitch, or as a twelve-string.

    A twelve-string pairs its two thinnest courses in unison and the others in octaves (common
    practice). Strings that are there keep their gauges.
    """
    if doubling is Doubling.MIXED:
        return setup
    courses = []
    for number, course in enumerate(setup.courses, start=1):
        first = course.strings[0]
        if doubling is Doubling.SINGLE:
            courses.append(Course((first,)))
            continue
        octave = doubling is Doubling.TWELVE and number >= _OCTAVE_FROM
        pitch = moved_pitch(first.pitch, 12, first.pitch) if octave else first.pitch
        second = course.strings[1] if len(course.strings) > 1 else GuitarString(pitch)
        if len(course.strings) < 2 and not octave:
            second = replace(first, cents=0.0)
        courses.append(Course((first, replace(second, pitch=pitch))))
    return replace(setup, courses=tuple(courses))


def doubling_of(setup: Setup) -> Doubling:
    """How the setup's courses are made."""
    if all(len(course.strings) == 1 for course in setup.courses):
        return Doubling.SINGLE
    return next(
        (kind for kind in (Doubling.TWELVE, Doubling.UNISON) if _is_like(setup, kind)),
        Doubling.MIXED,
    )


def _is_like(setup: Setup, kind: Doubling) -> bool:
    made = doubled(setup, kind)
    return _pitches(made) == _pitches(setup)


def _pitches(setup: Setup) -> list[list[int]]:
    return [[midi_of(one.pitch) for one in course.strings] for course in setup.courses]


def tuning_text(pitches: Sequence[str], naming: NoteNaming) -> str:
    """A tuning as one types it: pitches with octaves, low to high."""
    from chalkfret.theory.naming import shown

    return " ".join(shown(pitch, naming) for pitch in pitches)
