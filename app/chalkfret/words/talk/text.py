"""Talking points written down: to say on camera, and to post under a video. Plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from chalkfret.model.lesson import Lesson
from chalkfret.words.music import key_words, tempo_words
from chalkfret.words.talk.facts import Feel, Retuning, Student, Tuned
from chalkfret.words.talk.points import Point, State, points_of
from chalkfret.words.text import _


def section_title(lesson: Lesson, section: str | None) -> str:
    """The heading of a section's points: ``Section A: Down the stair``; None: the lesson."""
    if section is None:
        return _("The whole lesson")
    head = next(one.head for one in lesson.sections if one.id == section)
    if not head.name:
        return _("Section {letter}").format(letter=head.letter)
    return _("Section {letter}: {name}").format(letter=head.letter, name=head.name)


def marked_text(point: Point) -> str:
    """What is said, and a mark where the teacher's words hold no longer."""
    if point.state is State.OUTDATED:
        return _("{text} [The lesson has changed since you wrote this. Now: {computed}]").format(
            text=point.text, computed=point.computed
        )
    if point.state is State.ORPHANED:
        return _("{text} [The lesson no longer has what you wrote this for.]").format(
            text=point.text
        )
    return point.text


def talk_text(lesson: Lesson, sections: Collection[str | None] = ()) -> str:
    """What to say, section by section.

    ``sections`` are ids, None is the lesson as a whole; none named: all of it.
    """
    every = (None, *(section.id for section in lesson.sections))
    blocks = [lesson.head.title or _("A lesson without a title")]
    for section in every:
        if not sections or section in sections:
            lines = [f"- {marked_text(point)}" for point in points_of(lesson, section)]
            blocks.append("\n".join([section_title(lesson, section), *lines]))
    return "\n\n".join(blocks) + "\n"


def video_text(lesson: Lesson) -> str:
    """What to post under a video: tuning, gauges, tempos, keys, what to do without the tuning."""
    head = lesson.head
    blocks = ["\n".join(filter(None, (head.title, head.subtitle, head.credit)))]
    found = points_of(lesson, None)
    for title, kinds in (
        (_("Tuning and strings"), (Tuned, Retuning, Feel)),
        (_("Without this tuning"), (Student,)),
    ):
        lines = [
            marked_text(point)
            for point in found
            if point.fact and isinstance(point.fact.what, kinds)
        ]
        if lines:
            blocks.append("\n".join([title, *lines]))
    blocks.insert(2, "\n".join([_("Sections"), *_section_lines(lesson)]))
    blocks.append("\n".join(filter(None, (head.supporter_line, head.licence))))
    return "\n\n".join(filter(None, blocks)) + "\n"


def _section_lines(lesson: Lesson) -> Iterator[str]:
    """One line a section: tempo, meter, key."""
    for section in lesson.sections:
        head, meter = section.head, section.bars[0].head.meter
        title = section_title(lesson, section.id)
        tempo, beats = tempo_words(head.tempo), f"{meter.count}/{meter.unit}"
        if head.key is None:
            yield _("{title}. {tempo}, {meter}.").format(title=title, tempo=tempo, meter=beats)
        else:
            yield _("{title}. {key}, {tempo}, {meter}.").format(
                title=title, key=key_words(head.key, lesson.head.note_naming), tempo=tempo,
                meter=beats,
            )  # fmt: skip
