"""Talking points as they are said: computed, or in the teacher's own words.

The teacher's words lie in the lesson (``LessonHead.talking_points``), each with the fingerprint of
the fact they were written for. While it is the fact's, they hold; when the figures have changed
they are still shown, marked, and beside what is true now. Words for a fact that is no more are not
lost either: they stand at the end of their section, marked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from msgspec import Struct

from chalkfret.model.lesson import Lesson, TalkingPoint
from chalkfret.words.talk.facts import Fact
from chalkfret.words.talk.found import facts_of
from chalkfret.words.talk.sentences import heading, sentences
from chalkfret.words.text import _, spoken


class State(StrEnum):
    """Whose words they are, and whether they hold."""

    COMPUTED = "computed"
    EDITED = "edited"
    OUTDATED = "outdated"  # the teacher's, but the facts have changed since
    ORPHANED = "orphaned"  # the teacher's, for something that the lesson no longer has


class Point(Struct, frozen=True):
    """A talking point: ``text`` is what is said, ``computed`` what the lesson gives ("" orphaned).

    ``kind`` tells it apart in its section (an id; None: the lesson as a whole).
    """

    section: str | None
    kind: str
    heading: str
    text: str
    computed: str
    state: State
    fact: Fact | None


def points(lesson: Lesson) -> tuple[Point, ...]:
    """All talking points of a lesson in the language spoken, the lesson as a whole first."""
    sections = (None, *(section.id for section in lesson.sections))
    return tuple(point for section in sections for point in points_of(lesson, section))


def points_of(lesson: Lesson, section: str | None) -> tuple[Point, ...]:
    """The talking points of a section by its id, or of the lesson as a whole."""
    ids = [one.id for one in lesson.sections]
    written = {
        point.kind: point
        for point in lesson.head.talking_points
        if point.language == spoken() and point.section == section
    }
    found = [
        _point(fact, written.pop(fact.kind, None), lesson)
        for fact in facts_of(lesson, None if section is None else ids.index(section))
    ]
    return (*found, *_orphans(written.values()))


def _point(fact: Fact, written: TalkingPoint | None, lesson: Lesson) -> Point:
    computed = sentences(fact, lesson.head.note_naming)
    state = State.COMPUTED
    if written is not None:
        state = State.EDITED if written.fingerprint == fact.fingerprint else State.OUTDATED
    return Point(
        section=fact.section,
        kind=fact.kind,
        heading=heading(fact),
        text=computed if written is None else written.text,
        computed=computed,
        state=state,
        fact=fact,
    )


def _orphans(written: Iterable[TalkingPoint]) -> Iterator[Point]:
    for point in written:
        yield Point(
            point.section, point.kind, _("Your own words"), point.text, "", State.ORPHANED, None
        )
