"""A hand on the mouse for tests: real mouse events, sent to the real window."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import QUARTER

LEFT, NONE = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
PLAIN = Qt.KeyboardModifier.NoModifier
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
Q = QUARTER


def send(widget: QWidget, kind: QEvent.Type, at: QPoint, button, buttons, held=PLAIN) -> None:
    """One event of the mouse."""
    event = QMouseEvent(kind, QPointF(at), QPointF(widget.mapToGlobal(at)), button, buttons, held)
    QApplication.sendEvent(widget, event)


def hover(widget: QWidget, at: QPoint) -> None:
    send(widget, QEvent.Type.MouseMove, at, NONE, NONE)


def press(widget: QWidget, at: QPoint, held=PLAIN) -> None:
    hover(widget, at)
    home = widget.focusProxy() or widget
    if home.focusPolicy() & Qt.FocusPolicy.ClickFocus:  # Qt does so for what the system sends
        home.setFocus(Qt.FocusReason.MouseFocusReason)
    send(widget, QEvent.Type.MouseButtonPress, at, LEFT, LEFT, held)


def move(widget: QWidget, at: QPoint, held=PLAIN) -> None:
    send(widget, QEvent.Type.MouseMove, at, NONE, LEFT, held)


def release(widget: QWidget, at: QPoint, held=PLAIN) -> None:
    send(widget, QEvent.Type.MouseButtonRelease, at, LEFT, NONE, held)


def click(widget: QWidget, at: QPoint, held=PLAIN) -> None:
    press(widget, at, held)
    release(widget, at, held)


def double_click(widget: QWidget, at: QPoint) -> None:
    click(widget, at)
    send(widget, QEvent.Type.MouseButtonDblClick, at, LEFT, LEFT)
    release(widget, at)


def pull(widget: QWidget, *way: QPoint, held=PLAIN) -> None:
    """Press at the first point and go the way, without letting go."""
    press(widget, way[0], held)
    for here, there in pairwise(way):
        move(widget, (here + there) / 2, held)
        move(widget, there, held)


def drag(widget: QWidget, *way: QPoint, held=PLAIN) -> None:
    """Press at the first point, go the way, let go at the last."""
    pull(widget, *way, held=held)
    release(widget, way[-1], held)


def wheel(widget: QWidget, at: QPoint, turn=(0, 0), pixels=(0, 0), held=PLAIN) -> None:
    """The wheel turned (120 a notch), or a touchpad's pixels."""
    event = QWheelEvent(
        QPointF(at), QPointF(widget.mapToGlobal(at)), QPoint(*pixels), QPoint(*turn), NONE, held,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(widget, event)


class InGrid:
    """Points of a grid's viewport: of cells and of what lies on notes."""

    def __init__(self, grid) -> None:
        self.grid, self.view = grid, grid.viewport()

    def _seen(self, point: QPoint) -> QPoint:
        return point - QPoint(self.grid.horizontalOffset(), self.grid.verticalOffset())

    def rect(self, course: int, tick: int = 0, bar: int = 0, part: int = 0, section: int = 0):
        cell = self.grid.cell_rect(Cursor(section, bar, tick, part, course))
        return cell.translated(self._seen(QPoint(0, 0)))

    def at(self, course: int, tick: int = 0, bar: int = 0, part: int = 0, section: int = 0):
        """Amid the pill of a cell."""
        rect = self.rect(course, tick, bar, part, section)
        m = self.grid.metrics
        return QPoint(rect.center().x() - m.px(2), rect.top() + m.sign_height + m.pill // 2)

    def _note(self, course: int, tick: int = 0, bar: int = 0, part: int = 0, section: int = 0):
        point = self.at(course, tick, bar, part, section)
        hit = self.grid.mouse.places.note(point - self._seen(QPoint(0, 0)))
        assert hit is not None, "there is no note"
        return hit.rect

    def end(self, course: int, tick: int = 0, bar: int = 0, part: int = 0, section: int = 0):
        """The end of the note in a cell."""
        pill = self.grid.mouse.places.pill(self._note(course, tick, bar, part, section))
        return self._seen(QPoint(pill.right() - 1, pill.center().y()))

    def knob(self, course: int, tick: int = 0, bar: int = 0, part: int = 0, section: int = 0):
        """The knob of the note in a cell."""
        rect = self._note(course, tick, bar, part, section)
        return self._seen(self.grid.mouse.places.knob(rect).center())

    def up(self, semitones: float) -> QPoint:
        """So far up, as a bend goes."""
        return QPoint(0, -round(semitones * 1.75 * self.grid.metrics.unit))

    def write(self, fret: int, course: int, tick: int = 0, bar: int = 0, part: int = 0) -> None:
        """Write a fret with two presses and one on the fret."""
        where = self.at(course, tick, bar, part)
        if self.grid.here != Cursor(0, bar, tick, part, course):
            click(self.view, where)
        click(self.view, where)
        self.choose(fret)

    def choose(self, fret: int) -> None:
        """Press a fret of the open chooser."""
        chooser = self.grid.mouse.chooser
        assert chooser is not None, "no frets are offered"
        click(chooser, chooser.cell(fret).center())


def settle() -> None:
    """What is left for later happens now."""
    QApplication.processEvents()
