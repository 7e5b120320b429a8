"""The grid for those who hear it: each cell as a few words, the most telling ones first.

A cell says what is there (fret, note, degree, marks), then where: string, beat, bar, section, part.
Accidentals are said as words, since speech leaves their signs out.
"""

from __future__ import annotations

from typing import Final

from chalkfret.desk.riffs.cells import degree_cells
from chalkfret.desk.riffs.columns import column_in_bar, spans_of, step_at
from chalkfret.desk.riffs.words import beat_text, mark_words, note_name
from chalkfret.model import BarHead, Lesson, Note, Section, setup_in
from chalkfret.theory.names import between, note_degree
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.words.music import key_words, tempo_words
from chalkfret.words.text import N_, _, ngettext

_ACCIDENTALS: Final = {
    "𝄫": N_("double flat"),
    "♭": N_("flat"),
    "♯": N_("sharp"),
    "𝄪": N_("double sharp"),
    "♮": N_("natural"),
}


def in_words(text: str) -> str:
    """Accidentals as words: ``E♭2`` as "E flat 2", ``♭3`` as "flat 3"."""
    for sign, word in _ACCIDENTALS.items():
        text = text.replace(sign, f" {_(word)} ")
    return " ".join(text.split())


def place_spoken(lesson: Lesson, section: int, bar: int, tick: int) -> str:
    """A column: ``beat 2½, bar 1, section A``."""
    found = lesson.sections[section]
    return _("beat {beat}, bar {bar}, section {section}").format(
        beat=beat_text(found.bars[bar].head, tick), bar=bar + 1, section=found.head.letter
    )


def string_spoken(lesson: Lesson, section: int, part: int, course: int) -> str:
    """A string by number and name, as it is tuned in a section: ``string 6, C2``."""
    setup = setup_in(lesson.sections[section], lesson.parts[part])
    pitch = setup.course(course).strings[0].pitch
    name = in_words(shown(pitch, lesson.head.note_naming))
    return _("string {number}, {name}").format(number=course, name=name)


def note_spoken(lesson: Lesson, section: int, bar: int, part: int, note: Note) -> str:
    """A note of a bar: ``fret 3, E flat 2, flat 3, hammer-on``."""
    found = lesson.sections[section]
    setup = setup_in(found, lesson.parts[part])
    words = [_("fret {fret}").format(fret=note.fret)]
    degree = note_degree(found, bar, part, setup, note)
    if degree is not None:
        words.append(in_words(note_name(lesson, found.head.key, setup, note, degree)))
    if degree:
        words.append(_("degree {degree}").format(degree=in_words(degree_shown(degree))))
    return ", ".join((*words, *mark_words(note)))


def note_at(head: BarHead, notes: tuple[Note, ...], course: int, tick: int) -> Note | None:
    """The note that starts in the step at ``tick`` of a course, or sounds through it."""
    end = tick + spans_of(head)[step_at(head, tick)][1]
    for note in notes:
        if note.course == course and note.onset < end and note.end > tick:
            return note
    return None


def string_cell(
    lesson: Lesson, section: int, bar: int, tick: int, part: int, course: int
) -> str:  # fmt: skip
    """What is on a string in a step: a note, one that is held, a rest of the guitar, nothing."""
    found = lesson.sections[section].bars[bar]
    notes = found.notes[part]
    note = note_at(found.head, notes, course, tick)
    if note is not None:
        words = note_spoken(lesson, section, bar, part, note)
        return _("held: {note}").format(note=words) if note.onset < tick else words
    courses = {one.course for one in notes}
    silent = all(note_at(found.head, notes, one, tick) is None for one in courses)
    return _("rest") if silent else _("empty")


def degrees_cell(lesson: Lesson, section: int, bar: int, tick: int, part: int) -> str:
    """The degrees that are struck in a step."""
    found = lesson.sections[section]
    head, notes = found.bars[bar].head, between(found, bar, part)
    setup = setup_in(found, lesson.parts[part])
    at = column_in_bar(head, tick)
    for cell in degree_cells(notes, head, setup, found.head.key):
        if at <= cell.start < at + 1:
            return _("degree {degree}").format(degree=in_words(cell.text))
    return _("no degree")


def cues_cell(lesson: Lesson, section: int, bar: int, tick: int, part: int) -> str:
    """The cues that hold for a guitar in a step."""
    here = (bar, tick)
    labels = []
    for cue in lesson.sections[section].head.cues:
        starts = (cue.start.bar, cue.start.tick)
        ended = cue.end is not None and here >= (cue.end.bar, cue.end.tick)
        if cue.part in (None, lesson.parts[part].id) and starts <= here and not ended:
            labels.append(cue.label)
    if not labels:
        return _("no cue")
    words = ngettext("cue: {labels}", "cues: {labels}", len(labels))
    return words.format(labels=", ".join(labels))


def section_spoken(lesson: Lesson, section: Section, seconds: float) -> str:
    """A section: letter and name, tempo, key, how often, how long, its cues."""
    head = section.head
    words = [_("{letter} {name}").format(letter=head.letter, name=head.name).strip(),
             tempo_words(head.tempo)]  # fmt: skip
    if head.key is not None:
        words.append(in_words(key_words(head.key, lesson.head.note_naming)))
    if head.times > 1:
        words.append(_("{times} times").format(times=head.times))
    words.append(seconds_spoken(seconds))
    words.extend(cue.label for cue in head.cues)
    return ", ".join(words)


def seconds_spoken(seconds: float) -> str:
    """``1 minute 52 seconds``: a clock's figures would be read as a time of day."""
    minutes, rest = divmod(round(seconds), 60)
    words = []
    if minutes:
        words.append(ngettext("{count} minute", "{count} minutes", minutes).format(count=minutes))
    if rest or not minutes:
        words.append(ngettext("{count} second", "{count} seconds", rest).format(count=rest))
    return " ".join(words)
