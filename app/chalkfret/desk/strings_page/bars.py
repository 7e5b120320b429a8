"""A picture of the set: a bar of pull for each string, and under it what the string stands.

Bars run on one scale, so a slope or a step is a set that is uneven. A hatched bar lies outside
common sets; the thin stroke is the same string in standard tuning.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, readable, small, strong
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.numbers import stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.model import NoteNaming, Setup
from chalkfret.strings.gauges import as_in_standard, physical
from chalkfret.strings.sharpness import FRETS, sharpness
from chalkfret.strings.strength import strength
from chalkfret.strings.tension import HEAVIEST_COMMON, LIGHTEST_COMMON, tension
from chalkfret.theory.naming import shown
from chalkfret.words.figures import fixed
from chalkfret.words.string_figures import (
    sharpness_source,
    sharpness_words,
    spread_words,
    strength_words,
)
from chalkfret.words.text import _

_FIRST_FRET_SHOWN = 12


class Bar(QWidget):
    """The pull of one string in lb on a scale from 0 to ``most``."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._lb = self._home = 0.0
        self._most = 1.0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        follow(self, look, self.updateGeometry)

    def show_pull(self, lb: float, home: float, most: float) -> None:
        """Show this pull, with that in standard tuning marked (0: not known)."""
        self._lb, self._home, self._most = lb, home, most
        self.update()

    @property
    def is_hatched(self) -> bool:
        """Whether the pull lies outside common sets."""
        return bool(self._lb) and not LIGHTEST_COMMON <= self._lb <= HEAVIEST_COMMON

    def sizeHint(self) -> QSize:
        return QSize(self._look.unit(20), self._look.unit(2))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.unit(6), self._look.unit(2))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        look, wide, high = self._look, self.width() - 1.0, float(self.height())
        edge = QPen(look.colour("ink"), 1.0)
        painter.setPen(QPen(look.colour("lines"), 1.0))
        for lb in (LIGHTEST_COMMON, HEAVIEST_COMMON):
            x = round(lb / self._most * wide) + 0.5
            painter.drawLine(QRectF(x, 0, 0, high).topLeft(), QRectF(x, 0, 0, high).bottomLeft())
        body = QRectF(0.5, high * 0.25, self._lb / self._most * wide, high * 0.5)
        if self._lb:
            painter.setPen(edge)
            painter.setBrush(look.colour("lines"))
            if self.is_hatched:
                painter.setBrush(look.colour("surface"))
                painter.drawRect(body)
                painter.setBrush(Qt.BrushStyle.BDiagPattern)
            painter.drawRect(body)
        if self._home:
            x = self._home / self._most * wide
            painter.fillRect(QRectF(x - 1, high * 0.1, 2, high * 0.8), look.colour("ink"))
        painter.end()


class Bars(QWidget):
    """The whole picture; the fret at which sharpness is told is chosen above it."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._setup: Setup | None = None
        self._naming = NoteNaming.ENGLISH
        self._fret = _FIRST_FRET_SHOWN
        self.rows: list[tuple[QLabel, Bar, QLabel, QLabel]] = []
        self.even = small(look)
        self.source = small(look)
        self.fret = Stepper(
            look,
            _("Fret at which sharpness is told"),
            whole(1, FRETS, _("Sharpness is told at frets 1 to 24.")),
            str,
            stepper_within(1, FRETS),
            "24",
        )
        self.fret.show_value(self._fret)
        self.fret.typed.connect(self._press)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(1, 1)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        asked = FlowRow(small(look, _("Sharp at fret")), self.fret, gap=8)
        for part in (strong(look, _("The set at a glance")), self.even, asked):
            column.addWidget(part)
        column.addLayout(self._grid)
        column.addWidget(self.source)
        follow(self, look, self._dress)

    def show_setup(self, setup: Setup, naming: NoteNaming) -> None:
        """Show what the strings of this setup pull and stand."""
        self._setup, self._naming = setup, naming
        strings = physical(setup)
        self._make_rows(len(strings))
        pulls = [tension(one, setup) for one in strings]
        known = [one.lb for one in pulls if one is not None]
        homes = [lb or 0.0 for lb in as_in_standard(setup)]
        most = max([HEAVIEST_COMMON * 1.1, *known, *homes]) * 1.02
        numbers = [n for n, course in enumerate(setup.courses, start=1) for _s in course.strings]
        sharp = [sharpness(one, setup) for one in strings]
        for at, (name, bar, lb, words) in enumerate(self.rows):
            one, pull = strings[at], pulls[at]
            title = f"{numbers[at]}  {shown(one.pitch, naming)}"
            name.setText(title)
            lb.setText("–" if pull is None else _("{lb} lb").format(lb=fixed(pull.lb, 1)))
            bar.show_pull(0.0 if pull is None else pull.lb, homes[at], most)
            bar.setAccessibleName(_bar_words(numbers[at], lb.text(), bar.is_hatched))
            said = [strength_words(strength(one, setup))] if pull is not None else []
            said += filter(None, [sharpness_words(sharp[at], self._fret)])
            words.setText("; ".join(said))
            words.setVisible(bool(said))
        even = spread_words(100 * (max(known) / min(known) - 1)) if len(known) > 1 else ""
        self.even.setText(_even_words(even) if even else "")
        self.even.setVisible(bool(even))
        told = [one for one in sharp if one is not None]
        self.source.setText(sharpness_source(told[0].usual_heights) if told else "")
        self.source.setVisible(bool(told))
        self.setVisible(bool(known))

    def _make_rows(self, count: int) -> None:
        while len(self.rows) > count:
            for widget in self.rows.pop():
                self._grid.removeWidget(widget)
                widget.setParent(None)
                widget.deleteLater()
        while len(self.rows) < count:
            line = 2 * len(self.rows)
            row = QLabel(), Bar(self._look), QLabel(), readable(small(self._look))
            row[2].setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            for column, cell in enumerate(row[:3]):
                self._grid.addWidget(cell, line, column)
            self._grid.addWidget(row[3], line + 1, 1, 1, 2)
            self.rows.append(row)

    def _press(self, fret: int) -> None:
        self._fret = fret
        if self._setup is not None:
            self.show_setup(self._setup, self._naming)

    def _dress(self) -> None:
        self._column.setSpacing(self._look.unit())
        self._grid.setHorizontalSpacing(self._look.unit())
        self._grid.setVerticalSpacing(self._look.unit(0.5))


def _even_words(even: str) -> str:
    return _(
        "Here {even}. Between the two lines lie common sets; hatched bars lie outside. The stroke "
        "is the same string in standard tuning."
    ).format(even=even)


def _bar_words(course: int, lb: str, outside: bool) -> str:
    text = (
        _("String {course} pulls {lb}, outside common sets")
        if outside
        else _("String {course} pulls {lb}")
    )
    return text.format(course=course, lb=lb)
