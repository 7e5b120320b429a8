"""The rules of a lesson that types alone cannot say.

``validate`` takes a lesson whose values are each within their types' bounds (``limits``) and
returns what is wrong with them together: the invariants that every edit keeps and every file must
hold. It is written for speed first, since every load of a file passes through it: a bar is judged
as a whole, and only a bar at fault is looked at note by note.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import islice

from chalkfret.model.bars import Bar, BarHead, Notes
from chalkfret.model.faults import Fault, Where, fault
from chalkfret.model.lesson import Lesson, Part
from chalkfret.model.marks import Mark, bends_rise, in_order
from chalkfret.model.meter import DENOMINATORS
from chalkfret.model.repeats import too_long_played
from chalkfret.model.section import Section
from chalkfret.model.setup import Setup

MOST_FAULTS = 20


def validate(lesson: Lesson, most: int = MOST_FAULTS) -> tuple[Fault, ...]:
    """What breaks the lesson's rules, at most ``most`` faults; empty for a sound lesson."""
    return tuple(islice(_faults(lesson), most))


def _faults(lesson: Lesson) -> Iterator[Fault]:
    yield from _names(lesson)
    for part in lesson.parts:
        yield from _setup(part.setup, Where(part=part.name))
    for student in lesson.head.students:
        yield from _setup(student.setup, Where(path=student.name))
    known = {section.id for section in lesson.sections}
    for entry in lesson.head.order:
        if entry.section not in known:
            yield fault("order_unknown_section", Where(path="order"), id=entry.section)
    yield from too_long_played(lesson)
    for section in lesson.sections:
        yield from _section(section, lesson.parts)


def _names(lesson: Lesson) -> Iterator[Fault]:
    yield from _doubles("part_id_twice", (part.id for part in lesson.parts))
    yield from _doubles("part_name_twice", (part.name for part in lesson.parts))
    yield from _doubles("section_id_twice", (section.id for section in lesson.sections))
    yield from _doubles("letter_twice", (section.head.letter for section in lesson.sections))
    cues = (cue.id for section in lesson.sections for cue in section.head.cues)
    yield from _doubles("cue_id_twice", cues)


def _doubles(code: str, names: Iterable[str]) -> Iterator[Fault]:
    for name, count in Counter(names).items():
        if count > 1:
            yield fault(code, name=name, count=count)


def _setup(setup: Setup, where: Where) -> Iterator[Fault]:
    if setup.capo is not None:
        if setup.capo.fret > setup.fret_count:
            yield fault("capo_beyond_neck", where, fret=setup.capo.fret, frets=setup.fret_count)
        for course in setup.capo.courses:
            if course > len(setup.courses):
                yield fault("capo_course", where, course=course, courses=len(setup.courses))


def _section(section: Section, parts: tuple[Part, ...]) -> Iterator[Fault]:
    where = Where(section=section.head.letter)
    if not len(section.bars):
        yield fault("no_bars", where)
    names = {part.id: part for part in parts}
    for cue in section.head.cues:
        if cue.part is not None and cue.part not in names:
            yield fault("cue_unknown_part", where, id=cue.part)
        if cue.end is not None and cue.end < cue.start:
            yield fault("cue_ends_before_start", where, label=cue.label)
    retuned = Counter(retune.part for retune in section.head.retunes)
    for retune in section.head.retunes:
        if retune.part not in names:
            yield fault("retune_unknown_part", where, id=retune.part)
            continue
        part = names[retune.part]
        here = Where(section=section.head.letter, part=part.name)
        if retuned[retune.part] > 1:
            yield fault("retuned_twice", here)
        if len(retune.setup.courses) != len(part.setup.courses):
            yield fault("retune_courses", here, have=len(retune.setup.courses),
                        need=len(part.setup.courses))  # fmt: skip
        yield from _setup(retune.setup, here)
    courses = tuple(len(part.setup.courses) for part in parts)
    for index, bar in enumerate(section.bars):
        if not _bar_is_sound(bar, courses):
            yield from _bar(bar, parts, section.head.letter, index + 1)


def _bar_is_sound(bar: Bar, courses: tuple[int, ...]) -> bool:
    """The fast verdict: True only where ``_bar`` would find nothing."""
    if len(bar.notes) != len(courses) or not _head_is_sound(bar.head):
        return False
    ticks = bar.head.ticks
    for notes, most in zip(bar.notes, courses, strict=True):
        before = -1
        for note in notes:
            course, onset, marks = note.course, note.onset, note.marks
            place = onset * 16 + course  # courses stay below 16, so order is (onset, course)
            if place <= before or course > most or onset + note.length > ticks:
                return False
            if marks and not _marks_are_sound(marks):
                return False
            before = place
    return True


@lru_cache(maxsize=4096)
def _marks_are_sound(marks: tuple[Mark, ...]) -> bool:
    return marks == in_order(marks) and bends_rise(marks)


@lru_cache(maxsize=4096)
def _head_is_sound(head: BarHead) -> bool:
    return not any(_head(head, Where()))


def _head(head: BarHead, where: Where) -> Iterator[Fault]:
    meter = head.meter
    if meter.unit not in DENOMINATORS:
        yield fault("meter_unit", where, unit=meter.unit)
        return
    if head.grouping and (min(head.grouping) < 1 or sum(head.grouping) != meter.count):
        yield fault("grouping_sum", where, sum=sum(head.grouping), count=meter.count)
        return
    if head.pickup is not None and head.pickup > meter.ticks:
        yield fault("pickup_too_long", where, ticks=head.pickup, most=meter.ticks)
        return
    if head.steps:
        beats = head.beats
        if len(head.steps) != len(beats):
            yield fault("steps_count", where, have=len(head.steps), need=len(beats))
        elif any(not 1 <= n <= 16 or beat % n for n, beat in zip(head.steps, beats, strict=True)):
            yield fault("steps_uneven", where)
    if head.passes and min(head.passes) < 1:
        yield fault("pass_number", where, number=min(head.passes))
    if any(pause.tick > head.ticks for pause in head.pauses):
        yield fault("pause_beyond_bar", where)


def _bar(bar: Bar, parts: tuple[Part, ...], letter: str, number: int) -> Iterator[Fault]:
    where = Where(section=letter, bar=number)
    heads = tuple(_head(bar.head, where))
    yield from heads
    if heads:
        return  # without a sound head no onset can be judged
    if len(bar.notes) != len(parts):
        yield fault("part_count", where, have=len(bar.notes), need=len(parts))
        return
    for part, notes in zip(parts, bar.notes, strict=True):
        yield from _notes(notes, part, bar.head.ticks, letter, number)


def _notes(notes: Notes, part: Part, ticks: int, letter: str, number: int) -> Iterator[Fault]:
    most = len(part.setup.courses)
    before = (-1, -1)
    for note in notes:
        where = Where(section=letter, bar=number, part=part.name, course=note.course)
        if note.course > most:
            yield fault("course_beyond_setup", where, course=note.course, courses=most)
        if note.onset + note.length > ticks:
            yield fault("note_beyond_bar", where, end=note.onset + note.length, ticks=ticks)
        place = (note.onset, note.course)
        if place == before:
            yield fault("two_notes_at_once", where, onset=note.onset)
        elif place < before:
            yield fault("notes_out_of_order", where, onset=note.onset)
        before = place
        if note.marks != in_order(note.marks):
            yield fault("marks_out_of_order", where)
        if not bends_rise(note.marks):
            yield fault("bend_runs_back", where)
