"""What is told of one string only where it differs from the others: the string worked on."""

from __future__ import annotations

from PySide6.QtCore import Signal

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.fields import Field, Unreadable
from chalkfret.desk.pieces.form import SIDE_NAME_UNITS, Group
from chalkfret.desk.pieces.numbers import plain, stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.desk.strings_page import readers
from chalkfret.desk.strings_page.words import string_words
from chalkfret.model import Setup, limits
from chalkfret.words.text import _


class Details(Group):
    """Sends changes of the string that is shown."""

    edited = Signal(int, int, str, object)
    strings_in = Signal(int, int)  # course, and how many strings it has

    def __init__(self, look: Look) -> None:
        super().__init__(look, _("This string"), name_units=SIDE_NAME_UNITS)
        self._at = (1, 0)
        self.scale = Field(readers.read_own_length, readers.write_own_length)
        self.scale.setPlaceholderText(_("as the guitar's"))
        self.first_fret = Stepper(
            look,
            _("Starts at fret"),
            whole(0, limits.FRET_MAX, _("A short string starts at a fret from 0 to 36.")),
            str,
            stepper_within(0, limits.FRET_MAX),
            "36",
        )
        most = limits.STRINGS_PER_COURSE_MAX
        self.count = Stepper(
            look,
            _("Strings in this course"),
            whole(1, most, _("A course has 1 to 3 strings.")),
            str,
            stepper_within(1, most),
            "3",
        )
        self.weight = Field(read_weight, write_weight)
        self.weight.setPlaceholderText(_("from the table"))
        for field, words in ((self.scale, _("Own scale length")), (self.weight, _("Unit weight"))):
            field.setAccessibleName(words)
        self.add(_("Own scale"), self.scale)
        self.add(_("Starts at fret"), self.first_fret)
        self.add(_("In the course"), self.count)
        self.add(_("Weight, lb/in"), self.weight)
        self.scale.typed.connect(lambda length: self._send("scale_mm", length))
        self.first_fret.typed.connect(lambda fret: self._send("first_fret", fret))
        self.weight.typed.connect(lambda weight: self._send("unit_weight", weight))
        self.count.typed.connect(lambda count: self.strings_in.emit(self._at[0], count))
        for field in (self.scale, self.first_fret.field, self.weight, self.count.field):
            self.hear(field)

    def show_string(self, setup: Setup, course: int, string: int) -> None:
        """Show what is told of this string."""
        self._at = (course, string)
        strings = setup.course(course).strings
        one = strings[string]
        words = string_words(course, string, len(strings))
        self.title.setText(words[:1].upper() + words[1:])
        self.scale.show_value(one.scale_mm)
        self.first_fret.show_value(one.first_fret)
        self.count.show_value(len(strings))
        self.weight.show_value(one.unit_weight)

    def _send(self, name: str, value: object) -> None:
        self.edited.emit(*self._at, name, {name: value})


def read_weight(text: str) -> float | None:
    """A unit weight in lb/in as makers print it; nothing: from the table."""
    if not text.strip():
        return None
    wrong = _("A unit weight is pounds an inch as the maker prints it, for example .00011271.")
    try:
        weight = float(text.replace(",", "."))
    except ValueError:
        raise Unreadable(wrong, unfinished=text.strip() in (".", ",")) from None
    if not 0 < weight <= 0.1:
        raise Unreadable(wrong, unfinished=weight == 0)
    return weight


def write_weight(weight: float | None) -> str:
    """A unit weight with the digits that makers print."""
    return "" if weight is None else plain(weight, 8).lstrip("0")
