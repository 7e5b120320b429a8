"""What is said beside each string and of all together: reckoned elsewhere, put into words here."""

from __future__ import annotations

from dataclasses import dataclass

from chalkfret.model import GuitarString, Setup
from chalkfret.strings.retune import Step, from_standard, total_change_lb
from chalkfret.strings.tension import LIGHTEST_COMMON, Tension, frequency, tension, total_tension
from chalkfret.words.figures import fixed, signed
from chalkfret.words.strings import cents_words, sources_words, tension_words
from chalkfret.words.text import _, ngettext


@dataclass(frozen=True)
class StringFacts:
    """The words beside one string."""

    hertz: str
    tension: str
    standard: str
    remark: str


def facts_of(setup: Setup) -> list[StringFacts]:
    """The words beside every string, course 1 first."""
    strings = [one for course in setup.courses for one in course.strings]
    return [
        _facts(one, step, setup) for one, step in zip(strings, from_standard(setup), strict=True)
    ]


def _facts(one: GuitarString, step: Step, setup: Setup) -> StringFacts:
    pull = tension(one, setup)
    return StringFacts(
        hertz=f"{fixed(frequency(one, setup.a4), 2)} Hz",
        tension=tension_words(pull),
        standard=_standard_words(step),
        remark=_remark(pull),
    )


def _standard_words(step: Step) -> str:
    """Semitones, cents and pounds, under a heading that says from where: ``2 down, −4.5 lb``."""
    words = []
    if step.semitones:
        way = _("{count} up") if step.semitones > 0 else _("{count} down")
        words.append(way.format(count=abs(step.semitones)))
    words += [cents_words(step.cents)] if step.cents else []
    if step.change_lb is not None and abs(step.change_lb) >= 0.05:
        words.append(f"{signed(step.change_lb, 1)} lb")
    return ", ".join(words) or _("the same")


def _remark(pull: Tension | None) -> str:
    if pull is None or not pull.outside_common_sets:
        return ""
    if pull.lb < LIGHTEST_COMMON:
        return _("lighter than common sets")
    return _("heavier than common sets")


def total_words(setup: Setup) -> str:
    """The pull of all strings together, and how that differs from standard tuning."""
    total = total_tension(setup)
    if total.lb == 0:
        return _("Type the gauges, and the tension of each string stands beside it.")
    words = _("All strings together: {lb} lb ({newton} N)").format(
        lb=fixed(total.lb, 1), newton=fixed(total.newton, 0)
    )
    change = total_change_lb(setup)
    if change is not None and abs(change) >= 0.05:
        more = _("{lb} lb more") if change > 0 else _("{lb} lb less")
        words += ", " + _("{difference} than the same strings in standard tuning").format(
            difference=more.format(lb=fixed(abs(change), 1))
        )
    if total.unknown:
        words += "; " + ngettext(
            "{count} string is not in the sum", "{count} strings are not in the sum", total.unknown
        ).format(count=total.unknown)
    return words + "."


def sources(setup: Setup) -> str:
    """What the tensions were computed from and how far they may be off, each once."""
    strings = [one for course in setup.courses for one in course.strings]
    pulls = [(tension(one, setup), one.winding) for one in strings]
    found = sources_words([(pull, winding) for pull, winding in pulls if pull is not None])
    return _("Tensions: {sources}.").format(sources=found) if found else ""
