"""All there is to say of a lesson, in the order in which one says it."""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.model.faults import Where
from chalkfret.model.lesson import Lesson
from chalkfret.timeline.clock import timeline
from chalkfret.words.talk import hard, music, setups
from chalkfret.words.talk.facts import Fact, Whole


def facts(lesson: Lesson) -> tuple[Fact, ...]:
    """The facts of the lesson as a whole, then those of each section."""
    sections = (None, *range(len(lesson.sections)))
    return tuple(fact for index in sections for fact in facts_of(lesson, index))


def facts_of(lesson: Lesson, section: int | None) -> tuple[Fact, ...]:
    """The facts of one section by its index, or of the lesson as a whole."""
    return tuple(_of_whole(lesson) if section is None else _of_section(lesson, section))


def _of_whole(lesson: Lesson) -> Iterator[Fact]:
    whole = Whole(len(lesson.sections), round(timeline(lesson).total_s, 1))
    yield Fact(whole, None, "", Where(), ("sections",))
    for index, part in enumerate(lesson.parts):
        yield from setups.of_part(index, part)
    yield from setups.of_students(lesson)


def _of_section(lesson: Lesson, index: int) -> Iterator[Fact]:
    yield from setups.of_retune(lesson, index)
    yield from music.of_tempo(lesson, index)
    yield from music.of_key(lesson, index)
    yield from music.of_others(lesson, index)
    yield from music.of_effects(lesson, index)
    yield from hard.of_hard_bars(lesson, index)
