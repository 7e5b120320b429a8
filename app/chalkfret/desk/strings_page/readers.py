"""What a teacher types on the Strings page, read into figures; and figures as one writes them.

Each reader takes the text and returns the value, or raises ``Unreadable`` with a sentence that
says what would be understood. Gauges are inches, lengths millimetres, offsets cents.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.pieces.numbers import plain, whole, within
from chalkfret.model import NoteNaming, limits
from chalkfret.words.text import _

MM_PER_INCH = 25.4
_NUMBER = re.compile(r"([-+−]?)\s*(\d*[.,]?\d*)\s*(.*)")


def _number(text: str) -> tuple[float, str] | None:
    """The number a text begins with and the word after it; None where there is none."""
    match = _NUMBER.fullmatch(text.strip())
    if match is None or not re.search(r"\d", match[2]):
        return None
    sign = -1.0 if match[1] in ("-", "−") else 1.0
    return sign * float(match[2].replace(",", ".")), match[3].strip().lower()


# --- one string --------------------------------------------------------------------------------


def read_gauge(text: str) -> float | None:
    """``.046``, ``46``, ``46 w``, ``9.5`` or ``1.17 mm`` as inches; nothing: not known."""
    if not text.strip():
        return None
    wrong = _("A gauge is thousandths of an inch, as in 46 or .046, or millimetres: 1.17 mm.")
    read = _number(text)
    if read is None:
        raise Unreadable(wrong, unfinished=text.strip() in (".", ",", "0"))
    number, unit = read
    if unit.startswith("m"):
        inches = number / MM_PER_INCH
    elif unit in ("", "in", '"', "w", "p", "inch"):
        inches = number / 1000 if number >= 1 else number
    else:
        raise Unreadable(wrong)
    if not limits.GAUGE_MIN <= inches <= limits.GAUGE_MAX:
        low, high = write_gauge(limits.GAUGE_MIN), write_gauge(limits.GAUGE_MAX)
        raise Unreadable(
            _("Gauges go from {low} to {high} of an inch.").format(low=low, high=high),
            unfinished=inches < limits.GAUGE_MIN,
        )
    return round(inches, 5)


def write_gauge(inches: float | None) -> str:
    """Inches as strings are sold: ``.046``, ``.060``, ``.0095``."""
    if inches is None:
        return ""
    digits = max(3, len(plain(inches, 5)) - 2)
    return f"{inches:.{digits}f}".lstrip("0")


def step_gauge(inches: float | None, steps: int) -> float:
    """The gauge so many thousandths thicker, beginning at a plain ten."""
    if inches is None:
        return 0.010
    return within(round(inches + steps / 1000, 5), limits.GAUGE_MIN, limits.GAUGE_MAX)


def read_cents(text: str) -> float:
    """``+5``, ``-12.5`` or nothing, as cents."""
    if not text.strip():
        return 0.0
    read = _number(text)
    if read is None or read[1] not in ("", "c", "ct", "cent", "cents"):
        raise Unreadable(
            _("Cents are a number, as in -14 or +5: how far the string is off its note."),
            unfinished=text.strip() in ("+", "-", "−"),
        )
    if abs(read[0]) > limits.CENTS_MAX:
        raise Unreadable(_("At most 100 cents either way: beyond that it is the next note."))
    return read[0]


def write_cents(cents: float) -> str:
    """Cents with their sign, nothing where there are none."""
    if cents == 0:
        return ""
    return ("+" if cents > 0 else "−") + plain(abs(cents), 2)


def step_cents(cents: float, steps: int) -> float:
    """So many cents more."""
    return within(cents + steps, -limits.CENTS_MAX, limits.CENTS_MAX)


def pitch_reader(naming: NoteNaming, near: Callable[[], str]) -> Callable[[str], str]:
    """A reader of one note; without an octave it is the one nearest to the pitch ``near()``."""

    def read(text: str) -> str:
        from chalkfret.model.pitch import midi_of
        from chalkfret.theory.naming import CannotRead, read_note
        from chalkfret.words.sentences import sentence

        typed = text.strip()
        octave = typed[-1:] if typed[-1:].isdigit() else ""
        try:
            name = read_note(typed.removesuffix(octave), naming)
        except CannotRead as trouble:
            raise Unreadable(sentence(trouble.fault), unfinished=not typed) from None
        if octave == "9":
            raise Unreadable(_("Octaves go from 0 to 8; the low E of a guitar is E2."))
        if octave:
            return name + octave
        here = midi_of(near())
        return min((f"{name}{octave}" for octave in range(9)), key=lambda p: abs(midi_of(p) - here))

    return read


# --- the whole guitar --------------------------------------------------------------------------


def read_length(text: str) -> float:
    """``25.5``, ``25 1/2 in``, ``648 mm`` or ``64.8 cm`` as millimetres."""
    typed = re.sub(
        r"(\d+)\s+(\d+)/(\d+)",
        lambda m: plain(int(m[1]) + int(m[2]) / max(1, int(m[3])), 5),
        text,
    )
    read = _number(typed)
    wrong = _("A length is inches or millimetres, as in 25.5 in or 648 mm.")
    if read is None:
        raise Unreadable(wrong, unfinished=not text.strip())
    number, unit = read
    if unit.startswith("mm") or (not unit and number > 100):
        length = number
    elif unit.startswith("cm"):
        length = number * 10
    elif unit in ("", '"', "i", "in", "inch", "inches", "″"):
        length = number * MM_PER_INCH
    else:
        raise Unreadable(wrong, unfinished=unit in ("m", "c"))
    if not limits.SCALE_MIN <= length <= limits.SCALE_MAX:
        raise Unreadable(
            _("Scale lengths go from 300 to 1,200 mm (11.8 to 47.2 in)."),
            unfinished=length < limits.SCALE_MIN,
        )
    return round(length, 3)


def write_length(mm: float) -> str:
    """In the unit in which the length is round: ``25.5 in``, ``650 mm``."""
    return _inches(mm) if _is_round_in_inches(mm) else _millimetres(mm)


def other_length(mm: float) -> str:
    """The length in the other unit."""
    return _millimetres(mm) if _is_round_in_inches(mm) else _inches(mm)


def _is_round_in_inches(mm: float) -> bool:
    fortieths = mm / MM_PER_INCH * 40  # eighths and twentieths of an inch are whole ones
    return abs(fortieths - round(fortieths)) < 1e-3


def _inches(mm: float) -> str:
    return f"{plain(mm / MM_PER_INCH, 3)} in"


def _millimetres(mm: float) -> str:
    return f"{plain(mm, 2)} mm"


def read_own_length(text: str) -> float | None:
    """As ``read_length``; nothing: as long as the guitar's other strings."""
    return read_length(text) if text.strip() else None


def write_own_length(mm: float | None) -> str:
    """As ``write_length``; nothing for a string as long as the others."""
    return "" if mm is None else write_length(mm)


def read_capo(text: str) -> int:
    """The capo's fret; nothing, ``no`` or 0: no capo."""
    if text.strip().lower() in ("", _("none").lower(), "no", "0"):
        return 0
    most = limits.FRET_MAX
    return whole(0, most, _("The capo lies at a fret from 1 to {most}; 0 or nothing: no capo."
                            ).format(most=most))(text)  # fmt: skip


def write_capo(fret: int) -> str:
    """The capo's fret in words."""
    return str(fret) if fret else _("none")


def courses_reader(count: Callable[[], int]) -> Callable[[str], tuple[int, ...]]:
    """A reader of string numbers: ``1-5``, ``1 2 3``; nothing or ``all``: every string."""

    def read(text: str) -> tuple[int, ...]:
        most = count()
        wrong = _("Name strings by number, as in 1-5 or 1 2 3; nothing means all.")
        if text.strip().lower() in ("", _("all").lower(), "all"):
            return ()
        found: set[int] = set()
        for word in re.split(r"[\s,;]+", text.strip()):
            match = re.fullmatch(r"(\d+)(?:[-–](\d+))?", word)
            if match is None:
                raise Unreadable(wrong, unfinished=bool(re.fullmatch(r"\d+[-–]", word)))
            first, last = int(match[1]), int(match[2] or match[1])
            if not 1 <= first <= last <= most:
                raise Unreadable(_("This guitar has strings 1 to {most}.").format(most=most))
            found.update(range(first, last + 1))
        return () if len(found) == most else tuple(sorted(found))

    return read


def write_courses(courses: tuple[int, ...]) -> str:
    """String numbers as one types them."""
    if not courses:
        return _("all")
    if len(courses) > 2 and courses[-1] - courses[0] == len(courses) - 1:
        return f"{courses[0]}–{courses[-1]}"
    return " ".join(str(course) for course in courses)


def read_a4(text: str) -> float:
    """The frequency of A4 in Hz."""
    read = _number(text)
    if read is None or read[1] not in ("", "h", "hz"):
        raise Unreadable(_("A4 is a frequency, as in 440 or 442.5 Hz."), not text.strip())
    if not limits.A4_MIN <= read[0] <= limits.A4_MAX:
        raise Unreadable(_("A4 goes from 380 to 480 Hz."), unfinished=read[0] < limits.A4_MIN)
    return read[0]


def write_a4(hertz: float) -> str:
    """The frequency with its unit."""
    return f"{plain(hertz, 2)} Hz"
