"""Guitars in sentences: tuning, the way there, strings, and what students in other tunings do."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from chalkfret.model.lesson import NoteNaming
from chalkfret.strings.cautions import Caution, CautionCode
from chalkfret.theory.naming import shown
from chalkfret.words.figures import fixed, number_words
from chalkfret.words.strings import caution_words, cents_words
from chalkfret.words.talk.facts import Feel, Retuning, StringStep, Student, Tuned, Whole
from chalkfret.words.talk.lists import listed
from chalkfret.words.text import _, ngettext


def whole(fact: Whole, naming: NoteNaming) -> Iterator[str]:
    """How many sections there are, and how long they last."""
    yield ngettext(
        "The lesson has {count} section.", "The lesson has {count} sections.", fact.sections
    ).format(count=fact.sections)
    yield length(fact.seconds)


def length(seconds: float) -> str:
    """How long the music of something lasts, to the second."""
    minutes, rest = divmod(max(1, round(seconds)), 60)
    if not minutes:
        return ngettext(
            "It lasts about {count} second.", "It lasts about {count} seconds.", rest
        ).format(count=rest)
    return _("It lasts about {minutes}:{seconds:02d} minutes.").format(
        minutes=minutes, seconds=rest
    )


def tuned(fact: Tuned, naming: NoteNaming) -> Iterator[str]:
    """The tuning by its name and its notes, and the capo."""
    notes = _row(fact.notes, naming)
    if fact.name is None:
        yield _("From low to high {part} is tuned {notes}.").format(part=fact.part, notes=notes)
    else:
        yield _("{part} is in the tuning “{name}”: {notes}, from low to high.").format(
            part=fact.part, name=_(fact.name), notes=notes
        )
    if fact.capo and fact.capo_strings:
        strings = listed(fact.capo_strings)
        yield ngettext(
            "The capo is at fret {fret}, over string {strings} alone.",
            "The capo is at fret {fret}, over strings {strings} alone.",
            len(fact.capo_strings),
        ).format(fret=fact.capo, strings=strings)
    elif fact.capo:
        yield _("The capo is at fret {fret}.").format(fret=fact.capo)


def retuning(fact: Retuning, naming: NoteNaming) -> Iterator[str]:
    """How to get to the tuning, string by string."""
    if not any(step.semitones or step.cents for step in fact.steps):
        if fact.within:
            yield _("{part} keeps its tuning here.").format(part=fact.part)
        else:
            yield _("{part} is in standard tuning: there is nothing to retune.").format(
                part=fact.part
            )
        return
    start = _row(fact.start, naming)
    if fact.within:
        yield _("To get there from its tuning in the rest of the lesson, {notes}:").format(
            notes=start
        )
    else:
        yield _("To get there from standard tuning, {notes}:").format(notes=start)
    yield from steps(fact.steps, naming)


def steps(found: Sequence[StringStep], naming: NoteNaming) -> Iterator[str]:
    """What the strings do, those that move alike in one sentence."""
    if len({step.semitones for step in found}) == 1:
        semitones = found[0].semitones
        if semitones:
            yield _every(semitones)
    else:
        for semitones in dict.fromkeys(step.semitones for step in found):
            if semitones:
                yield _move([step for step in found if step.semitones == semitones], naming)
        stay = [step.string for step in found if not step.semitones]
        if stay:
            yield ngettext(
                "String {strings} stays as it is.", "Strings {strings} stay as they are.", len(stay)
            ).format(strings=listed(stay))
    for step in found:
        if step.cents:
            yield _("String {string} then lies {cents}.").format(
                string=step.string, cents=cents_words(step.cents)
            )


def _every(semitones: int) -> str:
    count = abs(semitones)
    text = (
        ngettext(
            "Every string goes down {count} semitone.",
            "Every string goes down {count} semitones.",
            count,
        )
        if semitones < 0
        else ngettext(
            "Every string goes up {count} semitone.",
            "Every string goes up {count} semitones.",
            count,
        )
    )
    return text.format(count=count)


def _move(alike: Sequence[StringStep], naming: NoteNaming) -> str:
    semitones, count = alike[0].semitones, abs(alike[0].semitones)
    if len(alike) == 1 and semitones < 0:
        text = ngettext(
            "String {strings} goes down {count} semitone, to {notes}.",
            "String {strings} goes down {count} semitones, to {notes}.",
            count,
        )
    elif len(alike) == 1:
        text = ngettext(
            "String {strings} goes up {count} semitone, to {notes}.",
            "String {strings} goes up {count} semitones, to {notes}.",
            count,
        )
    elif semitones < 0:
        text = ngettext(
            "Strings {strings} go down {count} semitone, to {notes}.",
            "Strings {strings} go down {count} semitones, to {notes}.",
            count,
        )
    else:
        text = ngettext(
            "Strings {strings} go up {count} semitone, to {notes}.",
            "Strings {strings} go up {count} semitones, to {notes}.",
            count,
        )
    return text.format(
        strings=listed(step.string for step in alike),
        count=count,
        notes=listed(shown(step.note, naming) for step in alike),
    )


def feel(fact: Feel, naming: NoteNaming) -> Iterator[str]:
    """The gauges, the pull of all strings together, and the tightest and loosest."""
    if any(gauge for course in fact.gauges for gauge in course):
        yield _(
            "The gauges of {part}, from high to low, are {gauges} thousandths of an inch."
        ).format(part=fact.part, gauges=listed(map(_gauges, fact.gauges)))
    if fact.lb is not None:
        yield _total(fact.lb, fact.change_lb)
    tight, loose = fact.tightest, fact.loosest
    if tight and loose and tight.lb > loose.lb:
        yield _(
            "The tightest is string {tight}, at about {most} lb, the loosest string {loose}, "
            "at about {least} lb."
        ).format(
            tight=tight.string,
            most=fixed(tight.lb, 1),
            loose=loose.string,
            least=fixed(loose.lb, 1),
        )
    for code, pulls in (
        (CautionCode.LIGHT_STRING, fact.light),
        (CautionCode.HEAVY_STRING, fact.heavy),
    ):
        for pull in pulls:
            yield caution_words(Caution(code, pull.string, pull.lb))
    if tight is not None:
        yield caution_words(Caution(CautionCode.ESTIMATES))


def _total(lb: float, change: float | None) -> str:
    if change is None or round(abs(change)) == 0:
        return _("All strings together pull about {lb} lb.").format(lb=fixed(lb, 0))
    text = (
        _("All strings together pull about {lb} lb, {change} lb less than in standard tuning.")
        if change < 0
        else _("All strings together pull about {lb} lb, {change} lb more than in standard tuning.")
    )
    return text.format(lb=fixed(lb, 0), change=fixed(abs(change), 0))


def _gauges(course: Sequence[float | None]) -> str:
    return "/".join("?" if gauge is None else number_words(gauge) for gauge in course)


def student(fact: Student, naming: NoteNaming) -> Iterator[str]:
    """What the same frets do on the student's guitar, and what to do about it."""
    who = _("“{name}”").format(name=fact.student) if fact.student else _("standard tuning")
    names = {"student": who, "part": fact.part}
    if fact.shift == 0:
        yield _("With {student} play {part} as it is written.").format(**names)
        return
    if fact.shift is not None:
        yield _alike(fact.shift, names)
    else:
        yield from _broken(fact, names)
    if fact.capo:
        yield _("With a capo at fret {fret} it sounds as written.").format(fret=fact.capo)
    if fact.steps:
        yield _("To get to the tuning of {part} from there:").format(part=fact.part)
        yield from steps(fact.steps, naming)


def _broken(fact: Student, names: dict[str, str]) -> Iterator[str]:
    """Why the same frets do not work."""
    yield _("With {student} the frets of {part} do not work as they stand.").format(**names)
    if fact.strings != fact.part_strings:
        yield _("That guitar has {strings} strings, and {part} has {part_strings}.").format(
            part=fact.part, strings=fact.strings, part_strings=fact.part_strings
        )
    apart = sorted({semitones for _string, semitones in fact.apart})
    if len(apart) > 1:
        for semitones in apart:
            yield _sounding(semitones, [one for one, at in fact.apart if at == semitones])
    if fact.missing:
        yield ngettext(
            "{count} note cannot be played there at all.",
            "{count} notes cannot be played there at all.",
            fact.missing,
        ).format(count=fact.missing)


def _sounding(semitones: int, strings: Sequence[int]) -> str:
    """How the same frets sound on some strings."""
    where = ngettext("string {strings}", "strings {strings}", len(strings)).format(
        strings=listed(strings)
    )
    count = abs(semitones)
    if not semitones:
        text = _("The same frets sound right on {where}.")
    elif semitones > 0:
        text = ngettext(
            "The same frets sound {count} semitone higher on {where}.",
            "The same frets sound {count} semitones higher on {where}.",
            count,
        )
    else:
        text = ngettext(
            "The same frets sound {count} semitone lower on {where}.",
            "The same frets sound {count} semitones lower on {where}.",
            count,
        )
    return text.format(count=count, where=where)


def _alike(semitones: int, names: dict[str, str]) -> str:
    count = abs(semitones)
    text = (
        ngettext(
            "With {student} the frets of {part} work as they stand, and sound {count} semitone "
            "higher.",
            "With {student} the frets of {part} work as they stand, and sound {count} semitones "
            "higher.",
            count,
        )
        if semitones > 0
        else ngettext(
            "With {student} the frets of {part} work as they stand, and sound {count} semitone "
            "lower.",
            "With {student} the frets of {part} work as they stand, and sound {count} semitones "
            "lower.",
            count,
        )
    )
    return text.format(**names, count=count)


def _row(notes: Sequence[str], naming: NoteNaming) -> str:
    return " ".join(shown(note, naming) for note in notes)
