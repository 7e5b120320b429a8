"""A retune card in words: each turn as a sentence or two, and what all of them come to."""

from __future__ import annotations

from chalkfret.model.lesson import NoteNaming
from chalkfret.strings.cautions import cautions
from chalkfret.strings.turning import Reference, RetuneCard, StringTurn, Turn
from chalkfret.theory.naming import shown
from chalkfret.words.figures import fixed, number_words, signed
from chalkfret.words.strings import caution_words, cents_words
from chalkfret.words.text import _, ngettext


def turn_words(turn: StringTurn, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """Which way and how far: ``4 semitones down, E2 to C2``; with cents where there are any."""
    start, target = shown(turn.start, naming), shown(turn.target, naming)
    count = abs(turn.semitones)
    if turn.semitones > 0:
        words = ngettext(
            "{count} semitone up, {start} to {target}",
            "{count} semitones up, {start} to {target}",
            count,
        )
    elif turn.semitones < 0:
        words = ngettext(
            "{count} semitone down, {start} to {target}",
            "{count} semitones down, {start} to {target}",
            count,
        )
    elif turn.cents > 0:
        words = _("{cents} cents up, {target}")
    elif turn.cents < 0:
        words = _("{cents} cents down, {target}")
    else:
        words = _("{target} at the new A4")
    text = words.format(
        count=count, start=start, target=target, cents=number_words(abs(turn.cents))
    )
    if turn.target_cents:
        text = _("{turn}, {cents}").format(turn=text, cents=cents_words(turn.target_cents))
    return text


def reference_words(reference: Reference | None) -> str:
    """By ear: ``fret 5 of string 4 sounds as open string 3``."""
    if reference is None:
        return _("by tuner: no tuned string has this note")
    if reference.fret == 0:
        return _("open string {fretted} sounds as open string {open}").format(
            fretted=reference.fretted, open=reference.open
        )
    return _("fret {fret} of string {fretted} sounds as open string {open}").format(
        fret=reference.fret, fretted=reference.fretted, open=reference.open
    )


def pull_words(turn: StringTurn) -> str:
    """The pull before and after: ``17.5 lb, then 11.0 lb``; empty where it is not known."""
    if turn.before_lb is None or turn.after_lb is None:
        return ""
    return _("{before} lb, then {after} lb").format(
        before=fixed(turn.before_lb, 1), after=fixed(turn.after_lb, 1)
    )


def course_words(turn: Turn, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """A course's turn with its strings: ``string 6: 2 semitones down, E2 to D2``."""
    words = "; ".join(turn_words(one, naming) for one in turn.strings)
    return _("String {number}: {turn}").format(number=turn.course, turn=words)


def left_words(card: RetuneCard) -> str:
    """The strings that stay as they are; empty where every string moves."""
    if not card.left:
        return ""
    numbers = ", ".join(map(str, card.left))
    return ngettext(
        "String {numbers} stays as it is.", "Strings {numbers} stay as they are.", len(card.left)
    ).format(numbers=numbers)


def total_words(card: RetuneCard) -> str:
    """What all strings together pull before, after and on the way."""
    if not card.turns:
        return _("Both tunings are the same: there is nothing to turn.")
    change, least, most = card.change_lb, card.least_lb, card.most_lb
    if change is None or least is None or most is None:
        return _(
            "Without every gauge there are no pounds; the order is reckoned as if all strings "
            "pulled alike."
        )
    return _(
        "All strings together: {before} lb, then {after} lb ({change} lb). In this order the pull "
        "stays between {least} and {most} lb on the way."
    ).format(
        before=fixed(card.before_lb or 0.0, 1),
        after=fixed(card.after_lb or 0.0, 1),
        change=signed(change, 1),
        least=fixed(least, 1),
        most=fixed(most, 1),
    )


def other_strings_words(card: RetuneCard) -> str:
    """Where the other setup has other strings on; empty where it has the same."""
    numbers = [turn.course for turn in card.turns if any(one.other_string for one in turn.strings)]
    if not numbers:
        return ""
    return ngettext(
        "The other setup has another string {numbers}; all figures are for the strings that are "
        "on now.",
        "The other setup has other strings {numbers}; all figures are for the strings that are "
        "on now.",
        len(numbers),
    ).format(numbers=", ".join(map(str, sorted(numbers))))


def how_to() -> str:
    """How a card is used."""
    return _("Without a capo, in this order; then go round once more, as the neck gives a little.")


def card_cautions(card: RetuneCard) -> list[str]:
    """The cautions of this retuning, the most pressing first."""
    return [caution_words(one) for one in cautions(card.target, card.start)]
