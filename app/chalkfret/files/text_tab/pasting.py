"""Text tab as what is copied and pasted: a selection as text, a text as notes for a part."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.edits import Clip, ClipNote, ClipPart, Span
from chalkfret.edits.place import stretches
from chalkfret.files.text_tab.read import Reading
from chalkfret.files.text_tab.write import WIDTH, bare_text
from chalkfret.model import Bar, Bars, Fault, Lesson, Note, Section, Setup, fault, setup_in
from chalkfret.model.pitch import note_of, pitch_class


class Pasting(Struct, frozen=True):
    """Notes to be pasted, and what of the text is not among them. ``clip`` is None without any."""

    clip: Clip | None
    notes: int
    bars: int
    words: str  # what could not be read, for the teacher's notes
    faults: tuple[Fault, ...]


def selected_text(lesson: Lesson, span: Span, width: int = WIDTH) -> str:
    """The whole bars in which a selection lies, with only the notes that are selected."""
    sections: dict[int, list[Bar]] = {}
    for stretch in stretches(lesson, span):
        bar = lesson.sections[stretch.section].bars[stretch.bar]
        rows = tuple(
            tuple(n for n in bar.notes[part]
                  if stretch.start <= n.onset < stretch.stop and span.takes(n.course))
            for part in span.parts
        )  # fmt: skip
        sections.setdefault(stretch.section, []).append(Bar(bar.head, rows))
    parts = tuple(lesson.parts[part] for part in span.parts)
    ids = {part.id for part in parts}
    shown = []
    for index, bars in sections.items():
        head = lesson.sections[index].head
        retunes = tuple(retune for retune in head.retunes if retune.part in ids)
        shown.append(replace(lesson.sections[index], head=replace(head, retunes=retunes),
                             bars=Bars.of(bars)))  # fmt: skip
    return bare_text(replace(lesson, parts=parts, sections=tuple(shown)), width)


def pasting(reading: Reading, setup: Setup, part: str) -> Pasting:
    """What was read as notes for a part that is called ``part`` and strung like ``setup``.

    Strings are matched by the names of their notes where the text names them, else by number.
    """
    lesson = reading.lesson
    faults = list(reading.faults)
    if lesson is None:
        return Pasting(None, 0, 0, "", tuple(faults))
    notes: list[ClipNote] = []
    at = lost = bars = 0
    repeats = False
    for section in lesson.sections:
        strings = _strings(setup_in(section, lesson.parts[0]), setup, reading.named)
        for bar in section.bars:
            for note in bar.notes[0]:
                course = strings.get(note.course)
                if course is None:
                    lost += 1
                else:
                    notes.append(_placed(note, at, course))
            at += bar.head.ticks
            bars += 1
            repeats |= bool(bar.head.repeat_close or bar.head.passes)
    if lost:
        needed = len(lesson.parts[0].setup.courses)
        faults.append(fault("tab_strings_beyond", notes=lost, part=part, strings=needed))
    if repeats:
        faults.append(fault("tab_repeats_unpasted"))
    if len(lesson.parts) > 1:
        faults.append(fault("tab_parts_beyond", parts=len(lesson.parts)))
    notes.sort(key=lambda one: (one.at, one.note.course))
    clip = Clip(at, (ClipPart((), tuple(notes)),)) if notes else None
    return Pasting(clip, len(notes), bars, _words(lesson.sections), tuple(faults))


def _placed(note: Note, at: int, course: int) -> ClipNote:
    return ClipNote(at + note.onset, replace(note, onset=0, course=course))


def _words(sections: tuple[Section, ...]) -> str:
    return "\n".join(section.head.notes for section in sections if section.head.notes)


def _strings(theirs: Setup, ours: Setup, named: bool) -> dict[int, int]:
    """The string of ours on which each of theirs lands.

    By name where all their names are found among ours in the same order from the treble side;
    else by number, which is the place from the treble side too.
    """
    by_number = {n: n for n in range(1, min(len(theirs.courses), len(ours.courses)) + 1)}
    if not named:
        return by_number
    wanted = [_name(theirs, number) for number in range(1, len(theirs.courses) + 1)]
    have = [_name(ours, number) for number in range(1, len(ours.courses) + 1)]
    found: dict[int, int] = {}
    at = 0
    for number, name in enumerate(wanted, 1):
        while at < len(have) and have[at] != name:
            at += 1
        if at == len(have):
            return by_number
        at += 1
        found[number] = at
    return found


def _name(setup: Setup, course: int) -> int:
    return pitch_class(note_of(setup.course(course).strings[0].pitch))
