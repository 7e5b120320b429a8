"""What a teacher types in the section panel, read into values; and values as one writes them.

Each reader returns the value or raises ``Unreadable`` with a sentence that says what would be
understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import inf

from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.model import Bar, Meter, NoteNaming, Place, limits
from chalkfret.model.meter import DENOMINATORS, usual_grouping
from chalkfret.words.figures import number_words
from chalkfret.words.text import _


def number_reader(
    low: float, high: float, sentence: str, empty: float | None = inf
) -> Callable[[str], float | None]:
    """A reader of numbers from ``low`` to ``high``; with ``empty`` given, nothing means that."""

    def read(text: str) -> float | None:
        typed = text.strip().replace(",", ".")
        if not typed and empty != inf:
            return empty
        try:
            number = float(typed)
        except ValueError:
            raise Unreadable(sentence, unfinished=typed in ("", "-", ".", "-.")) from None
        if not low <= number <= high:
            raise Unreadable(sentence, unfinished=0 <= number < low or low < 0 <= -number < -high)
        return number

    return read


def whole_reader(
    low: int, high: int, sentence: str, empty: int | None = -1
) -> Callable[[str], int | None]:
    """A reader of whole numbers; with ``empty`` given, nothing typed means that."""

    def read(text: str) -> int | None:
        typed = text.strip()
        if not typed and empty != -1:
            return empty
        if not typed.isdecimal():
            raise Unreadable(sentence, unfinished=not typed)
        if not low <= int(typed) <= high:
            raise Unreadable(sentence, unfinished=int(typed) < low)
        return int(typed)

    return read


def stepped(low: float, high: float) -> Callable[[float | None, int], float]:
    """A step of a number that stays from ``low`` to ``high``."""
    return lambda number, steps: min(high, max(low, (low if number is None else number) + steps))


def read_tempo(text: str) -> float:
    """Beats a minute."""
    low, high = limits.TEMPO_MIN, limits.TEMPO_MAX
    sentence = _("A tempo is beats a minute, from {low} to {high}.").format(
        low=number_words(low), high=number_words(high)
    )
    number = number_reader(low, high, sentence)(text)
    return low if number is None else number


def read_tempo_end(text: str) -> float | None:
    """Beats a minute at the end; nothing: the tempo stays."""
    return read_tempo(text) if text.strip() else None


def write_optional(number: float | None) -> str:
    """The number, or nothing."""
    return "" if number is None else number_words(number)


def read_line(most: int = limits.NAME_MAX * 4) -> Callable[[str], str]:
    """A reader of one line of words."""

    def read(text: str) -> str:
        if len(text) > most:
            raise Unreadable(_("At most {most} characters.").format(most=most))
        return text.strip()

    return read


def read_letter(text: str) -> str:
    """One to four characters."""
    typed = text.strip()
    if not 1 <= len(typed) <= 4:
        raise Unreadable(_("A section's letter has one to four characters."), unfinished=not typed)
    return typed


def read_tonic(naming: NoteNaming) -> Callable[[str], str | None]:
    """A note name as the lesson names notes; nothing: no tonic."""

    def read(text: str) -> str | None:
        from chalkfret.theory.naming import CannotRead, read_note
        from chalkfret.words.sentences import sentence

        if not text.strip():
            return None
        try:
            return read_note(text, naming)
        except CannotRead as trouble:
            raise Unreadable(sentence(trouble.fault)) from None

    return read


_DEGREE = re.compile(r"(bb|b|##|#)?[1-7]")


def read_degrees(text: str) -> tuple[str, ...]:
    """Degrees in a row: ``1 b2 3 4 5 b6 7``; proper signs are read as well."""
    plain = text.replace("♭", "b").replace("♯", "#").replace("𝄫", "bb").replace("𝄪", "##")
    degrees = tuple(re.split(r"[\s,]+", plain.strip())) if plain.strip() else ()
    wrong = _("Degrees are typed in a row, as in 1 b2 3 4 5 b6 7; at most twelve.")
    if any(_DEGREE.fullmatch(degree) is None for degree in degrees):
        raise Unreadable(wrong, unfinished=plain[-1:] in "b#")
    if len(degrees) > 12:
        raise Unreadable(wrong)
    return degrees


_METER = re.compile(r"(\d+)\s*/\s*(\d+)")


def read_meter(text: str) -> Meter:
    """``7/8``."""
    wrong = _("A meter is a count over a unit, as in 7/8; units are 1, 2, 4, 8, 16 and 32.")
    match = _METER.fullmatch(text.strip())
    if match is None:
        raise Unreadable(wrong, unfinished=re.fullmatch(r"\d*\s*/?\s*", text.strip()) is not None)
    count, unit = int(match[1]), int(match[2])
    if not 1 <= count <= limits.METER_COUNT_MAX:
        raise Unreadable(wrong)
    if unit not in DENOMINATORS:
        raise Unreadable(wrong, unfinished=unit == 3)
    return Meter(count, unit)


def write_meter(meter: Meter) -> str:
    """The meter as one types it."""
    return f"{meter.count}/{meter.unit}"


def grouping_reader(meter: Callable[[], Meter]) -> Callable[[str], tuple[int, ...]]:
    """A reader of groups that fill the meter: ``2+2+3``; nothing or the usual ones: ()."""

    def read(text: str) -> tuple[int, ...]:
        typed = text.replace(" ", "")
        if not typed:
            return ()
        of = meter()
        wrong = _("Groups are numbers that add up to {count}, as in {usual}.").format(
            count=of.count, usual="+".join(map(str, usual_grouping(of)))
        )
        words = typed.split("+")
        if not all(word.isdecimal() and int(word) for word in words):
            raise Unreadable(wrong, unfinished=typed.endswith("+"))
        groups = tuple(map(int, words))
        if sum(groups) != of.count:
            raise Unreadable(wrong, unfinished=sum(groups) < of.count)
        return () if groups == usual_grouping(of) else groups

    return read


def read_passes(text: str) -> tuple[int, ...]:
    """Passes in a row: ``1 2``; nothing: always."""
    words = re.split(r"[\s,.;]+", text.strip(" ,.;"))
    if words == [""]:
        return ()
    if not all(word.isdecimal() and 1 <= int(word) <= limits.TIMES_MAX for word in words):
        raise Unreadable(_("Passes are numbers in a row, as in 1 2; nothing means always."))
    return tuple(sorted(set(map(int, words))))


def place_reader(bars: Callable[[], list[Bar]]) -> Callable[[str], Place | None]:
    """A reader of a place: bar and beat, ``3`` or ``3:2.5``; beats in units of the meter.

    Nothing means the end of the section.
    """

    def read(text: str) -> Place | None:
        typed = text.strip().replace(",", ".")
        if not typed:
            return None
        wrong = _("A place is a bar, or bar:beat, as in 3 or 3:2.5.")
        match = re.fullmatch(r"(\d+)(?:\s*[: ]\s*(\d+(?:\.\d+)?))?", typed)
        if match is None:
            raise Unreadable(wrong, unfinished=typed[-1:] in ":.")
        bar, run = int(match[1]), bars()
        if not 1 <= bar <= len(run):
            raise Unreadable(_("This section has bars 1 to {most}.").format(most=len(run)))
        head = run[bar - 1].head
        beat = float(match[2] or 1)
        tick = round((beat - 1) * head.meter.unit_ticks)
        if not 0 <= tick < head.ticks:
            raise Unreadable(wrong, unfinished=beat < 1)
        return Place(bar - 1, tick)

    return read


def place_writer(bars: Callable[[], list[Bar]]) -> Callable[[Place | None], str]:
    """The place as one types it."""

    def write(place: Place | None) -> str:
        if place is None:
            return ""
        run = bars()
        if place.bar >= len(run) or place.tick == 0:
            return str(place.bar + 1)
        unit = run[place.bar].head.meter.unit_ticks
        return f"{place.bar + 1}:{number_words(1 + place.tick / unit)}"

    return write
