"""``retune``: the card from one tuning to another, as text, as JSON, as a page."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec

from chalkfret.cli.say import GOOD, SYSTEM, complain, say, say_json, sentences
from chalkfret.files.trouble import FileTrouble
from chalkfret.model import Fault, Lesson, NoteNaming, Setup, fault, setup_in
from chalkfret.strings.turning import CannotRetune, RetuneCard, in_tuning, retune_card
from chalkfret.words.strings import setup_tuning_words
from chalkfret.words.text import _

_Cards = list[tuple[str, RetuneCard]]  # the part's name, and its card


class _Refused(Exception):
    def __init__(self, problem: Fault) -> None:
        super().__init__(problem.code)
        self.fault = problem


def retune(lesson: Lesson, options: Namespace) -> int:
    """Say the cards of a lesson's guitars, or make them pages; the exit code."""
    if options.to is None and (options.riff != "card" or options.to_file is not None):
        for line in sentences([fault("retune_where_to")]):
            complain(line)
        return SYSTEM
    if options.riff is not None or options.to_file is not None:
        return _riff(lesson, options)
    try:
        cards = _cards(lesson, options)
    except _Refused as refused:
        for line in sentences([refused.fault]):
            complain(line)
        return SYSTEM
    if options.page is not None and not _made(lesson, cards, options):
        return SYSTEM
    if options.json:
        say_json([_plain(part, card) for part, card in cards])
    elif options.page is None:
        for index, (part, card) in enumerate(cards):
            if index:
                say("")
            for line in _lines(part, card, lesson.head.note_naming):
                say(line)
    return GOOD


def _riff(lesson: Lesson, options: Namespace) -> int:
    """The guitars' riffs in the tuning, instead of the cards; it may have other strings."""
    from chalkfret.cli.arranging import arranged, cards

    chosen = [
        (index, part)
        for index, part in enumerate(lesson.parts)
        if options.part in (None, part.name)
    ]  # fmt: skip
    try:
        if not chosen:
            raise _Refused(fault("retune_no_part", name=options.part))
        if options.to is None:
            return cards(lesson, [index for index, _part in chosen], options)
        setups = [(index, _strung(part.setup, options.to, lesson)) for index, part in chosen]
    except _Refused as refused:
        for line in sentences([refused.fault]):
            complain(line)
        return SYSTEM
    return arranged(lesson, setups, options)


def _strung(setup: Setup, text: str, lesson: Lesson) -> Setup:
    """The setup in a tuning; with as many strings as the tuning has, new ones where they differ."""
    from chalkfret.model.start import plain_setup
    from chalkfret.strings.tunings import named
    from chalkfret.theory.naming import read_tuning

    try:
        return _tuned(setup, text, lesson)
    except CannotRetune:
        known = named(text)
        pitches = known.pitches if known else read_tuning(text, lesson.head.note_naming)
        return plain_setup(pitches, [None] * len(pitches), name=text)


def _cards(lesson: Lesson, options: Namespace) -> _Cards:
    """A card for each guitar that has as many strings as the tunings that were named."""
    wished = [part for part in lesson.parts if options.part in (None, part.name)]
    if not wished:
        raise _Refused(fault("retune_no_part", name=options.part))
    cards: _Cards = []
    problem: Fault | None = None
    for part in wished:
        setup = _of_section(lesson, part.name, options.section)
        try:
            start = setup if options.start is None else _tuned(setup, options.start, lesson)
            cards.append((part.name, retune_card(start, _tuned(setup, options.to, lesson))))
        except CannotRetune as refused:
            problem = refused.fault
    if not cards and problem is not None:
        raise _Refused(problem)
    return cards


def _of_section(lesson: Lesson, name: str, letter: str | None) -> Setup:
    part = next(one for one in lesson.parts if one.name == name)
    if letter is None:
        return part.setup
    for section in lesson.sections:
        if section.head.letter == letter:
            return setup_in(section, part)
    raise _Refused(fault("retune_no_section", letter=letter))


def _tuned(setup: Setup, text: str, lesson: Lesson) -> Setup:
    """The setup in the tuning that was named or written out; raises CannotRetune or _Refused."""
    from chalkfret.strings.retune import in_standard
    from chalkfret.strings.tunings import TUNINGS, named
    from chalkfret.theory.naming import CannotRead, read_tuning

    known = named(text)
    if known is TUNINGS[0]:  # "standard" is a word on guitars of any number of strings
        return in_standard(setup)
    if known is not None:
        return in_tuning(setup, known.courses)
    try:
        pitches = read_tuning(text, lesson.head.note_naming)
    except CannotRead as trouble:
        raise _Refused(trouble.fault) from None
    return in_tuning(setup, tuple((pitch,) for pitch in pitches))


def _lines(part: str, card: RetuneCard, naming: NoteNaming) -> Iterator[str]:
    from chalkfret.words import retuning

    yield _("{part}: from {start} to {target}").format(
        part=part,
        start=setup_tuning_words(card.start, naming),
        target=setup_tuning_words(card.target, naming),
    )
    if card.turns:
        yield "  " + retuning.how_to()
    for number, turn in enumerate(card.turns, start=1):
        said = [retuning.course_words(turn, naming), retuning.reference_words(turn.reference)]
        said += filter(None, map(retuning.pull_words, turn.strings))
        yield f"  {number}. " + "; ".join(said)
    more = (retuning.left_words, retuning.total_words, retuning.other_strings_words)
    for line in filter(None, (words(card) for words in more)):
        yield "  " + line
    if card.turns:
        for line in retuning.card_cautions(card):
            yield "  ! " + line


def _plain(part: str, card: RetuneCard) -> dict[str, Any]:
    """A card for a program: figures in lb, courses from 1, tunings low to high."""
    from chalkfret.model import tuning_names
    from chalkfret.words.retuning import card_cautions

    return {
        "part": part,
        "from": tuning_names(card.start),
        "to": tuning_names(card.target),
        "turns": [msgspec.to_builtins(turn) for turn in card.turns],
        "left": card.left,
        "before_lb": card.before_lb,
        "after_lb": card.after_lb,
        "change_lb": card.change_lb,
        "least_lb": card.least_lb,
        "most_lb": card.most_lb,
        "cautions": card_cautions(card) if card.turns else [],
    }


def _made(lesson: Lesson, cards: _Cards, options: Namespace) -> bool:
    """Write the cards as pages; whether that could be done."""
    from chalkfret.files.export import put_file
    from chalkfret.files.pdf import cards_pdf_bytes

    path: Path = options.page / f"{options.lesson.stem}-retune.pdf"
    try:
        put_file(path, cards_pdf_bytes(lesson, tuple(cards)))
    except FileTrouble as trouble:
        for line in sentences(trouble.faults):
            complain(f"{path}: {line}")
        return False
    complain(_("{file} written.").format(file=path))
    return True
