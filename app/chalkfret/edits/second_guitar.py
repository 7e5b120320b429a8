"""One guitar's bars written into another by a rule: the same, an octave apart, with a fifth.

Conventions
-----------
- What sounds is what counts: the note is sought on the other guitar's own strings, in its own
  tuning, at the fret nearest to the first guitar's, so that the hand stays where it is; of equally
  near ones on the string nearest to the first guitar's, counted from the low strings.
- A note that the other guitar cannot play by the rule is sought an octave the other way, then at
  its own pitch; one that has no place at all is refused, with where it stands.
- Rhythm, voices and marks stay.
"""

from __future__ import annotations

from enum import Enum
from typing import Final

from msgspec.structs import replace

from chalkfret.edits.draft import Draft
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import refretted
from chalkfret.edits.place import Span, Spot, check_part, check_span, stretches, where_of
from chalkfret.model import Lesson, Note, Setup, setup_in
from chalkfret.theory.sounding import fretted_pitch

OCTAVE: Final = 12
FIFTH: Final = 7
_REACH: Final = 4  # frets that a hand spans without stretching (common practice)
_NEAR: Final = 0.5  # semitones


class Rule(Enum):
    """How the other guitar's notes follow."""

    SAME = "same"
    OCTAVE = "octave"
    FIFTH = "fifth"


_WAYS: Final = {
    Rule.SAME: (0, -OCTAVE, OCTAVE),
    Rule.OCTAVE: (OCTAVE, -OCTAVE, 0),
    Rule.FIFTH: (0, -OCTAVE, OCTAVE),
}


def follow(lesson: Lesson, span: Span, to: int, rule: Rule) -> Lesson:
    """Write what one guitar strikes in whole bars of a span into guitar ``to`` by a rule.

    ``span.parts`` names the one guitar; what ``to`` held in these bars goes.
    """
    check_span(lesson, span)
    check_part(lesson, to)
    if len(span.parts) != 1 or span.parts[0] == to:
        raise refuse("no_such_place")
    source = span.parts[0]
    draft = Draft(lesson)
    for stretch in stretches(lesson, span):
        section = lesson.sections[stretch.section]
        setups = setup_in(section, lesson.parts[source]), setup_in(section, lesson.parts[to])
        draft.put(stretch.section, stretch.bar, to, ())
        for note in section.bars[stretch.bar].notes[source]:
            spot = Spot(stretch.section, stretch.bar, source, note.onset, note.course)
            _write(draft, lesson, spot, note, to, setups, rule)
    return draft.done()


def _write(
    draft: Draft, lesson: Lesson, spot: Spot, note: Note, to: int,
    setups: tuple[Setup, Setup], rule: Rule,
) -> None:  # fmt: skip
    pitch = fretted_pitch(setups[0], note.course, note.fret)
    from_low = len(setups[0].courses) - note.course
    taken = {
        n.course for n in draft.notes(spot.section, spot.bar, to) if n.onset <= note.onset < n.end
    }
    place = next(
        (found for way in _WAYS[rule]
         if (found := _place(setups[1], pitch + way, note.fret, from_low, taken)) is not None),
        None,
    )  # fmt: skip
    if place is None:
        raise refuse("no_place_on_guitar", where_of(lesson, spot), fret=note.fret,
                     other=lesson.parts[to].name)  # fmt: skip
    course, fret = place
    draft.lay(spot.section, spot.bar, to, replace(refretted(note, fret), course=course))
    if rule is Rule.FIFTH and _alone(lesson, spot, note):
        sounding = fretted_pitch(setups[1], course, fret)
        low = len(setups[1].courses) - course
        fifth = _place(setups[1], sounding + FIFTH, fret, low, {course})
        if fifth is not None and abs(fifth[1] - fret) <= _REACH:
            draft.lay(
                spot.section, spot.bar, to, replace(refretted(note, fifth[1]), course=fifth[0])
            )


def _alone(lesson: Lesson, spot: Spot, note: Note) -> bool:
    """Whether nothing else is struck with the note: only single notes get a fifth."""
    notes = lesson.sections[spot.section].bars[spot.bar].notes[spot.part]
    return sum(one.onset == note.onset for one in notes) == 1


def _place(
    setup: Setup, pitch: float, near: int, from_low: int, taken: set[int]
) -> tuple[int, int] | None:
    """Course and fret that sound a pitch on a free string, nearest to a fret; or None."""
    count = len(setup.courses)
    found = []
    for course in range(1, count + 1):
        if course in taken:
            continue
        for fret in range(setup.fret_count - setup.capo_fret(course) + 1):
            if abs(fretted_pitch(setup, course, fret) - pitch) <= _NEAR:
                found.append((abs(fret - near), abs(count - course - from_low), course, fret))
                break
    if not found:
        return None
    _far, _distance, course, fret = min(found)
    return course, fret
