"""What there is to say of guitars: tuning, the way there, the feel of the strings, students."""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.arrange.same_frets import same_frets
from chalkfret.arrange.students import with_capo
from chalkfret.model.faults import Where
from chalkfret.model.lesson import Lesson, Part, StudentSetup, setup_in
from chalkfret.model.pitch import midi_of, note_of
from chalkfret.model.setup import Setup, tuning_names
from chalkfret.strings.retune import in_standard, total_change_lb
from chalkfret.strings.tension import LIGHTEST_COMMON, tension, total_tension
from chalkfret.strings.tunings import name_of
from chalkfret.theory.sounding import named_fretted
from chalkfret.words.talk.facts import (
    Fact,
    Feel,
    Retuning,
    StringPull,
    StringStep,
    Student,
    Tuned,
)


def of_part(index: int, part: Part) -> Iterator[Fact]:
    """The tuning of a part, how to get there from standard, and its strings."""
    where, paths = Where(part=part.name), (f"parts[{index}].setup",)
    setup = part.setup
    yield Fact(_tuned(part.name, setup), None, part.id, where, paths)
    steps = Retuning(
        part.name, False, _notes(in_standard(setup)), steps_between(in_standard(setup), setup)
    )
    yield Fact(steps, None, part.id, where, paths)
    feel = _feel(part)
    if feel is not None:
        yield Fact(feel, None, part.id, where, paths)


def of_retune(lesson: Lesson, index: int) -> Iterator[Fact]:
    """The tunings that hold in a section alone, and how to get there."""
    section = lesson.sections[index]
    for at, retune in enumerate(section.head.retunes):
        place, part = next(
            (place, part) for place, part in enumerate(lesson.parts) if part.id == retune.part
        )
        where = Where(section=section.head.letter, part=part.name)
        path = f"sections[{index}].head.retunes[{at}]"
        tuned = _tuned(part.name, retune.setup)
        yield Fact(tuned, section.id, part.id, where, (path,))
        steps = steps_between(part.setup, retune.setup)
        way = Retuning(part.name, True, _notes(part.setup), steps)
        yield Fact(way, section.id, part.id, where, (path, f"parts[{place}].setup"))


def of_students(lesson: Lesson) -> Iterator[Fact]:
    """What each of the lesson's students has to know; with none named, one in standard tuning."""
    for index, part in enumerate(lesson.parts):
        given = lesson.head.students
        strings = _strings_played(lesson, index)
        students = given or (StudentSetup("", in_standard(part.setup)),)
        for at, student in enumerate(students):
            paths = [f"parts[{index}].setup"]
            for number in range(len(lesson.sections)):
                paths += [f"sections[{number}].bars", f"sections[{number}].head.retunes"]
            if given:
                paths.append(f"head.students[{at}]")
            yield Fact(
                _student(lesson, student, index, strings),
                None,
                f"{part.id}.{at + 1}",
                Where(part=part.name),
                tuple(paths),
            )


def steps_between(before: Setup, after: Setup) -> tuple[StringStep, ...]:
    """What each string does from one tuning to another of as many strings, lowest first.

    The first string of a course speaks for it. Strings that stay are listed with 0 semitones.
    """
    numbers = range(len(after.courses), 0, -1)
    return tuple(_step(number, before, after) for number in numbers)


def _step(number: int, before: Setup, after: Setup) -> StringStep:
    old, new = (setup.course(number).strings[0] for setup in (before, after))
    semitones = midi_of(new.pitch) - midi_of(old.pitch)
    return StringStep(number, note_of(new.pitch), semitones, new.cents)


def _notes(setup: Setup) -> tuple[str, ...]:
    return tuple(map(note_of, tuning_names(setup)))


def _tuned(part: str, setup: Setup) -> Tuned:
    capo = setup.capo
    return Tuned(
        part=part,
        name=name_of(setup),
        notes=_notes(setup),
        capo=0 if capo is None else capo.fret,
        capo_strings=() if capo is None else capo.courses,
    )


def _feel(part: Part) -> Feel | None:
    """The strings of a part; None where neither a gauge nor a weight is known."""
    setup = part.setup
    gauges = tuple(
        tuple(
            None if string.gauge is None else round(string.gauge * 1000, 1)
            for string in course.strings
        )
        for course in setup.courses
    )
    pulls = [
        StringPull(number, round(pull.lb, 1))
        for number, course in enumerate(setup.courses, start=1)
        if (pull := tension(course.strings[0], setup)) is not None
    ]
    if not pulls and not any(gauge for course in gauges for gauge in course):
        return None
    total, change = total_tension(setup), total_change_lb(setup)
    outside = [
        StringPull(number, round(pull.lb, 1))
        for number, course in enumerate(setup.courses, start=1)
        if (pull := tension(course.strings[0], setup)) is not None and pull.outside_common_sets
    ]
    return Feel(
        part=part.name,
        gauges=gauges,
        lb=None if total.unknown else round(total.lb, 1),
        change_lb=None if change is None else round(change, 1),
        tightest=max(pulls, key=lambda pull: pull.lb, default=None),
        loosest=min(pulls, key=lambda pull: pull.lb, default=None),
        light=tuple(one for one in outside if one.lb <= LIGHTEST_COMMON),
        heavy=tuple(one for one in outside if one.lb > LIGHTEST_COMMON),
    )


def _strings_played(lesson: Lesson, index: int) -> tuple[int, ...]:
    """The strings on which a part plays in its own tuning, the lowest first."""
    part = lesson.parts[index]
    strings = {
        note.course
        for section in lesson.sections
        if setup_in(section, part) is part.setup
        for bar in section.bars
        for note in bar.notes[index]
    }
    return tuple(sorted(strings, reverse=True))


def _student(
    lesson: Lesson, student: StudentSetup, index: int, strings: tuple[int, ...]
) -> Student:
    theirs, part = student.setup, lesson.parts[index]
    ours = part.setup
    as_many = len(theirs.courses) == len(ours.courses)
    steps = steps_between(theirs, ours) if as_many else ()
    frets = same_frets(lesson, index, theirs)
    capo = with_capo(lesson, index, theirs) if frets.shift else None
    return Student(
        student=student.name,
        part=part.name,
        strings=len(theirs.courses),
        part_strings=len(ours.courses),
        shift=frets.shift,
        missing=frets.missing,
        apart=tuple(
            (number, named_fretted(theirs, number) - named_fretted(ours, number))
            for number in strings
        )
        if as_many
        else (),
        capo=0 if capo is None or capo.capo is None else capo.capo.fret,
        steps=steps if any(step.semitones or step.cents for step in steps) else (),
    )
