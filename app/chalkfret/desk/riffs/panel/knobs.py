"""The knobs of a cue: a field each for a kind that has knobs, one line of words for a free one."""

from __future__ import annotations

import re
from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.dress import small
from chalkfret.desk.pieces.fields import Field, Unreadable
from chalkfret.desk.riffs.panel.readers import number_reader, write_optional
from chalkfret.model import Cue, CueKind, Setting, limits
from chalkfret.model.knobs import KNOBS, Knob
from chalkfret.words.figures import number_words
from chalkfret.words.music import knob_unit, knob_words
from chalkfret.words.text import _

_MOST_KNOBS = max(map(len, KNOBS.values()))
_MOST_SETTINGS = 16
_LARGEST = 1e6


def read_settings(text: str) -> tuple[Setting, ...]:
    """Names with their values, ``gain 7, tone 4.5``; nothing: none."""
    wrong = _("Each knob’s name and its value, as in gain 7, tone 4.5; nothing: not said.")
    found: list[Setting] = []
    pieces = [piece.strip() for piece in re.split("[,;]", text)]
    if pieces[-1] == "":
        pieces.pop()
    for index, piece in enumerate(pieces):
        name, _space, value = piece.rpartition(" ")
        last = index == len(pieces) - 1
        try:
            number = float(value)
        except ValueError:
            raise Unreadable(wrong, unfinished=last) from None
        if not name.strip():
            raise Unreadable(wrong, unfinished=last)
        if len(name) > limits.NAME_MAX or not abs(number) <= _LARGEST:
            raise Unreadable(wrong)
        found.append(Setting(name.strip(), number))
    if len({setting.name for setting in found}) < len(found):
        raise Unreadable(_("Each knob is named once."), unfinished=True)
    if len(found) > _MOST_SETTINGS:
        raise Unreadable(_("At most {most} knobs.").format(most=_MOST_SETTINGS))
    return tuple(found)


def write_settings(settings: tuple[Setting, ...]) -> str:
    """The settings as one types them."""
    return ", ".join(f"{one.name} {number_words(one.value)}" for one in settings)


def with_knob(cue: Cue, knob: Knob, value: float | None) -> tuple[Setting, ...]:
    """The cue's settings with a knob at this value (None: not said), in the order of the knobs."""
    values = {one.name: one.value for one in cue.settings}
    if value is None:
        values.pop(knob.name, None)
    else:
        values[knob.name] = value
    return tuple(
        Setting(one.name, values[one.name]) for one in KNOBS[cue.kind] if one.name in values
    )


class KnobRows:
    """The rows of knobs in a form: as many as the kind that is shown has.

    ``make_field(read, write, take)`` makes a field; ``set_knob`` and ``set_free`` take what is
    typed.
    """

    def __init__(
        self,
        look: Look,
        make_field: Callable[..., Field],
        set_knob: Callable[[Knob, float | None], object],
        set_free: Callable[[tuple[Setting, ...]], object],
    ) -> None:
        self._kind = CueKind.FREE
        self.fields: list[Field] = []
        self.units: list[QLabel] = []
        self.rows: list[QWidget] = []
        for index in range(_MOST_KNOBS):
            field = make_field(
                _("Knob"),
                lambda text, index=index: self._read(index, text),
                write_optional,
                lambda value, index=index: set_knob(KNOBS[self._kind][index], value),
            )
            unit = small(look)
            unit.setWordWrap(False)
            self.fields.append(field)
            self.units.append(unit)
            self.rows.append(Beside(look, field, unit))
        self.free = make_field(_("Knobs"), read_settings, write_settings, set_free)
        self.free.setPlaceholderText(_("as in gain 7, tone 4.5"))

    def _read(self, index: int, text: str) -> float | None:
        knob = KNOBS[self._kind][index]
        sentence = _("{knob}: from {low} to {high} {unit}; nothing: not said.").format(
            knob=knob_words(knob.name),
            low=number_words(knob.low),
            high=number_words(knob.high),
            unit=knob_unit(knob),
        )
        return number_reader(knob.low, knob.high, sentence, None)(text)

    def show(self, cue: Cue | None, anew: bool) -> list[str]:
        """Show the cue's knobs (``anew``: of another cue or kind); the names of the rows seen."""
        self._kind = CueKind.FREE if cue is None else cue.kind
        values = {} if cue is None else {one.name: one.value for one in cue.settings}
        knobs = KNOBS[self._kind]
        measure = self.units[0].fontMetrics()
        widest = max((measure.horizontalAdvance(knob_unit(knob)) for knob in knobs), default=0)
        for knob, field, unit in zip(knobs, self.fields, self.units, strict=False):
            field.setAccessibleName(f"{knob_words(knob.name)}, {knob_unit(knob)}")
            field.setPlaceholderText(_("usually {value}").format(value=number_words(knob.usual)))
            unit.setText(knob_unit(knob))
            unit.setFixedWidth(widest + 1)  # the fields end under one another
            _show(field, values.get(knob.name), anew)
        own = cue.settings if cue is not None and not knobs else ()
        _show(self.free, own, anew)
        return [knob_words(knob.name) for knob in knobs]


def _show(field: Field, value: object, anew: bool) -> None:
    if anew:
        field.show_anew(value)
    else:
        field.show_value(value)
