"""The lessons to write, as far as it is counted, and the empty ones to begin from."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from chalkfret.files.lesson_file import load
from chalkfret.model import Bar, BarHead, Bars, Lesson, Note, Sign
from chalkfret.model.start import empty_bar

DEMOS = Path(__file__).parents[2] / "demo_lessons"


def demos() -> dict[str, Lesson]:
    """The demo catalogue by the stems of its files."""
    return {path.stem: load(path) for path in sorted(DEMOS.glob("*.chalkfret"))}


def plain(note: Note) -> Note:
    """The note as it is counted: without marks and wishes, but tied where it goes on."""
    return replace(note, spelling=None, marks=(Sign.TIE,) if note.has(Sign.TIE) else ())


def written(lesson: Lesson, *, marks: bool = False) -> list[object]:
    """All that is compared: for every bar its length, repeat signs, passes and notes."""
    return [
        (
            section.head.letter,
            number,
            bar.head.ticks,
            bar.head.repeat_open,
            bar.head.repeat_close,
            bar.head.passes,
            bar.notes if marks else tuple(tuple(map(plain, notes)) for notes in bar.notes),
        )
        for section in lesson.sections
        for number, bar in enumerate(section.bars, 1)
    ]


def count_notes(lesson: Lesson) -> int:
    """Notes of all parts; a tied one counts, it is written too."""
    return sum(
        len(notes) for section in lesson.sections for bar in section.bars for notes in bar.notes
    )


def bare(head: BarHead) -> BarHead:
    """The head of a bar as far as it is there before writing: its meter, pickup and beats."""
    return BarHead(meter=head.meter, grouping=head.grouping, pickup=head.pickup)


def empty(lesson: Lesson) -> Lesson:
    """Parts, setups and sections are there, each section with its first bar, empty."""
    parts = len(lesson.parts)
    return replace(lesson, sections=tuple(
        replace(section, bars=Bars.of([empty_bar(parts, bare(section.bars[0].head))]),
                head=replace(section.head, cues=()))
        for section in lesson.sections
    ))  # fmt: skip


def stripped(lesson: Lesson) -> Lesson:
    """The lesson with plain notes and bare bars."""
    return replace(lesson, sections=tuple(
        replace(section, bars=Bars.of(
            Bar(bare(bar.head), tuple(tuple(map(plain, notes)) for notes in bar.notes))
            for bar in section.bars
        ))
        for section in lesson.sections
    ))  # fmt: skip
