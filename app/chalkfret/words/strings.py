"""Strings in words: tensions, tunings, windings, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from chalkfret.model.lesson import NoteNaming
from chalkfret.model.pitch import note_of
from chalkfret.model.setup import Setup, Winding, tuning_names
from chalkfret.strings.cautions import Caution, CautionCode
from chalkfret.strings.tension import Tension
from chalkfret.strings.tunings import Tuning, name_of
from chalkfret.strings.weights import OTHER_MAKER_PERCENT, WeightSource
from chalkfret.theory.naming import shown
from chalkfret.words.figures import fixed, number_words, signed
from chalkfret.words.text import N_, _

_WINDINGS: Final[dict[Winding, str]] = {
    Winding.PLAIN: N_("plain steel"),
    Winding.NICKEL_ROUND: N_("nickel, round wound"),
    Winding.STEEL_ROUND: N_("steel, round wound"),
    Winding.STEEL_FLAT: N_("steel, flat wound"),
    Winding.BRONZE_ROUND: N_("bronze, round wound"),
    Winding.NYLON: N_("nylon"),
    Winding.OTHER: N_("other"),
}

_SOURCES: Final[dict[WeightSource, str]] = {
    WeightSource.TYPED: N_("from the unit weight you gave"),
    WeightSource.TABLE: N_("from a string maker's published table"),
    WeightSource.BETWEEN: N_("between two rows of a string maker's published table"),
    WeightSource.PLAIN_FORMULA: N_("from the density of plain steel"),
    WeightSource.BEYOND: N_("beyond the rows of a string maker's published table"),
}

_CAUTIONS: Final[dict[CautionCode, str]] = {
    CautionCode.STRINGS_SNAP: N_(
        "A string under tension can snap and its ends fly. Wear eye protection, keep faces clear, "
        "and hold the offcut when you cut it."
    ),
    CautionCode.NECK_AND_BRIDGE: N_(
        "A change of total tension moves the neck and a floating bridge. Check relief, action and "
        "intonation after retuning."
    ),
    CautionCode.ELASTIC_LIMIT: N_(
        "String {course} is at {percent} % of the breaking strength of music wire, where steel may "
        "stretch for good. Tune up slowly; a thinner string does not help, only a lower pitch or a "
        "shorter scale."
    ),
    CautionCode.PAST_ELASTIC_LIMIT: N_(
        "String {course} is at {percent} % of the breaking strength of music wire, past where "
        "steel springs back: it may stretch for good or snap. Choose a lower pitch or a shorter "
        "scale; a thinner string does not help."
    ),
    CautionCode.NUT_SLOTS: N_(
        "Heavy strings may not fit the nut slots or tuners. Do not file them without advice."
    ),
    CautionCode.LIGHT_STRING: N_(
        "String {course} pulls {lb} lb, less than in any common set: it may buzz and go sharp "
        "when played hard."
    ),
    CautionCode.HEAVY_STRING: N_(
        "String {course} pulls {lb} lb, more than in any common set: tune up slowly, and ask "
        "whether the instrument is made for it."
    ),
    CautionCode.MAKERS_MANUAL: N_(
        "For work on neck, nut and bridge see the instrument maker's manual, or ask a qualified "
        "repair person."
    ),
    CautionCode.ESTIMATES: N_("Tensions are estimates for new strings."),
    CautionCode.LOUD: N_("Start quietly: loud previews hurt ears."),
    CautionCode.PRACTICE: N_("Rest your hands: long practice strains them. Stop if it hurts."),
}
_CHANGE: Final = N_("Here all strings together change by {change} lb.")


def winding_words(winding: Winding) -> str:
    """How a string is made."""
    return _(_WINDINGS[winding])


def tension_words(tension: Tension | None) -> str:
    """``14.2 lb, 63 N``; where it cannot be computed, that it is not."""
    if tension is None:
        return _("not computed")
    return _("{lb} lb, {newton} N").format(lb=fixed(tension.lb, 1), newton=fixed(tension.newton, 0))


def sources_words(pulls: Sequence[tuple[Tension, Winding]]) -> str:
    """What several tensions were computed from, each source once with all its uncertainties."""
    found: dict[WeightSource, list[float]] = {}
    for pull, _winding in pulls:
        found.setdefault(pull.source, []).append(pull.uncertainty_percent)
    words = []
    for source, percents in found.items():
        least, most = number_words(min(percents)), number_words(max(percents))
        own = least if least == most else _("{least} to {most}").format(least=least, most=most)
        words.append(_("{source}, ± {own} %").format(source=_(_SOURCES[source]), own=own))
    # Steel weighs what steel weighs, whoever draws it, and what was typed is of the maker's own.
    if any(
        winding is not Winding.PLAIN and pull.source is not WeightSource.TYPED
        for pull, winding in pulls
    ):
        other = number_words(OTHER_MAKER_PERCENT)
        words.append(_("another make may differ by {other} %").format(other=other))
    return "; ".join(words)


def cents_words(cents: float) -> str:
    """An offset in cents: ``14 cents flat``, ``5 cents sharp``; empty for none."""
    if not cents:
        return ""
    text = _("{cents} cents sharp") if cents > 0 else _("{cents} cents flat")
    return text.format(cents=number_words(abs(cents)))


def caution_words(caution: Caution) -> str:
    """A caution as a sentence or two."""
    lb = "" if caution.lb is None else fixed(caution.lb, 1)
    percent = "" if caution.percent is None else fixed(caution.percent, 0)
    text = _(_CAUTIONS[caution.code]).format(course=caution.course, lb=lb, percent=percent)
    if caution.code is CautionCode.NECK_AND_BRIDGE and caution.lb is not None:
        text += " " + _(_CHANGE).format(change=signed(caution.lb, 0))
    return text


def tuning_words(tuning: Tuning) -> str:
    """A tuning by its names: ``D standard (whole step down)``."""
    return f"{_(tuning.name)} ({_(tuning.also)})" if tuning.also else _(tuning.name)


def tuning_row(setup: Setup, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """The notes of a setup low to high, as players say a tuning: ``C G C F A D``."""
    return " ".join(shown(note_of(name), naming) for name in tuning_names(setup))


def setup_tuning_words(setup: Setup, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """The tuning by the trade's name where it has one, and its notes: ``Drop C: C G C F A D``."""
    name, row = name_of(setup), tuning_row(setup, naming)
    return row if name is None else f"{_(name)}: {row}"
