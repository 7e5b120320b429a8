"""A drawing of the set: each string from nut to bridge, as heavy as its gauge, over the frets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from chalkfret.desk.look import SMALL, Look, mixed
from chalkfret.desk.pieces.dress import follow
from chalkfret.model import GuitarString, NoteNaming, Setup, Winding
from chalkfret.words.text import ngettext

_MARKED_FRETS = (3, 5, 7, 9, 12, 15, 17, 19, 21, 24)  # where necks carry dots (common practice)
_NEUTRAL = 0.4  # of the difference in length, how much of it shows at the nut


@dataclass(frozen=True)
class Line:
    """One string of the drawing: which it is, where it runs, and from nut to bridge."""

    course: int
    string: int
    one: GuitarString
    y: float
    nut: float
    length: float

    def fret(self, number: int) -> float:
        """Where a fret lies under this string."""
        return self.nut + self.length * (1 - 2.0 ** (-number / 12))


class Neck(QWidget):
    """The set of ``setup``. ``rows`` says at which height each string runs, one for each string
    from course 1 on; without it the strings share the height evenly and carry their names."""

    chosen = Signal(int, int)  # course and string that were clicked

    def __init__(self, look: Look, rows: Callable[[], list[float]] | None = None) -> None:
        super().__init__()
        self._look = look
        self._rows = rows
        self._setup: Setup | None = None
        self._naming = NoteNaming.ENGLISH
        self._current = (1, 0)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        follow(self, look, self._dress)

    def show_setup(self, setup: Setup, naming: NoteNaming, current: tuple[int, int]) -> None:
        """Draw this setup, with the string that is being worked on marked."""
        if (setup, naming, current) != (self._setup, self._naming, self._current):
            self._setup, self._naming, self._current = setup, naming, current
            self.setAccessibleName(_picture_words(setup, current[0]))
            self.updateGeometry()
            self.update()

    def _dress(self) -> None:
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.unit(24), self.minimumSizeHint().height())

    def minimumSizeHint(self) -> QSize:
        strings = 6 if self._setup is None else sum(len(c.strings) for c in self._setup.courses)
        if self._rows is not None:
            return QSize(self._look.unit(14), self._look.unit(4))
        return QSize(self._look.unit(24), self._look.unit(2.4 * strings + 1))

    def _lines(self, setup: Setup) -> list[Line]:
        strings = [
            (number, index, one)
            for number, course in enumerate(setup.courses, start=1)
            for index, one in enumerate(course.strings)
        ]
        if self._rows is not None:
            heights = self._rows()
        else:
            step = (self.height() - self._look.unit(1)) / len(strings)
            heights = [self._look.unit(0.5) + step * (at + 0.5) for at in range(len(strings))]
        left = self._look.unit(1 if self._rows is not None else 7)
        longest = max(setup.scale_of(one) for _course, _index, one in strings)
        scale = (self.width() - left - self._look.unit(2)) / longest
        return [
            Line(
                course,
                index,
                one,
                y,
                left + (longest - setup.scale_of(one)) * scale * _NEUTRAL,
                setup.scale_of(one) * scale,
            )
            for (course, index, one), y in zip(strings, heights, strict=False)
        ]

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._setup is None:
            return
        lines = self._lines(self._setup)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if lines:
            self._paint_frets(painter, lines, self._setup)
            for line in lines:
                self._paint_string(painter, line)
            self._paint_capo(painter, lines, self._setup)
            if self._rows is None:
                self._paint_names(painter, lines)
        painter.end()

    def _paint_frets(self, painter: QPainter, lines: list[Line], setup: Setup) -> None:
        quiet = mixed(self._look.colour("lines"), self._look.colour("panel"), 0.7)
        for number in range(1, setup.fret_count + 1):
            self._across(painter, lines, number, QPen(quiet, 1))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(quiet)
        middle = (lines[0].y + lines[-1].y) / 2
        apart = (lines[-1].y - lines[0].y) / max(1, len(lines) - 1)
        if len(lines) % 2:  # the middle is a string, which would hide the dots: the gap above it
            middle -= apart / 2
        for number in _MARKED_FRETS:
            if number > setup.fret_count:
                break
            x = sum((one.fret(number) + one.fret(number - 1)) / 2 for one in (lines[0], lines[-1]))
            for y in (middle - apart, middle + apart) if number % 12 == 0 else (middle,):
                size = self._look.unit(0.35)
                painter.drawEllipse(QPointF(x / 2, y), size, size)
        self._across(painter, lines, 0, QPen(self._look.colour("ink"), self._look.unit(0.4)))

    def _across(self, painter: QPainter, lines: list[Line], fret: int, pen: QPen) -> None:
        """A fret, or with fret 0 the nut, over all strings that reach it."""
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        over = self._look.unit(1)
        ends = [line for line in lines if line.one.first_fret <= fret or fret == 0]
        points = [QPointF(line.fret(fret), line.y) for line in ends]
        if not points:
            return
        first, last = points[0], points[-1]
        painter.drawLine(QLineF(first.x(), first.y() - over, first.x(), first.y()))
        for one, other in pairwise(points):
            painter.drawLine(QLineF(one, other))
        painter.drawLine(QLineF(last.x(), last.y(), last.x(), last.y() + over))

    def _paint_string(self, painter: QPainter, line: Line) -> None:
        look, one = self._look, line.one
        here = (line.course, line.string) == self._current
        colour = look.colour("ochre" if here else "ink")
        start, end = line.fret(one.first_fret), line.nut + line.length
        if one.gauge is None:
            painter.setPen(QPen(colour, 1.2, Qt.PenStyle.DashLine))
            painter.drawLine(QLineF(start, line.y, end, line.y))
        else:
            weight = self._weight(one.gauge)
            body = QRectF(start, line.y - weight / 2, end - start, weight)
            plain = one.winding in (Winding.PLAIN, Winding.NYLON)
            painter.fillRect(body, colour if plain else mixed(colour, look.colour("panel"), 0.5))
            if not plain:
                self._paint_winding(painter, body, colour)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        ball = look.unit(0.4)
        painter.drawEllipse(QPointF(end, line.y), ball, ball)

    def _weight(self, gauge: float) -> float:
        """Pixels of a gauge: not to scale, or a .009 would not be seen."""
        return (0.9 + 62 * gauge) * self._look.unit() / 8

    @staticmethod
    def _paint_winding(painter: QPainter, body: QRectF, colour: QColor) -> None:
        painter.setPen(QPen(colour, 1))
        step, x = max(2.5, body.height() * 0.75), body.left()
        turns = []
        while x < body.right():
            turns.append(QLineF(x, body.bottom(), x + body.height() * 0.5, body.top()))
            x += step
        painter.drawLines(turns)

    def _paint_capo(self, painter: QPainter, lines: list[Line], setup: Setup) -> None:
        capo = setup.capo
        if capo is None:
            return
        covered = [line for line in lines if capo.covers(line.course)]
        if not covered:
            return
        look, half = self._look, self._look.unit(0.6)
        pen = QPen(look.colour("ink"), 2 * half)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        for one, other in zip(covered, covered[1:] or covered, strict=False):
            if other.course - one.course > 1:  # the capo leaves a string out
                continue
            at = [
                QPointF((line.fret(capo.fret) + line.fret(capo.fret - 1)) / 2, line.y)
                for line in (one, other)
            ]
            painter.drawLine(QLineF(at[0], at[1]))

    def _paint_names(self, painter: QPainter, lines: list[Line]) -> None:
        from chalkfret.theory.naming import shown

        painter.setFont(self._look.font(SMALL))
        height = self._look.unit(2)
        for line in lines:
            here = (line.course, line.string) == self._current
            painter.setPen(self._look.colour("ochre" if here else "soft"))
            box = QRectF(0, line.y - height / 2, self._look.unit(6), height)
            number = f"{line.course}  " if line.string == 0 else ""
            painter.drawText(
                box,
                Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                number + shown(line.one.pitch, self._naming),
            )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        lines = self._lines(self._setup) if self._setup is not None else []
        if lines:
            nearest = min(lines, key=lambda line: abs(line.y - event.position().y()))
            self.chosen.emit(nearest.course, nearest.string)


def _picture_words(setup: Setup, course: int) -> str:
    """What the picture shows; the figures stand beside it."""
    count = len(setup.courses)
    words = ngettext(
        "Picture of the strings, {count} string over {frets} frets; string {course} is chosen",
        "Picture of the strings, {count} strings over {frets} frets; string {course} is chosen",
        count,
    )
    return words.format(count=count, frets=setup.fret_count, course=course)
