"""What edits keep true beyond ``model.validate``, said without their code."""

from __future__ import annotations

import msgspec

from chalkfret.edits.draft import Draft
from chalkfret.model import Lesson, Sign, validate


def check_sound(lesson: Lesson) -> None:
    """Every value within its type's bounds, every rule kept."""
    assert validate(lesson) == ()
    assert msgspec.convert(msgspec.to_builtins(lesson), Lesson) == lesson


def overlaps(lesson: Lesson) -> list[tuple[int, int, int, int]]:
    """Section, bar, part and course of strings that carry two notes at a time."""
    found = []
    for s, section in enumerate(lesson.sections):
        for b, bar in enumerate(section.bars):
            for p, notes in enumerate(bar.notes):
                ends: dict[int, int] = {}
                for note in notes:
                    if note.onset < ends.get(note.course, 0):
                        found.append((s, b, p, note.course))
                    ends[note.course] = note.end
    return found


def loose_ties(lesson: Lesson) -> list[tuple[int, int, int, int]]:
    """Section, bar, part and course of ties that no note holds."""
    draft = Draft(lesson)
    return [
        (s, b, p, note.course)
        for s, section in enumerate(lesson.sections)
        for b, bar in enumerate(section.bars)
        for p, notes in enumerate(bar.notes)
        for note in notes
        if note.has(Sign.TIE) and not draft.held(s, b, p, note)
    ]


def check_shared(old: Lesson, new: Lesson) -> None:
    """What is equal is the same object: parts, heads, sections, bars."""
    if new == old:
        assert new is old
    if new.head == old.head:
        assert new.head is old.head
    parts = {part.id: part for part in old.parts}
    for part in new.parts:
        if parts.get(part.id) == part:
            assert part is parts[part.id]
    sections = {section.id: section for section in old.sections}
    for section in new.sections:
        before = sections.get(section.id)
        if before is None:
            continue
        if section == before:
            assert section is before
        if section.head == before.head:
            assert section.head is before.head
        if len(section.bars) == len(before.bars):
            for was, now in zip(before.bars, section.bars, strict=True):
                assert (was == now) == (was is now)


def check_notes_only(old: Lesson, new: Lesson) -> None:
    """A note edit: heads and parts untouched, and what it did not change is the same object."""
    assert new.head is old.head
    assert new.parts is old.parts
    assert len(new.sections) == len(old.sections)
    for was, now in zip(old.sections, new.sections, strict=True):
        assert now.id == was.id
        assert now.head is was.head
        assert len(now.bars) == len(was.bars)
        assert (now == was) == (now is was)
        for one, two in zip(was.bars.chunks, now.bars.chunks, strict=True):
            assert (one == two) == (one is two)
        for one, two in zip(was.bars, now.bars, strict=True):
            assert two.head is one.head
            assert (one == two) == (one is two)
            for row, other in zip(one.notes, two.notes, strict=True):
                assert (row == other) == (row is other)
