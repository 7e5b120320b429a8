"""The setup box: how a guitar is strung and tuned, string by string."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from chalkfret.model import NoteNaming
from chalkfret.model.setup import GuitarString, Setup
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import facts, plain, set_text
from chalkfret.sheet.style import Style
from chalkfret.strings.retune import Step, from_standard, total_change_lb
from chalkfret.strings.tension import tension, total_tension
from chalkfret.theory.naming import shown
from chalkfret.words.figures import fixed, inches_words, number_words
from chalkfret.words.strings import setup_tuning_words
from chalkfret.words.text import _, ngettext

_INCH: Final = 25.4
# Columns as shares of the table's width: number, picture, pitch, gauge, step, tension.
_NUMBER, _PICTURE, _PITCH, _GAUGE, _STEP, _PULL = 0.05, 0.09, 0.335, 0.52, 0.755, 1.0


@lru_cache(maxsize=256)
def setup_box(
    setup: Setup,
    players: tuple[str, ...],
    naming: NoteNaming,
    width: float,
    style: Style,
    measurer: Measurer,
) -> Block:
    """One setup as a table in the order of the tab's lines, thinnest string on top."""
    pen = Pen(measurer)
    size, small = style.body, style.note
    y = 0.0
    title = set_text(plain(", ".join(players), Face.SEMIBOLD), width, size, measurer, tag="players")
    pen.text(title, 0.0, y)
    y += title.height
    names = [setup_tuning_words(setup, naming)]
    if setup.name and setup.name not in names[0] and setup.name != names[0]:
        names.insert(0, setup.name)
    tuning = set_text(
        plain(facts(names, width, size, measurer)), width, size, measurer, tag="tuning"
    )
    pen.text(tuning, 0.0, y)
    y = _table(pen, setup, naming, width, y + tuning.height + 1.0 * style.words, style)
    line = facts(_facts(setup), width, small, measurer)
    under = set_text(plain(line), width, small, measurer, Ink.SOFT, "setup")
    pen.text(under, 0.0, y + 0.7 * style.words)
    return pen.block(width, y + 0.7 * style.words + under.height)


def _table(
    pen: Pen, setup: Setup, naming: NoteNaming, width: float, y: float, style: Style
) -> float:
    small = style.note
    row = small * 1.4
    strings = [string for course in setup.courses for string in course.strings]
    columns = [(_PITCH, _("pitch")), (_STEP, _("from standard"))]
    if any(string.gauge is not None for string in strings):
        columns.append((_GAUGE, _("gauge, inch")))
    if any(tension(string, setup) is not None for string in strings):
        columns.append((_PULL, _("tension")))
    for share, text in columns:
        y_head = y + 0.95 * small
        pen.words(share * width, y_head, text, small, ink=Ink.SOFT, tag="setup", align=1.0)
    y += row * 0.95
    pen.rule(0.0, y, width, 0.25, Ink.INK)
    steps = iter(from_standard(setup))
    for number, course in enumerate(setup.courses, start=1):
        for index, string in enumerate(course.strings):
            base = y + 0.5 * row + 0.33 * small
            if index == 0:
                x = _NUMBER * width
                pen.words(x, base, str(number), small, Face.SEMIBOLD, tag="setup", align=1.0)
            if string.gauge is not None:
                # The string itself, three times as thick as it is, to tell gauges apart.
                thick = min(string.gauge * _INCH * 0.75, 1.4) * style.words
                middle = base - 0.33 * small
                pen.rule(_PICTURE * width, middle, 0.215 * width, thick, Ink.INK)
            cells = _cells(setup, string, next(steps), naming)
            for share, _head in columns:
                face = Face.SEMIBOLD if share == _PITCH else Face.REGULAR
                pen.words(share * width, base, cells[share], small, face, tag="setup", align=1.0)
            y += row
        pen.rule(0.0, y, width, 0.1)
    return y


def _cells(setup: Setup, string: GuitarString, step: Step, naming: NoteNaming) -> dict[float, str]:
    """What stands in each column of a string's row."""
    pull = tension(string, setup)
    return {
        _PITCH: shown(string.pitch, naming) + _cents(string.cents),
        _GAUGE: "–" if string.gauge is None else _gauge(string.gauge),
        _STEP: _step(step),
        _PULL: "–" if pull is None else _("{lb} lb").format(lb=fixed(pull.lb, 1)),
    }


def _gauge(inches: float) -> str:
    """A gauge as strings are sold: ``.046``, with a fourth digit only where there is one."""
    digits = f"{round(inches * 10_000):04d}"
    return f".{digits[:3]}" if digits.endswith("0") else f".{digits}"


def _cents(cents: float) -> str:
    return "" if not cents else f" {cents:+g} ¢".replace("-", "−")


def _step(step: Step) -> str:
    """Semitones from standard with an arrow: the sign a player looks for at the tuner."""
    if not step.semitones:
        return "–"
    size = abs(step.semitones)
    words = ngettext("{way} {size} semitone", "{way} {size} semitones", size)
    return words.format(way="↑" if step.semitones > 0 else "↓", size=size)


def _facts(setup: Setup) -> list[str]:
    said: list[str] = []
    if setup.capo is not None:
        words = _("capo at fret {fret}").format(fret=setup.capo.fret)
        if setup.capo.courses:
            strings = ", ".join(map(str, setup.capo.courses))
            words = _("capo at fret {fret} over strings {strings}").format(
                fret=setup.capo.fret, strings=strings
            )
        said.append(words)
    if setup.a4 != 440.0:
        said.append(_("A4 = {hz} Hz").format(hz=number_words(setup.a4)))
    said.append(_scale(setup))
    total = total_tension(setup)
    if total.lb:
        words = _("{lb} lb in all") if not total.unknown else _("{lb} lb without {unknown} strings")
        said.append(words.format(lb=fixed(total.lb, 0), unknown=total.unknown))
    change = total_change_lb(setup)
    if change is not None and round(change):
        figure = f"{change:+.0f}".replace("-", "−")
        said.append(_("{change} lb from standard").format(change=figure))
    return said


def _scale(setup: Setup) -> str:
    lengths = [setup.scale_of(s) for course in setup.courses for s in course.strings]
    low, high = min(lengths), max(lengths)
    shortest, longest = inches_words(low / _INCH), inches_words(high / _INCH)
    text = f"{shortest}″" if low == high else f"{shortest}–{longest}″"
    return _("scale length {length}").format(length=text)
