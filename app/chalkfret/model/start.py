"""What a new lesson, part or section begins as."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from chalkfret.model.bars import PLAIN_HEAD, Bar, BarHead, Bars
from chalkfret.model.lesson import Lesson, LessonHead, Part
from chalkfret.model.section import Section, SectionHead, Tempo
from chalkfret.model.setup import Course, GuitarString, Setup, Winding
from chalkfret.model.standards import GUITAR

# A ten-to-forty-six set, low to high (common practice).
_USUAL_GAUGES: Final = (0.046, 0.036, 0.026, 0.017, 0.013, 0.010)
_WOUND_FROM: Final = 0.020  # inches; thinner strings of a common electric set are plain


def plain_setup(
    pitches: Iterable[str] = GUITAR,
    gauges: Iterable[float | None] = _USUAL_GAUGES,
    name: str = "Standard tuning",
) -> Setup:
    """A setup of single strings; pitches and gauges low to high as players name tunings."""
    strings = [
        GuitarString(
            pitch,
            gauge=gauge,
            winding=Winding.NICKEL_ROUND if (gauge or 0) >= _WOUND_FROM else Winding.PLAIN,
        )
        for pitch, gauge in zip(pitches, gauges, strict=True)
    ]
    return Setup(name=name, courses=tuple(Course((string,)) for string in reversed(strings)))


STANDARD_SETUP: Final = plain_setup()


def empty_bar(parts: int, head: BarHead = PLAIN_HEAD) -> Bar:
    """A bar without notes for so many parts."""
    return Bar(head, ((),) * parts)


def new_lesson(title: str = "", bars: int = 4) -> Lesson:
    """One guitar in standard tuning, one section of empty 4/4 bars at 100 quarters a minute."""
    section = Section(
        id="s1",
        head=SectionHead(letter="A", name="", tempo=Tempo(100.0)),
        bars=Bars.of([empty_bar(1)] * bars),
    )
    part = Part(id="p1", name="Guitar 1", setup=STANDARD_SETUP)
    return Lesson(head=LessonHead(title=title), parts=(part,), sections=(section,))
