"""One string of the table: the fields to change it and the words that say what follows."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from chalkfret.desk.look import SMALL, Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Field, set_room
from chalkfret.desk.strings_page import readers
from chalkfret.desk.strings_page.facts import StringFacts
from chalkfret.desk.strings_page.setups import moved_pitch
from chalkfret.desk.strings_page.words import string_words
from chalkfret.model import GuitarString, NoteNaming, Winding
from chalkfret.words.strings import winding_words
from chalkfret.words.text import _


class StringRow(QObject):
    """The widgets of one string. The table places them and keeps their order of Tab."""

    edited = Signal(str, object)  # the field's name and the string's fields that change
    reached = Signal()  # the focus came to one of the fields
    told = Signal(str, bool)
    down = Signal(str, int)  # from this field to the same one, so many strings further down

    def __init__(
        self, look: Look, course: int, string: int, strings: int, naming: NoteNaming
    ) -> None:
        super().__init__()
        self.course, self.string = course, string
        self._look = look
        self._one = GuitarString("E2")
        self._here = False
        who = string_words(course, string, strings)
        self.number = QLabel(str(course) if string == 0 else "")
        self.number.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.pitch = Field(
            readers.pitch_reader(naming, lambda: self._one.pitch),
            lambda pitch: _shown(pitch, naming),
            moved_pitch,
        )
        self.cents = Field(readers.read_cents, readers.write_cents, readers.step_cents)
        self.cents.setPlaceholderText("0")
        self.gauge = Field(readers.read_gauge, readers.write_gauge, readers.step_gauge)
        self.gauge.setPlaceholderText("?")
        self.winding = Choice({winding: winding_words(winding) for winding in Winding})
        self.hertz, self.tension, self.standard = (QLabel() for _each in range(3))
        self.remark = QLabel()
        self.pull = _column(self.tension, self.remark)
        for name, field, says in (
            ("pitch", self.pitch, _("note")),
            ("cents", self.cents, _("cents off its note")),
            ("gauge", self.gauge, _("gauge in inches")),
        ):
            field.setAccessibleName(f"{who}, {says}")
            field.typed.connect(lambda value, name=name: self.edited.emit(name, {name: value}))
            field.told.connect(self.told)
            field.installEventFilter(self)
        self.winding.setAccessibleName(f"{who}, " + _("kind of string"))
        self.winding.chosen.connect(lambda kind: self.edited.emit("winding", {"winding": kind}))
        self.winding.installEventFilter(self)
        follow(self, look, self._dress)

    @property
    def fields(self) -> dict[str, QWidget]:
        """The widgets in which the string is changed, in their order of Tab."""
        return {
            "pitch": self.pitch,
            "cents": self.cents,
            "gauge": self.gauge,
            "winding": self.winding,
        }

    @property
    def widgets(self) -> tuple[QWidget, ...]:
        """All widgets of the row."""
        return (self.number, *self.fields.values(), self.hertz, self.pull, self.standard)

    def show_string(self, one: GuitarString, facts: StringFacts, here: bool) -> None:
        """Show the string and what was reckoned of it; ``here``: it is the one worked on."""
        self._one = one
        self.pitch.show_value(one.pitch)
        self.cents.show_value(one.cents)
        self.gauge.show_value(one.gauge)
        self.winding.show_value(one.winding)
        self.hertz.setText(facts.hertz)
        self.tension.setText(facts.tension)
        self.standard.setText(facts.standard)
        self.remark.setText(facts.remark)
        self.remark.setVisible(bool(facts.remark))
        if here != self._here:
            self._here = here
            self._colour()

    def _dress(self) -> None:
        look = self._look
        for field, widest in ((self.pitch, "F♯2 "), (self.cents, "−100.5"), (self.gauge, ".0095")):
            set_room(field, widest)
        for label in (self.hertz, self.tension, self.standard):
            label.setFont(look.font())
        self.remark.setFont(look.font(SMALL))
        self._colour()

    def _colour(self) -> None:
        look = self._look
        self.number.setFont(look.font(strong=self._here))
        for label, colour in (
            (self.number, "ochre" if self._here else "soft"),
            (self.hertz, "soft"),
            (self.standard, "soft"),
            (self.remark, "warning"),
        ):
            palette = label.palette()
            palette.setColor(label.foregroundRole(), look.colour(colour))
            label.setPalette(palette)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.FocusIn:
            self.reached.emit()
        elif event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            steps = _rows_of(event, isinstance(watched, QComboBox))
            refused = isinstance(watched, Field) and watched.is_refused
            if steps and not refused:  # what is refused is read, and mended, before going on
                name = next(name for name, each in self.fields.items() if each is watched)
                self.down.emit(name, steps)
                return True
        return super().eventFilter(watched, event)


def _rows_of(event: QKeyEvent, is_list: bool) -> int:
    """How many strings further down a key leads: Enter and Shift+Enter, as in a table."""
    if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter) or is_list:
        return 0
    return -1 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1


def _shown(pitch: str, naming: NoteNaming) -> str:
    from chalkfret.theory.naming import shown

    return shown(pitch, naming)


def _column(*widgets: QWidget) -> QWidget:
    column = QWidget()
    layout = QVBoxLayout(column)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    layout.addStretch(1)
    for widget in widgets:
        layout.addWidget(widget)
    layout.addStretch(1)
    return column
