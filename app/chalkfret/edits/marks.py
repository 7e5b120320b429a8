"""Edits of marks, on one note or on all notes of a span.

Conventions
-----------
- Marks that cannot be on one note at a time put each other out: the ways in which a note is
  reached (tie, hammer-on, pull-off, slide), the two harmonics, the two pick directions, the two
  slides out. Of marks with figures a new one takes the place of the old.
- A tie needs a note of the same fret that ends where it begins.
"""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from chalkfret.edits.draft import Draft
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import note_at, sounding_at
from chalkfret.edits.place import Span, Spot, check_span, check_spot, where_of
from chalkfret.edits.selection import change_notes, struck
from chalkfret.edits.values import checked
from chalkfret.model import Lesson, Mark, Note, Sign, Slide, in_order, mark_name
from chalkfret.model.marks import bends_rise, mark_rank

# Marks by name, a slide with its way; of each group a note has one at most.
_GROUPS: Final = (
    frozenset({"tie", "hammer_on", "pull_off", "from_note", "in_from_below", "in_from_above"}),
    frozenset({"natural_harmonic", "artificial_harmonic"}),
    frozenset({"down_stroke", "up_stroke"}),
    frozenset({"out_down", "out_up"}),
)


def _kind(mark: Mark) -> str:
    return mark.way.value if isinstance(mark, Slide) else mark_name(mark)


def with_mark(marks: tuple[Mark, ...], mark: Mark) -> tuple[Mark, ...]:
    """The marks with one more, without those that it puts out."""
    kind = _kind(mark)
    out = next((group for group in _GROUPS if kind in group), frozenset({kind}))
    return in_order((*(m for m in marks if _kind(m) not in out), mark))


def without_mark(marks: tuple[Mark, ...], mark: Mark) -> tuple[Mark, ...]:
    """The marks without this one, whatever its figures."""
    return tuple(m for m in marks if mark_rank(m) != mark_rank(mark))


def toggle_mark(lesson: Lesson, spot: Spot, mark: Mark) -> Lesson:
    """Put a mark on the note that sounds at the spot, or take just this one off."""
    start, note = _sounding(lesson, spot)
    on = mark in note.marks
    wanted = without_mark(note.marks, mark) if on else with_mark(note.marks, mark)
    return set_marks(lesson, start, wanted)


def set_marks(lesson: Lesson, spot: Spot, marks: tuple[Mark, ...]) -> Lesson:
    """Give the note that sounds at the spot just these marks."""
    start, note = _sounding(lesson, spot)
    if not bends_rise(marks):
        raise refuse("bend_runs_back", where_of(lesson, start))
    new = checked(replace(note, marks=in_order(marks)), Note, where_of(lesson, start))
    draft = Draft(lesson)
    tied = new.has(Sign.TIE) and not note.has(Sign.TIE)
    if tied and not draft.held(start.section, start.bar, start.part, note):
        raise refuse("tie_from_nothing", where_of(lesson, start))
    if new != note:
        draft.swap(start.section, start.bar, start.part, note, new)
    return draft.done()


def toggle_mark_in(lesson: Lesson, span: Span, mark: Mark) -> Lesson:
    """Put a mark on all notes struck in a span, or where all have just this one take it off.

    A tie goes on those notes that another holds; all other marks leave tied notes alone.
    """
    check_span(lesson, span)
    checked(Note(0, 1, 1, 0, marks=(mark,)), Note)
    draft = Draft(lesson)
    off = is_marked(lesson, span, mark)
    for section, bar, part, note in _markable(draft, span, mark):
        marks = without_mark(note.marks, mark) if off else with_mark(note.marks, mark)
        draft.swap(section, bar, part, note, replace(note, marks=marks))
    return draft.done()


def is_marked(lesson: Lesson, span: Span, mark: Mark) -> bool:
    """Whether all notes of a span that can have the mark have just this one."""
    notes = _markable(Draft(lesson), span, mark)
    return bool(notes) and all(mark in note.marks for *_, note in notes)


def _markable(draft: Draft, span: Span, mark: Mark) -> list[tuple[int, int, int, Note]]:
    """Section, bar, part and note of all that a mark can go on."""
    return [
        (stretch.section, stretch.bar, part, note)
        for part, stretch, note in struck(draft.lesson, span)
        if (
            draft.held(stretch.section, stretch.bar, part, note)
            if mark is Sign.TIE
            else not note.has(Sign.TIE)
        )
    ]


def clear_marks_in(lesson: Lesson, span: Span) -> Lesson:
    """Take all marks but ties off the notes that start in a span."""

    def change(note: Note) -> Note:
        marks = (Sign.TIE,) if note.has(Sign.TIE) else ()
        return note if marks == note.marks else replace(note, marks=marks)

    return change_notes(lesson, span, change)


def _sounding(lesson: Lesson, spot: Spot) -> tuple[Spot, Note]:
    check_spot(lesson, spot)
    start = sounding_at(lesson, spot)
    note = None if start is None else note_at(lesson, start)
    if start is None or note is None:
        raise refuse("no_note_here", where_of(lesson, spot))
    return start, note
