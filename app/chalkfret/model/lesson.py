"""The lesson: the whole document as one value.

It is never changed in place: an edit returns a new lesson that shares every object it did not
touch, and what is the same object need not be looked at again.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from msgspec import Meta

from chalkfret.model import limits
from chalkfret.model.marks import FingerName
from chalkfret.model.section import Section
from chalkfret.model.setup import Setup
from chalkfret.model.value import Figures, Value


class NoteNaming(StrEnum):
    """How notes are called: English, German with H and B, or solfège."""

    ENGLISH = "english"
    GERMAN = "german"
    SOLFEGE = "solfege"


class Paper(StrEnum):
    """Paper sizes: A4 210 x 297 mm, Letter 215.9 x 279.4 mm."""

    A4 = "a4"
    LETTER = "letter"


class SheetOptions(Value, frozen=True):
    """How the lesson's sheet is printed."""

    paper: Paper = Paper.A4
    landscape: bool = False
    large_print: bool = False
    black_ink: bool = False


class Performed(Figures, frozen=True):
    """One entry of the performed order: a section, how often, and the talk before it."""

    section: limits.Id
    times: limits.Times = 1
    talk_s: limits.Seconds = 0.0


class TalkingPoint(Value, frozen=True):
    """An edited talking point; ``section`` None is the lesson as a whole.

    ``fingerprint`` is that of the facts it was written for, so that a stale one can be marked.
    """

    kind: limits.Name
    language: limits.Name
    text: limits.Text
    fingerprint: limits.Line
    section: limits.Id | None = None


class StudentSetup(Value, frozen=True):
    """A setup that some students have, for which the lesson is written too."""

    name: limits.Name
    setup: Setup


class HandShape(Value, frozen=True):
    """A hand shape to remember: for each course, from course 1, its fret (None: not played)."""

    name: limits.Name
    frets: Annotated[tuple[limits.Fret | None, ...], Meta(max_length=limits.COURSES_MAX)]
    fingers: Annotated[tuple[FingerName | None, ...], Meta(max_length=limits.COURSES_MAX)] = ()


class Drive(StrEnum):
    """How hard a part's sound is driven."""

    CLEAN = "clean"
    CRUNCH = "crunch"
    HEAVY = "heavy"


class Voice(Figures, frozen=True):
    """How a part sounds in previews."""

    drive: Drive = Drive.CLEAN
    tone_hz: Annotated[float, Meta(ge=200.0, le=20_000.0)] = 5_000.0  # low-pass
    cabinet: bool = False
    level_db: Annotated[float, Meta(ge=-60.0, le=6.0)] = 0.0
    pan: Annotated[float, Meta(ge=-1.0, le=1.0)] = 0.0  # -1 left, 1 right
    program: Annotated[int, Meta(ge=0, le=127)] = 27  # General MIDI, on the wire: clean electric


class Part(Value, frozen=True, weakref=True, cache_hash=True):
    """One guitar of the lesson."""

    id: limits.Id
    name: limits.Name
    setup: Setup
    tone: limits.Text = ""  # tone notes, in the teacher's words
    voice: Voice = Voice()


class LessonHead(Figures, frozen=True, weakref=True, cache_hash=True):
    """All that is said of the lesson as a whole."""

    title: limits.Line = ""
    subtitle: limits.Line = ""
    credit: limits.Line = ""
    supporter_line: limits.Line = ""
    licence: limits.Line = ""
    language: Annotated[str, Meta(pattern=r"^[a-z]{2}(-[A-Z]{2})?$(?!\n)")] = "en"
    note_naming: NoteNaming = NoteNaming.ENGLISH
    simple_names: bool = False  # no double accidentals on screen and sheet
    sheet: SheetOptions = SheetOptions()
    video_offset_s: Annotated[float, Meta(ge=0.0, le=36_000.0)] = 0.0
    order: Annotated[tuple[Performed, ...], Meta(max_length=500)] = ()
    talking_points: Annotated[tuple[TalkingPoint, ...], Meta(max_length=2_000)] = ()
    students: Annotated[tuple[StudentSetup, ...], Meta(max_length=50)] = ()
    hand_shapes: Annotated[tuple[HandShape, ...], Meta(max_length=200)] = ()


class Lesson(Value, frozen=True, weakref=True, cache_hash=True):
    """The document: what is said of it, its parts, and its sections, at least one of each."""

    head: LessonHead
    parts: Annotated[tuple[Part, ...], Meta(min_length=1, max_length=limits.PARTS_MAX)]
    sections: Annotated[tuple[Section, ...], Meta(min_length=1, max_length=limits.SECTIONS_MAX)]


def setup_in(section: Section, part: Part) -> Setup:
    """The setup on which ``part`` plays in ``section``: its own, or the section's retuning."""
    for retune in section.head.retunes:
        if retune.part == part.id:
            return retune.setup
    return part.setup
