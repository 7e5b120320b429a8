"""What a string stands and how sharp it goes, real gauges and sets, in words."""

from __future__ import annotations

from chalkfret.strings.gauges import (
    WORTH_CHANGING,
    Nearest,
    RealGauge,
    StringSet,
    gauges_of,
)
from chalkfret.strings.sharpness import Cents, Sharpness
from chalkfret.strings.strength import Strength, Zone
from chalkfret.words.figures import fixed
from chalkfret.words.text import _, ngettext


def strength_words(strength: Strength | None) -> str:
    """The share of breaking strength with its uncertainty, or that it is not computed."""
    if strength is None:
        return _("strength not computed: the core is not known")
    if strength.zone is Zone.BELOW:
        text = _("{percent} % of breaking strength (± {own} %)")
    elif strength.zone is Zone.AT_LIMIT:
        text = _("{percent} % of breaking strength (± {own} %): at the elastic limit")
    else:
        text = _("{percent} % of breaking strength (± {own} %): past the elastic limit")
    return text.format(
        percent=fixed(strength.percent, 0), own=fixed(strength.uncertainty_percent, 0)
    )


def cents_span(cents: Cents) -> str:
    """Cents as a figure, or a span where the core is guessed: ``9 to 18``."""
    least, most = fixed(cents.least, 0), fixed(cents.most, 0)
    return least if least == most else _("{least} to {most}").format(least=least, most=most)


def sharpness_words(sharpness: Sharpness | None, fret: int) -> str:
    """How sharp it goes at a fret and when struck hard; empty where that is not computed."""
    if sharpness is None:
        return ""
    text = (
        _("cents sharp, an estimate: {pressed} at fret {fret}, {struck} when struck hard")
        if sharpness.estimate
        else _("cents sharp: {pressed} at fret {fret}, {struck} when struck hard")
    )
    return text.format(
        fret=fret,
        pressed=cents_span(sharpness.at(fret)),
        struck=cents_span(sharpness.struck),
    )


def sharpness_source(usual: bool) -> str:
    """What the cents are reckoned from."""
    text = _(
        "Cents are of the string's stretch alone, with the finger 5 mm behind the fret and a "
        "stroke of 4 mm; what nut and bridge take back is not reckoned."
    )
    if usual:
        text += " " + _(
            "Heights are the usual ones: 0.5 mm over the frets at the nut, 3 mm at the bridge."
        )
    return text


def gauge_words(inches: float) -> str:
    """A gauge as strings are sold: ``.046``, with a fourth digit only where there is one."""
    digits = f"{round(inches * 10_000):04d}"
    return f".{digits[:3]}" if digits.endswith("0") else f".{digits}"


def found_words(course: int, before: float | None, found: RealGauge, wanted_lb: float) -> str:
    """A string's gauge for a wanted pull; where the table ends too soon, that it does."""
    if before is not None and abs(before - found.gauge) < 5e-5:
        text = _("String {course}: {gauge} stays, {lb} lb (wanted {wanted})")
    elif before is not None:
        text = _("String {course}: {gauge} for {before}, {lb} lb (wanted {wanted})")
    else:
        text = _("String {course}: {gauge}, {lb} lb (wanted {wanted})")
    ends = found.gauge == gauges_of(found.winding)[-1][0]
    if ends and found.lb < wanted_lb * (1 - WORTH_CHANGING):
        text = _("String {course}: {gauge} is the thickest in the table, {lb} lb (wanted {wanted})")
    return text.format(
        course=course,
        gauge=gauge_words(found.gauge),
        before="" if before is None else gauge_words(before),
        lb=fixed(found.lb, 1),
        wanted=fixed(wanted_lb, 1),
    )


def spread_words(spread_percent: float) -> str:
    """How even a set is."""
    return _("the tightest string pulls {percent} % more than the loosest").format(
        percent=fixed(spread_percent, 0)
    )


def set_words(one: StringSet) -> str:
    """A bought set on this guitar: its name, its total, how even it is."""
    return _("{name}: {lb} lb in all, {spread}").format(
        name=one.name, lb=fixed(one.total_lb, 0), spread=spread_words(one.spread_percent)
    )


def nearest_words(nearest: Nearest) -> str:
    """The nearest bought set, and what to change in it."""
    name = nearest.bought.name
    if not nearest.swaps:
        return _("The nearest set in the shops is {name}, as it is.").format(name=name)
    if 2 * len(nearest.swaps) > len(nearest.bought.strings):
        return _(
            "No set in the shops comes near: in {name} most strings would have to go. Buy single "
            "strings."
        ).format(name=name)
    swaps = ", ".join(
        _("{better} for the {bought}").format(
            better=gauge_words(one.better.gauge), bought=gauge_words(one.bought.gauge)
        )
        for one in nearest.swaps
    )
    return ngettext(
        "The nearest set in the shops is {name}; change one string in it: {swaps}.",
        "The nearest set in the shops is {name}; change {count} strings in it: {swaps}.",
        len(nearest.swaps),
    ).format(name=name, count=len(nearest.swaps), swaps=swaps)
