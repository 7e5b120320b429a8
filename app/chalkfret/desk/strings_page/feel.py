"""Which real gauges give a wanted feel: string by string, and the nearest set in the shops."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import Wrapped, follow, readable, small, strong
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.numbers import stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.model import Setup
from chalkfret.strings.gauges import (
    RealGauge,
    as_bought,
    as_in_standard,
    best_set,
    even_sets,
    nearest_bought,
    physical,
    sets_on,
    strung_with,
)
from chalkfret.words.string_figures import found_words, nearest_words, set_words, spread_words
from chalkfret.words.text import N_, _, said

_SETS_SHOWN = 3


class Wish(StrEnum):
    """What the gauges are to give."""

    STANDARD = "standard"
    ALIKE = "alike"
    EVEN = "even"


_WISHES: dict[str, str] = {
    Wish.STANDARD: N_("as these strings feel in standard"),
    Wish.ALIKE: N_("every string alike"),
    Wish.EVEN: N_("as even as real gauges can be"),
}


class Feel(QWidget):
    """Says the gauges for a wish; ``strung`` sends the setup with them on."""

    strung = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._setup: Setup | None = None
        self._found: tuple[RealGauge | None, ...] = ()
        self._wanted: tuple[float | None, ...] = ()
        self._written: Setup | None = None  # strings written in for a feel in standard, for which
        self._held: tuple[float | None, ...] = ()  # these pulls stay what is wanted
        self._lb = 16
        self.wish = Choice(said(_WISHES), _("What the gauges are to give"))
        self.wish.show_value(Wish.STANDARD)
        self.wish.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToContents)
        self.wish.chosen.connect(lambda _wish: self._say())
        self.pounds = Stepper(
            look,
            _("Pounds for every string"),
            whole(5, 40, _("A string is wanted at 5 to 40 pounds.")),
            str,
            stepper_within(5, 40),
            "40",
        )
        self.pounds.show_value(self._lb)
        self.pounds.typed.connect(self._weigh)
        self.lines = readable(Wrapped())
        self.shops = readable(small(look))
        for label in (self.lines, self.shops):
            label.setWordWrap(True)
        self.put_on = QPushButton(_("Write these gauges in"))
        self.put_on.clicked.connect(self._put)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (
            strong(look, _("Which gauges would feel right?")),
            FlowRow(self.wish, self.pounds, gap=8),
            self.lines,
            FlowRow(self.put_on, gap=8),
            self.shops,
        ):
            column.addWidget(widget)
        follow(self, look, lambda: column.setSpacing(look.unit()))

    def show_setup(self, setup: Setup) -> None:
        """Find gauges for this setup's pitches and lengths."""
        self._setup = setup
        self._say()

    def _weigh(self, lb: int) -> None:
        self._lb = lb
        self._say()

    def _say(self) -> None:
        setup, wish = self._setup, self._offered()
        self.pounds.setVisible(wish == Wish.ALIKE)
        if setup is None:
            return
        strings = physical(setup)
        wanted = self._held if setup == self._written else as_in_standard(setup)
        lines: list[str] = []
        if wish == Wish.EVEN:
            sets = even_sets(setup)
            self._found = sets[0].strings if sets else (None,) * len(strings)
            wanted = tuple(None if one is None else one.lb for one in self._found)
            if sets:
                spread = spread_words(sets[0].spread_percent)
                lines.append(_("With these gauges {spread}.").format(spread=spread))
        else:
            if wish == Wish.ALIKE:
                wanted = (float(self._lb),) * len(strings)
            elif wish != Wish.STANDARD:
                wanted = as_bought(setup, wish)
            self._found = best_set(setup, wanted)
        self._wanted = wanted
        numbers = [n for n, course in enumerate(setup.courses, start=1) for _s in course.strings]
        for number, one, found, lb in zip(numbers, strings, self._found, wanted, strict=True):
            if found is not None and lb is not None:
                lines.append(found_words(number, one.gauge, found, lb))
        self.lines.setText("\n".join(lines) or _none_words(wish))
        self.put_on.setEnabled(strung_with(setup, self._found) != setup)
        near = nearest_bought(setup, wanted)
        shops = [] if near is None else [nearest_words(near)]
        sets_here = sets_on(setup)[:_SETS_SHOWN] if near is not None else ()
        if sets_here:
            shops.append(_("Most even here of the sets in the shops:"))
            shops += map(set_words, sets_here)
            shops.append(
                _("Ask before you buy: another make pulls otherwise, and thick strings need slots.")
            )
        self.shops.setText("\n".join(shops))
        self.shops.setVisible(bool(shops))

    def _put(self) -> None:
        if self._setup is not None:
            strung = strung_with(self._setup, self._found)
            if self.wish.value == Wish.STANDARD:
                self._written, self._held = strung, self._wanted
            self.strung.emit(strung)

    def _offered(self) -> str:
        """Offer the wishes that this guitar can have, and say which holds."""
        words: dict[str, str] = said(_WISHES)
        names = [one.name for one in sets_on(self._setup)] if self._setup is not None else []
        for name in sorted(names, key=lambda name: [int(gauge) for gauge in name.split("-")]):
            words[name] = _("as a set of {name} feels in standard").format(name=name)
        self.wish.set_choices(words)
        if self.wish.value is None:
            self.wish.show_value(Wish.STANDARD)
        return str(self.wish.value)


def _none_words(wish: str) -> str:
    if wish == Wish.EVEN:
        return _("No real gauges of these kinds keep every string within common sets here.")
    return _("Type the gauges of your strings and what kind they are, then they can be compared.")
