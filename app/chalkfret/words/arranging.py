"""The same riff in another tuning, in words: for the teacher, and as a card for students."""

from __future__ import annotations

from typing import Final

from chalkfret.arrange.same_pitch import Arranged, Otherwise, Why
from chalkfret.arrange.students import Advice, StudentPart
from chalkfret.model.lesson import Lesson, NoteNaming
from chalkfret.theory.naming import shown
from chalkfret.theory.spelling import spell
from chalkfret.words.strings import setup_tuning_words
from chalkfret.words.text import N_, _, ngettext

_WHYS: Final[dict[Why, str]] = {
    Why.OCTAVE: N_("{place}: in another octave, with the whole phrase: {notes}."),
    Why.OCTAVE_ALONE: N_("{place}: in another octave, since there is no place for it: {notes}."),
    Why.NO_PLACE: N_("{place}: left out, since there is no place for it: {notes}."),
    Why.NO_HAND: N_("{place}: left out, since no hand can hold the whole chord: {notes}."),
    Why.STRUCK: N_("{place}: picked, since it cannot stay on the string before it: {notes}."),
    Why.SHORTER: N_("{place}: ends early, since its string is needed again: {notes}."),
}


def otherwise_words(
    lesson: Lesson, found: Arranged, naming: NoteNaming = NoteNaming.ENGLISH
) -> list[str]:
    """Every note that is not as it was, a line for each bar and each reason."""
    rows: dict[tuple[int, int, Why], list[str]] = {}
    for one in found.otherwise:
        rows.setdefault((one.section, one.bar, one.why), []).append(_note(lesson, one, naming))
    lines = []
    for (section, bar, why), notes in rows.items():
        letter = lesson.sections[section].head.letter
        place = _("Section {letter}, bar {bar}").format(letter=letter, bar=bar + 1)
        lines.append(_(_WHYS[why]).format(place=place, notes=", ".join(notes)))
    return lines


def _note(lesson: Lesson, one: Otherwise, naming: NoteNaming) -> str:
    if one.pitch is None:
        return _("a dead note")
    key = lesson.sections[one.section].head.key
    return shown(spell(one.pitch, key), naming)


def arranged_words(found: Arranged) -> str:
    """The new fingering in a sentence: how many notes are not as they were."""
    count = len({(one.section, one.bar, one.onset, one.course) for one in found.otherwise})
    if not count:
        return _("Every note can be played at its own pitch.")
    return ngettext(
        "{count} note is not quite as written.", "{count} notes are not quite as written.", count
    ).format(count=count)


def student_words(lesson: Lesson, one: StudentPart) -> list[str]:
    """The card for one student's setup: a sentence, and what is otherwise."""
    lines = [student_sentence(lesson, one)]
    if one.fingered is not None:
        lines.append(arranged_words(one.fingered))
        lines += otherwise_words(lesson, one.fingered, lesson.head.note_naming)
    return lines


def student_sentence(lesson: Lesson, one: StudentPart) -> str:
    """What a student has, and what to play."""
    have = setup_tuning_words(one.setup, lesson.head.note_naming)
    if one.advice is Advice.AS_WRITTEN:
        return _("You have {tuning}: play it as written.").format(tuning=have)
    if one.advice is Advice.CAPO and one.setup.capo is not None:
        words = _("You have {tuning}: put a capo at fret {fret} and play the same frets.")
        return words.format(tuning=have, fret=one.setup.capo.fret)
    words = _("You have {tuning}: play the other fingering, at the same pitch.")
    return words.format(tuning=have)
