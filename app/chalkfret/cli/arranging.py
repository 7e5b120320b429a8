"""``retune --riff``: the riff itself in another tuning, said or written as a new lesson."""

from __future__ import annotations

from argparse import Namespace

import msgspec

from chalkfret.arrange.same_frets import SameFrets, same_frets
from chalkfret.arrange.same_pitch import Arranged, same_pitch
from chalkfret.arrange.students import student_card, students_of
from chalkfret.cli.say import GOOD, SYSTEM, complain, say, say_json, sentences
from chalkfret.edits import CannotEdit, parts
from chalkfret.files.lesson_file import save
from chalkfret.files.trouble import FileTrouble
from chalkfret.model import Lesson, Setup, StudentSetup
from chalkfret.words.arranging import arranged_words, otherwise_words, student_words
from chalkfret.words.same_frets import frets_words
from chalkfret.words.text import _


def arranged(lesson: Lesson, setups: list[tuple[int, Setup]], options: Namespace) -> int:
    """Say what becomes of the guitars on these setups, and write the lesson; the exit code."""
    new, report = lesson, []
    for part, wished in setups:
        name = lesson.parts[part].name
        found, setup, lines = _found(lesson, part, wished, options.riff)
        try:
            new = parts.arrange(new, part, setup, found.notes)
        except CannotEdit as cannot:
            for line in sentences([cannot.fault]):
                complain(line)
            return SYSTEM
        report.append({"part": name, "lines": lines, "found": msgspec.to_builtins(found)})
        if not options.json:
            for line in lines:
                say(_("{part}: {sentence}").format(part=name, sentence=line))
    if options.json:
        say_json(report)
    return GOOD if options.to_file is None else _saved(new, options)


def cards(lesson: Lesson, chosen: list[int], options: Namespace) -> int:
    """Say what each of the lesson's students is to play of these guitars; the exit code."""
    report = []
    for part in chosen:
        name = lesson.parts[part].name
        for card in student_card(lesson, students_of(lesson), part):
            lines = student_words(lesson, card)
            found = msgspec.to_builtins(card.fingered or card.frets)
            report.append({"part": name, "student": card.name, "lines": lines, "found": found})
            if not options.json:
                for line in lines:
                    say(_("{part}: {sentence}").format(part=name, sentence=line))
    if options.json:
        say_json(report)
    return GOOD


def _found(
    lesson: Lesson, part: int, setup: Setup, how: str | None
) -> tuple[Arranged | SameFrets, Setup, list[str]]:
    """What is to be played, on which setup, and what there is to say of it."""
    if how == "same-frets":
        frets = same_frets(lesson, part, setup)
        return frets, setup, frets_words(lesson, frets)
    if how == "card":
        (card,) = student_card(lesson, [StudentSetup(setup.name, setup)], part)
        return card.fingered or card.frets, card.setup, student_words(lesson, card)
    found = same_pitch(lesson, part, setup)
    lines = [arranged_words(found), *otherwise_words(lesson, found, lesson.head.note_naming)]
    return found, setup, lines


def _saved(lesson: Lesson, options: Namespace) -> int:
    try:
        save(lesson, options.to_file)
    except FileTrouble as trouble:
        for line in sentences(trouble.faults):
            complain(f"{options.to_file}: {line}")
        return SYSTEM
    complain(_("{file} written.").format(file=options.to_file))
    return GOOD
