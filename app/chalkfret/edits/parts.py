"""Edits of parts: the guitars of a lesson, their setups and tone."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import chain
from typing import Any

from msgspec.structs import replace

from chalkfret.edits import names
from chalkfret.edits.cue_places import with_cues
from chalkfret.edits.draft import Draft
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import Spot, check_bars, check_part, check_section, where_of
from chalkfret.edits.replacing import updated, with_part, with_section
from chalkfret.edits.values import fresh, obey, with_fields
from chalkfret.model import Bar, Lesson, Notes, Part, Retune, Section, Setup, Voice, Where
from chalkfret.model.limits import PARTS_MAX

Rows = tuple[Notes, ...]  # the notes of a bar, a part each
ArrangedNotes = Iterable[tuple[int, int, Notes]]  # section, bar and the notes there


def add(lesson: Lesson, name: str, setup: Setup, at: int | None = None) -> Lesson:
    """A new part without notes, as the last or before part ``at``."""
    at = len(lesson.parts) if at is None else at
    part = Part(names.part_id(lesson), name, setup)
    return _added(lesson, part, at, lambda rows: (*rows[:at], (), *rows[at:]))


def copy_from(
    lesson: Lesson, source: int, name: str | None = None, setup: Setup | None = None
) -> Lesson:
    """A new part behind ``source`` with its notes, tone, voice and retunings.

    With another setup it has no retunings, and its notes must fit the strings.
    """
    check_part(lesson, source)
    old = lesson.parts[source]
    wished = name or names.part_name(lesson, old.name)
    part = replace(old, id=names.part_id(lesson), name=wished)
    at = source + 1
    new = _added(lesson, part, at, lambda rows: (*rows[:at], rows[source], *rows[at:]))
    if setup is not None:
        return set_setup(new, at, setup)
    for index, section in enumerate(new.sections):
        retunes = section.head.retunes
        copied = tuple(Retune(part.id, r.setup) for r in retunes if r.part == old.id)
        if copied:
            head = replace(section.head, retunes=(*retunes, *copied))
            new = with_section(new, index, replace(section, head=head))
    return new


def add_arranged(
    lesson: Lesson, source: int, setup: Setup, notes: ArrangedNotes, name: str | None = None
) -> Lesson:
    """A new part behind ``source`` on another setup, with its tone and voice and these notes.

    What is not named stays empty. Its notes must fit the strings.
    """
    check_part(lesson, source)
    old = lesson.parts[source]
    at = source + 1
    wished = names.part_name(lesson, name or old.name)
    part = replace(old, id=names.part_id(lesson), name=wished, setup=setup)
    new = _added(lesson, part, at, lambda rows: (*rows[:at], (), *rows[at:]))
    return _arranged(new, at, notes)


def arrange(lesson: Lesson, part: int, setup: Setup, notes: ArrangedNotes) -> Lesson:
    """A part on another setup in all sections, with these notes in place of its own."""
    check_part(lesson, part)
    player = lesson.parts[part].id
    for index, section in enumerate(lesson.sections):
        retunes = tuple(r for r in section.head.retunes if r.part != player)
        if retunes != section.head.retunes:
            head = replace(section.head, retunes=retunes)
            lesson = with_section(lesson, index, replace(section, head=head))
    silent = (
        (index, at, ())
        for index, section in enumerate(lesson.sections)
        for at in range(len(section.bars))
    )
    # One step, not silence first and then notes: a bar that gets the notes it had stays itself.
    return _arranged(_on_setup(lesson, part, setup), part, chain(silent, notes))


def _on_setup(lesson: Lesson, part: int, setup: Setup) -> Lesson:
    """The lesson with a part's setup replaced, whatever its notes are."""
    old = lesson.parts[part]
    new = with_fields(old, {"setup": setup}, Part, Where(part=old.name))
    return lesson if new is old else obey(with_part(lesson, part, new))


def _arranged(lesson: Lesson, part: int, notes: ArrangedNotes) -> Lesson:
    draft = Draft(lesson)
    courses = len(lesson.parts[part].setup.courses)
    for section, bar, row in notes:
        check_bars(lesson, section, bar, 1)
        for note in row:
            if note.course > courses:
                spot = Spot(section, bar, part, note.onset, note.course)
                raise refuse("course_beyond_setup", where_of(lesson, spot),
                             course=note.course, courses=courses)  # fmt: skip
        draft.put(section, bar, part, row)
    return draft.done()


def _added(lesson: Lesson, part: Part, at: int, rows: Callable[[Rows], Rows]) -> Lesson:
    if len(lesson.parts) >= PARTS_MAX:
        raise refuse("parts_max", most=PARTS_MAX)
    if not 0 <= at <= len(lesson.parts):
        raise refuse("no_such_place")
    part = fresh(part, Part, Where(part=part.name))
    parts = (*lesson.parts[:at], part, *lesson.parts[at:])
    return obey(_with_rows(replace(lesson, parts=parts), rows))


def _with_rows(lesson: Lesson, rows: Callable[[Rows], Rows]) -> Lesson:
    """The lesson with every bar's parts rearranged; bars that were one object stay one."""
    made: dict[int, Bar] = {}

    def bar_of(bar: Bar) -> Bar:
        if id(bar) not in made:
            made[id(bar)] = updated(bar, notes=rows(bar.notes))
        return made[id(bar)]

    def section_of(section: Section) -> Section:
        chunks = tuple(tuple(map(bar_of, chunk)) for chunk in section.bars.chunks)
        return updated(section, bars=updated(section.bars, chunks=chunks))

    return replace(lesson, sections=tuple(map(section_of, lesson.sections)))


def remove(lesson: Lesson, part: int) -> Lesson:
    """Take a part out, with its notes, its own cues and its retunings."""
    check_part(lesson, part)
    if len(lesson.parts) == 1:
        raise refuse("last_part", Where(part=lesson.parts[part].name))
    gone = lesson.parts[part].id
    for index, section in enumerate(lesson.sections):
        head = with_cues(section.head, (c for c in section.head.cues if c.part != gone))
        retunes = tuple(r for r in head.retunes if r.part != gone)
        head = head if retunes == head.retunes else replace(head, retunes=retunes)
        lesson = with_section(lesson, index, replace(section, head=head))
    parts = (*lesson.parts[:part], *lesson.parts[part + 1 :])
    left = replace(lesson, parts=parts)
    return _with_rows(left, lambda rows: (*rows[:part], *rows[part + 1 :]))


def reorder(lesson: Lesson, part: int, to: int) -> Lesson:
    """Move a part to another place in the order of parts."""
    check_part(lesson, part)
    check_part(lesson, to)
    if part == to:
        return lesson
    order = [index for index in range(len(lesson.parts)) if index != part]
    order.insert(to, part)
    parts = tuple(lesson.parts[index] for index in order)
    return _with_rows(
        replace(lesson, parts=parts), lambda rows: tuple(rows[index] for index in order)
    )


def rename(lesson: Lesson, part: int, name: str) -> Lesson:
    """Give a part another name; no two have the same."""
    return _set(lesson, part, name=name)


def set_tone(lesson: Lesson, part: int, tone: str) -> Lesson:
    """Set a part's tone notes."""
    return _set(lesson, part, tone=tone)


def set_voice(lesson: Lesson, part: int, voice: Voice) -> Lesson:
    """Set how a part sounds in previews."""
    return _set(lesson, part, voice=voice)


def _set(lesson: Lesson, part: int, **fields: Any) -> Lesson:
    check_part(lesson, part)
    old = lesson.parts[part]
    new = with_fields(old, fields, Part, Where(part=old.name))
    return lesson if new is old else obey(with_part(lesson, part, new))


def set_setup(lesson: Lesson, part: int, setup: Setup, *, drop: bool = False) -> Lesson:
    """String and tune a part anew.

    With fewer strings, notes on those that are gone and retunings that no longer match are
    refused, naming the first place; with ``drop`` they go.
    """
    check_part(lesson, part)
    old = lesson.parts[part]
    new = with_fields(old, {"setup": setup}, Part, Where(part=old.name))
    if new is old:
        return lesson
    courses = len(setup.courses)
    if courses != len(old.setup.courses):
        if drop:
            lesson = _without_other_retunes(lesson, old.id, courses)
        if courses < len(old.setup.courses):
            lesson = _on_courses(lesson, part, courses, drop=drop)
    return obey(with_part(lesson, part, new))


def _without_other_retunes(lesson: Lesson, part: str, courses: int) -> Lesson:
    for index, section in enumerate(lesson.sections):
        old = section.head.retunes
        kept = tuple(r for r in old if r.part != part or len(r.setup.courses) == courses)
        if kept != old:
            head = replace(section.head, retunes=kept)
            lesson = with_section(lesson, index, replace(section, head=head))
    return lesson


def _on_courses(lesson: Lesson, part: int, courses: int, *, drop: bool) -> Lesson:
    """The lesson without notes of a part beyond so many courses; refused unless ``drop``."""
    for index, section in enumerate(lesson.sections):
        changed = {}
        for at, bar in enumerate(section.bars):
            notes = bar.notes[part]
            beyond = next((n for n in notes if n.course > courses), None)
            if beyond is None:
                continue
            if not drop:
                spot = Spot(index, at, part, beyond.onset, beyond.course)
                raise refuse("course_beyond_setup", where_of(lesson, spot),
                             course=beyond.course, courses=courses)  # fmt: skip
            kept = tuple(n for n in notes if n.course <= courses)
            changed[at] = replace(bar, notes=(*bar.notes[:part], kept, *bar.notes[part + 1 :]))
        if changed:
            bars = section.bars.with_bars(changed)
            lesson = with_section(lesson, index, replace(section, bars=bars))
    return lesson


def retune(lesson: Lesson, section: int, part: int, setup: Setup | None) -> Lesson:
    """Let a part play a section on another setup with as many strings; None: on its own."""
    check_section(lesson, section)
    check_part(lesson, part)
    found, player = lesson.sections[section], lesson.parts[part]
    others = tuple(r for r in found.head.retunes if r.part != player.id)
    own = () if setup is None else (Retune(player.id, setup),)
    if set(found.head.retunes) == {*others, *own}:
        return lesson
    where = Where(found.head.letter, part=player.name)
    head = replace(found.head, retunes=(*others, *(fresh(entry, Retune, where) for entry in own)))
    return obey(with_section(lesson, section, replace(found, head=head)))
