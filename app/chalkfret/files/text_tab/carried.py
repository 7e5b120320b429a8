"""What of a lesson plain text can carry: the package's list, as a lesson.

``read_text(write_text(lesson)).lesson == carried(lesson)``.
"""

from __future__ import annotations

import unicodedata

from msgspec.structs import replace

from chalkfret.files.text_tab.marks import FROM_NOTE, bend_of, bend_steps
from chalkfret.model import (
    ArtificialHarmonic,
    Bar,
    BarHead,
    Bars,
    Bend,
    Capo,
    Course,
    Finger,
    GuitarString,
    Lesson,
    LessonHead,
    Mark,
    NaturalHarmonic,
    Note,
    Notes,
    Part,
    Retune,
    Section,
    SectionHead,
    Setup,
    Sign,
    Slide,
    SlideWay,
    in_order,
)
from chalkfret.model.limits import FRET_MAX
from chalkfret.strings.tunings import name_of

_FRETS = 22  # of a neck of which nothing is said
_REACHING = (FROM_NOTE, Slide(SlideWay.IN_FROM_BELOW), Slide(SlideWay.IN_FROM_ABOVE))
_LEAVING = (Slide(SlideWay.OUT_UP), Slide(SlideWay.OUT_DOWN))


def carried(lesson: Lesson) -> Lesson:
    """The lesson without what text does not carry; ids are s1, s2 ... and p1, p2 ..."""
    head = lesson.head
    ids = {part.id: f"p{number}" for number, part in enumerate(lesson.parts, 1)}
    return Lesson(
        head=LessonHead(
            title=head.title,
            subtitle=head.subtitle,
            credit=head.credit,
            supporter_line=head.supporter_line,
            licence=head.licence,
        ),
        parts=tuple(
            Part(ids[part.id], part.name, plain_setup_of(pitches_of(part.setup), part.setup.capo))
            for part in lesson.parts
        ),
        sections=tuple(
            Section(f"s{number}", _section_head(section, ids), Bars.of(map(_bar, section.bars)))
            for number, section in enumerate(lesson.sections, 1)
        ),
    )


def pitches_of(setup: Setup) -> tuple[tuple[str, ...], ...]:
    """The pitches of each course's strings, low to high as players say them."""
    return tuple(tuple(s.pitch for s in course.strings) for course in reversed(setup.courses))


def plain_setup_of(pitches: tuple[tuple[str, ...], ...], capo: Capo | None) -> Setup:
    """A setup of which only pitches and capo are known; courses low to high."""
    courses = tuple(Course(tuple(map(GuitarString, course))) for course in reversed(pitches))
    frets = _FRETS if capo is None else max(_FRETS, capo.fret)
    setup = Setup(name="", courses=courses, fret_count=frets, capo=capo)
    return replace(setup, name=name_of(setup) or "")


def _section_head(section: Section, ids: dict[str, str]) -> SectionHead:
    head = section.head
    return SectionHead(
        letter=head.letter.replace("]", ")"),
        name=head.name,
        tempo=head.tempo,
        swing=head.swing,
        key=head.key,
        times=head.times,
        pause_s=head.pause_s,
        difficulty=head.difficulty,
        notes=plain_text(head.notes),
        retunes=tuple(
            Retune(ids[r.part], plain_setup_of(pitches_of(r.setup), r.setup.capo))
            for r in head.retunes
        ),
    )


def plain_text(text: str) -> str:
    """A text of lines without controls, idle spaces at their ends, and blank lines around."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    plain = [
        "".join(" " if unicodedata.category(c) in ("Cc", "Zl", "Zp") else c for c in line).rstrip()
        for line in lines
    ]
    return "\n".join(plain).strip("\n")


def _bar(bar: Bar) -> Bar:
    head = bar.head
    pickup = None if head.pickup == head.meter.ticks else head.pickup
    kept = BarHead(
        meter=head.meter,
        grouping=head.grouping,
        pickup=pickup,
        repeat_open=head.repeat_open,
        repeat_close=head.repeat_close,
        passes=head.passes,
    )
    return Bar(kept, tuple(map(_notes, bar.notes)))


def _notes(notes: Notes) -> Notes:
    ahead: dict[int, int] = {}
    out: list[Note] = []
    for note in reversed(notes):
        length = min(note.length, ahead.get(note.course, note.end) - note.onset)
        ahead[note.course] = note.onset
        out.append(_note(note, length))
    return tuple(reversed(out))


def _note(note: Note, length: int) -> Note:
    marks: list[Mark] = [m for m in note.marks if not isinstance(m, (Finger, Bend, Slide))]
    for ways in (_REACHING, _LEAVING):
        marks += [way for way in ways if way in note.marks][:1]
    fret = note.fret
    touched, over = note.mark(NaturalHarmonic), note.mark(ArtificialHarmonic)
    if touched is not None:
        node = max(0.01, round(touched.node, 2))
        fret = min(FRET_MAX, int(node + 0.5))
        marks = [m for m in marks if m is not Sign.DEAD and m not in (touched, over)]
        marks.append(NaturalHarmonic(node))
    elif note.has(Sign.DEAD):
        fret = 0
    if over is not None and touched is None:
        marks.remove(over)
        node = round(round(fret + over.node, 2) - fret, 2)
        marks.append(ArtificialHarmonic(min(float(FRET_MAX), max(0.01, node))))
    if Sign.UP_STROKE in marks and Sign.DOWN_STROKE in marks:
        marks.remove(Sign.UP_STROKE)
    bend = note.mark(Bend)
    shaped = None if bend is None else bend_of(bend_steps(bend), length)
    if shaped is not None:
        marks.append(shaped)
    return Note(note.onset, length, note.course, fret, marks=in_order(tuple(marks)))
