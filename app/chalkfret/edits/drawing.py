"""What is drawn on notes: a slide from one to another, a bend by its shape.

Conventions are those of ``edits.marks``. A drawn bend rises in the note's first quarter and comes
down in its third, as one typed by its key does.
"""

from __future__ import annotations

from chalkfret.edits.faults import refuse
from chalkfret.edits.marks import set_marks, with_mark, without_mark
from chalkfret.edits.notes import attack_of, note_at
from chalkfret.edits.place import Spot, check_spot, where_of
from chalkfret.model import Bend, BendPoint, Lesson, Note, Sign, Slide, SlideWay


def draw_slide(lesson: Lesson, one: Spot, other: Spot) -> Lesson:
    """Let the later of two sounds be reached by a slide from the earlier one.

    They are neighbours on one string of one part, in one section; CannotEdit where they are not.
    """
    first, last = sorted(
        (_attack(lesson, one), _attack(lesson, other)),
        key=lambda spot: (spot.section, spot.bar, spot.onset),
    )
    if (first.section, first.part, first.course) != (last.section, last.part, last.course):
        raise refuse("slide_elsewhere", where_of(lesson, last))
    if first == last:
        return lesson
    if _is_struck_between(lesson, first, last):
        raise refuse("slide_over_note", where_of(lesson, last))
    marks = _note(lesson, last).marks
    return set_marks(lesson, last, with_mark(marks, Slide(SlideWay.FROM_NOTE)))


def _attack(lesson: Lesson, spot: Spot) -> Spot:
    check_spot(lesson, spot)
    struck = attack_of(lesson, spot)
    if struck is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    return struck


def _is_struck_between(lesson: Lesson, first: Spot, last: Spot) -> bool:
    bars = lesson.sections[first.section].bars
    return any(
        note.course == first.course and not note.has(Sign.TIE)
        for bar in range(first.bar, last.bar + 1)
        for note in bars[bar].notes[first.part]
        if (first.bar, first.onset) < (bar, note.onset) < (last.bar, last.onset)
    )


def _note(lesson: Lesson, spot: Spot) -> Note:
    note = note_at(lesson, spot)
    if note is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    return note


def bend_curve(length: int, most: int, last: int, *, before: bool = False) -> Bend:
    """A bend of a note so many ticks long: up to ``most`` cents, and where ``last`` is less, down
    again to that; ``before`` the note is struck.
    """
    up, top, down = length // 4, length // 2, length * 3 // 4
    curve = (BendPoint(0, most),) if before else (BendPoint(0, 0), BendPoint(up, most))
    if last < most:
        curve = (*curve, BendPoint(top, most), BendPoint(down, last))
    return Bend(curve)


def draw_bend(lesson: Lesson, spot: Spot, most: int, last: int, *, before: bool = False) -> Lesson:
    """Bend the note that starts at the spot as ``bend_curve`` says; by no cents: not at all."""
    check_spot(lesson, spot)
    note = _note(lesson, spot)
    bend = bend_curve(note.length, most, last, before=before)
    change = with_mark if most else without_mark
    return set_marks(lesson, spot, change(note.marks, bend))
