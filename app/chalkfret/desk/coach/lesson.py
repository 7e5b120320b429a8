"""The lesson "First steps": empty bars to write in, and a riff of our own to look at."""

from __future__ import annotations

from chalkfret.model import (
    QUARTER,
    Bar,
    Bars,
    Key,
    Lesson,
    LessonHead,
    Mode,
    Note,
    Part,
    Section,
    Sign,
    Tempo,
)
from chalkfret.model import SectionHead as Head
from chalkfret.model.bars import PLAIN_HEAD
from chalkfret.model.start import STANDARD_SETUP, empty_bar
from chalkfret.words.text import _

_RIFF = (
    ((6, 0), (6, 0), (6, 3), (6, 0), (6, 5), (6, 3), (5, 2), (5, 0)),
    ((6, 0), (6, 0), (6, 3), (6, 0), (5, 2), (5, 3), (5, 2), (5, 0)),
)
"""Course and fret of each eighth."""


def first_steps_lesson() -> Lesson:
    """The lesson, with the teacher's notes in the language of now."""
    write = Section(
        id="s1",
        head=Head(
            letter="A",
            name=_("Your first bars"),
            tempo=Tempo(96.0),
            key=Key("E", Mode.MINOR),
            notes=_(
                "Write here what the line above the grid asks for:\n\n"
                "- frets, and strings struck together\n"
                "- longer notes, other frets, a mark\n"
                "- and take one of them back"
            ),
        ),
        bars=Bars.of([empty_bar(1)] * 4),
    )
    look = Section(
        id="s2",
        head=Head(
            letter="B",
            name=_("A riff to look at"),
            tempo=Tempo(96.0),
            key=Key("E", Mode.MINOR),
            notes=_(
                "A finished riff. Each note is tinted by its place in the scale:\n\n"
                "- change its tempo, and see its block grow in the strip above\n"
                "- look at it on the page Sheet, as your supporters will"
            ),
        ),
        bars=Bars.of([_bar(notes) for notes in _RIFF]),
    )
    part = Part(id="p1", name=_("Guitar {number}").format(number=1), setup=STANDARD_SETUP)
    return Lesson(head=LessonHead(title=_("First steps")), parts=(part,), sections=(write, look))


def _bar(notes: tuple[tuple[int, int], ...]) -> Bar:
    eighth = QUARTER // 2
    return Bar(
        PLAIN_HEAD,
        (
            tuple(
                Note(
                    onset=at * eighth,
                    length=eighth,
                    course=course,
                    fret=fret,
                    marks=(Sign.PALM_MUTE,) if fret == 0 and course == 6 else (),
                )
                for at, (course, fret) in enumerate(notes)
            ),
        ),
    )
