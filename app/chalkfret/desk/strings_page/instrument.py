"""What a guitar is beside its strings: name, scale length, frets, capo, reference, courses."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QMenu, QToolButton, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.pieces.fields import Field, set_room
from chalkfret.desk.pieces.form import SIDE_NAME_UNITS, Group
from chalkfret.desk.pieces.numbers import stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.strings_page import readers
from chalkfret.desk.strings_page.setups import Doubling, doubled, doubling_of
from chalkfret.desk.strings_page.words import DOUBLINGS
from chalkfret.model import Capo, Setup, limits
from chalkfret.words.text import N_, _, said

# Scale lengths of the trade in inches, with the guitars they are usual for (common practice).
SCALES = (
    (24.75, N_("short electric scale")),
    (25.0, N_("between short and long")),
    (25.5, N_("long electric scale")),
    (25.4, N_("flat-top acoustic")),
    (25.6, N_("classical, 650 mm")),
    (26.5, N_("extended scale, seven strings")),
    (27.0, N_("baritone")),
    (28.0, N_("baritone, eight strings")),
    (28.5, N_("long baritone")),
    (30.0, N_("short bass scale")),
    (34.0, N_("long bass scale")),
)


class Instrument(Group):
    """Sends the setup changed, with the name of what changed."""

    edited = Signal(str, object)  # which field, and the new setup

    def __init__(self, look: Look) -> None:
        super().__init__(look, _("Setup"), name_units=SIDE_NAME_UNITS)
        self._setup: Setup | None = None
        self.name = self._field(str, str, _("Name of the setup"), _("name"), "name")
        self.scale = self._field(
            readers.read_length, readers.write_length, _("Scale length"), "scale", "scale_mm"
        )
        self.frets = Stepper(
            look,
            _("Frets"),
            whole(1, limits.FRET_MAX, _("Frets go from 1 to 36.")),
            str,
            stepper_within(1, limits.FRET_MAX),
            "36",
        )
        self.capo = Stepper(
            look,
            _("Capo"),
            readers.read_capo,
            readers.write_capo,
            stepper_within(0, limits.FRET_MAX),
            readers.write_capo(0),
        )
        self.over = Field(readers.courses_reader(lambda: len(self._known.courses)),
                          readers.write_courses)  # fmt: skip
        self.over.setAccessibleName(_("Strings under the capo"))
        self.a4 = self._field(readers.read_a4, readers.write_a4, _("Frequency of A4"), "a4", "a4")
        self.courses = Choice(said(DOUBLINGS), _("Strings to a course"))
        self.add(_("Name"), self.name)
        self.other_scale = small(look)
        self.add(_("Scale length"), _beside(self.scale, self.other_scale, self._scales(look)))
        self.add(_("Frets"), self.frets)
        self.add(_("Capo"), self.capo)
        self.add(_("Capo over"), self.over)
        self.add(_("A4"), self.a4)
        self.add(_("Courses"), self.courses)
        self.frets.typed.connect(lambda count: self._send("fret_count", fret_count=count))
        self.capo.typed.connect(self._set_capo)
        self.over.typed.connect(self._set_over)
        self.courses.chosen.connect(self._double)
        for field in (self.frets.field, self.capo.field, self.over):
            self.hear(field)
        follow(self, look, self._fit)

    @property
    def _known(self) -> Setup:
        assert self._setup is not None, "shown before a setup was"
        return self._setup

    def show_setup(self, setup: Setup) -> None:
        """Show this setup."""
        self._setup = setup
        capo = setup.capo
        self.name.show_value(setup.name)
        self.scale.show_value(setup.scale_mm)
        self.other_scale.setText(readers.other_length(setup.scale_mm))
        self.frets.show_value(setup.fret_count)
        self.capo.show_value(0 if capo is None else capo.fret)
        self.over.show_value(() if capo is None else capo.courses)
        self.over.setEnabled(capo is not None)
        self.a4.show_value(setup.a4)
        kind = doubling_of(setup)
        self.courses.set_choices(
            {each: words for each, words in said(DOUBLINGS).items() if each in (kind, *_OFFERED)}
        )
        self.courses.show_value(kind)

    def _field(self, read: Any, write: Any, says: str, what: str, key: str) -> Field:
        field = Field(read, write)
        field.setAccessibleName(says)
        field.typed.connect(lambda value: self._send(what, **{key: value}))
        self.hear(field)
        return field

    def _send(self, what: str, **fields: Any) -> None:
        self.edited.emit(what, replace(self._known, **fields))

    def _set_capo(self, fret: int) -> None:
        capo = self._known.capo
        courses = () if capo is None else capo.courses
        self._send("capo", capo=Capo(fret, courses) if fret else None)

    def _set_over(self, courses: tuple[int, ...]) -> None:
        capo = self._known.capo
        if capo is not None:
            self._send("capo", capo=Capo(capo.fret, courses))

    def _double(self, kind: Doubling) -> None:
        self.edited.emit("courses", doubled(self._known, kind))

    def _scales(self, look: Look) -> QToolButton:
        button = tool(look, "unfold", _("Choose a usual scale length"))
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(button)
        for inches, words in sorted(SCALES):
            length = round(inches * readers.MM_PER_INCH, 3)
            both = f"{readers.write_length(length)}, {readers.other_length(length)}"
            action = menu.addAction(f"{both}\t{_(words)}")
            action.triggered.connect(
                lambda _on=False, length=length: self._send("scale", scale_mm=length)
            )
        button.setMenu(menu)
        return button

    def _fit(self) -> None:
        set_room(self.over, "1 2 4 5 6")
        self.other_scale.setWordWrap(False)
        set_room(self.a4, "442.55 Hz")


_OFFERED = (Doubling.SINGLE, Doubling.TWELVE, Doubling.UNISON)


def _beside(first: Field, *others: QWidget) -> QWidget:
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(4)
    layout.addWidget(first, 1)
    for widget in others:
        layout.addWidget(widget)
    row.setFocusProxy(first)
    return row
