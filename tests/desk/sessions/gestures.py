"""What hands do in a window, drawn at random.

Keys and actions come from the registry and places of the mouse from whatever is seen, so that a
new gesture is tried from the day it is there. Each gesture returns what it did, in words.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import NamedTuple

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QFont, QKeyEvent, QKeySequence, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QMenu,
    QPlainTextEdit,
    QWidget,
)
from shiboken6 import Shiboken

from chalkfret.desk.settings import Theme
from chalkfret.desk.window import Window

LEFT_OUT = ("quit", "new", "open", "close")
"""They leave the lesson; the hands here are on one lesson until its end."""

COSTLY = ("theme_", "full_screen", "keys")
"""The whole window is dressed or laid out anew: done, but seldom."""

_DIGITS = "0123456789"
_WALK = ("Left", "Right", "Up", "Down", "Home", "End", "Tab", "Shift+Tab", "Return", "Escape",
         "Backspace", "Del", "Shift+Right", "Shift+Down", "Ctrl+Right", "Space")  # fmt: skip
_TEXTS = ("1", "0", "12", "3/4", "7/8", "eb", "1:2", "", "xx", "0 200@1/2", "C G D F A D", "120",
          "-1", "99999999", "ä♯ß", "100 75", "A", "10:9", "½", "  ")  # fmt: skip
_PAGES = ("riffs", "riffs", "riffs", "strings", "strings", "sheet", "handouts")
_SIZES = ((900, 600), (640, 480), (1024, 640), (320, 240), (1280, 500))
_PERCENTS = (100, 150, 200, 85)


class Hands(NamedTuple):
    """What they have: a window, the keys and actions of it, and what they draw from."""

    window: Window
    draw: random.Random
    keys: tuple[str, ...]
    actions: tuple[str, ...]
    costly: tuple[str, ...]
    plain_font: QFont
    held: list[
        QWidget
    ]  # of this gesture: a parent's wrapper that goes takes its children's with it

    @property
    def grid(self) -> QWidget:
        """Where most of the work is done."""
        return self.window.page("riffs").grid


def hands_on(window: Window, draw: random.Random, plain_font: QFont) -> Hands:
    """Hands that know all that the registry knows."""
    found = [action for action, _where in window.registry.entries() if action.run is not None]
    left = [action for action in found if action.id not in LEFT_OUT]
    keys = tuple(key for action in left for key in action.keys if action.id not in COSTLY)
    costly = tuple(action.id for action in left if action.id.startswith(COSTLY))
    actions = tuple(
        action.id
        for action in left
        if action.id not in costly and not action.id.startswith("page_")
    )
    return Hands(window, draw, keys, actions, costly, plain_font, [])


def gesture(hands: Hands) -> str:
    """Do one thing."""
    hands.held.clear()
    _come_back(hands)
    (what,) = hands.draw.choices(_KINDS, _WEIGHTS)
    choose = hands.draw.random() < 0.5
    # A button's menu waits in a loop of its own until somebody chooses in it or leaves.
    way_out = QTimer()
    way_out.timeout.connect(lambda: _leave_menu(choose))
    way_out.start(0)
    try:
        return f"{what.__name__}: {what(hands)}"
    finally:
        way_out.stop()


def _leave_menu(choose: bool) -> None:
    popup = QApplication.activePopupWidget()
    if isinstance(popup, QMenu) and choose:
        QTest.keyClick(popup, Qt.Key.Key_Down)
        QTest.keyClick(popup, Qt.Key.Key_Return)
    if popup is not None and Shiboken.isValid(popup):
        popup.close()


def digit(hands: Hands) -> str:
    _look_at_grid(hands)
    which = hands.draw.choice(_DIGITS)
    with_ = hands.draw.choice(("", "", "", "Ctrl+", "Shift+"))
    return _press(hands, f"{with_}{which}")


def key(hands: Hands) -> str:
    """A key that does something somewhere, with the focus where it is or in the grid."""
    if hands.draw.random() < 0.7:
        _look_at_grid(hands)
    return _press(hands, hands.draw.choice(hands.keys))


def walk(hands: Hands) -> str:
    return _press(hands, hands.draw.choice(_WALK))


def action(hands: Hands) -> str:
    which = hands.draw.choice(hands.actions)
    hands.window.registry.run(which)
    return which


def costly(hands: Hands) -> str:
    which = hands.draw.choice(hands.costly)
    hands.window.registry.run(which)
    return which


def field(hands: Hands) -> str:
    """Type something into a field and leave it in one way or another."""
    kinds = (QLineEdit, QComboBox, QAbstractSpinBox, QPlainTextEdit)
    page = QApplication.activeWindow() or hands.window
    fields = [
        one
        for kind in kinds
        for one in page.findChildren(kind)
        if one.isVisible() and one.isEnabled()
    ]
    if not fields:
        return "none"
    one = hands.draw.choice(fields)
    one.setFocus()
    if isinstance(one, QComboBox) and one.count() and not one.isEditable():
        one.setCurrentIndex(hands.draw.randrange(one.count()))
        one.activated.emit(one.currentIndex())
        return f"{_name(one)} to {one.currentIndex()}"
    if isinstance(one, QLineEdit) and hands.draw.random() < 0.7:
        one.selectAll()
    text = hands.draw.choice(_TEXTS)
    name = _name(one)
    _type(text)
    left = _press(hands, hands.draw.choice(("Tab", "Return", "Escape")))
    return f"{text!r} into {name}, {left}"


def click(hands: Hands) -> str:
    widget, at = _spot(hands)
    name = _name(widget)  # what is clicked may be gone by then
    button = Qt.MouseButton.RightButton if hands.draw.random() < 0.1 else Qt.MouseButton.LeftButton
    (QTest.mouseDClick if hands.draw.random() < 0.15 else QTest.mouseClick)(
        widget, button, _modifier(hands), at
    )
    return f"{name} at {at.x()}, {at.y()}"


def drag(hands: Hands) -> str:
    widget, at = _spot(hands)
    name = _name(widget)
    left, modifier = Qt.MouseButton.LeftButton, _modifier(hands)
    QTest.mousePress(widget, left, modifier, at)
    for _ in range(hands.draw.randint(1, 5)):
        at += QPoint(hands.draw.randint(-80, 80), hands.draw.randint(-40, 40))
        if Shiboken.isValid(widget):
            QTest.mouseMove(widget, at)
    if hands.draw.random() < 0.15:
        _press(hands, "Escape")
    if Shiboken.isValid(widget):
        QTest.mouseRelease(widget, left, modifier, at)
    return f"{name} to {at.x()}, {at.y()}"


def wheel(hands: Hands) -> str:
    widget, at = _spot(hands)
    turn = QPoint(hands.draw.choice((0, 0, 120, -120)), hands.draw.choice((120, -120, 15, -360)))
    event = QWheelEvent(
        QPointF(at),
        QPointF(widget.mapToGlobal(at)),
        QPoint(),
        turn,
        Qt.MouseButton.NoButton,
        _modifier(hands),
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    name = _name(widget)
    QApplication.sendEvent(widget, event)
    return f"{name} by {turn.x()}, {turn.y()}"


def page(hands: Hands) -> str:
    which = hands.draw.choice(
        ("riffs", "riffs", "riffs", "strings", "strings", "sheet", "handouts")
    )
    hands.window.show_page(which)
    return which


def menu(hands: Hands) -> str:
    """Open a menu, go down in it, and choose or leave."""
    menus = [one for one in hands.window.menuBar().actions() if one.menu() is not None]
    one = hands.draw.choice(menus).menu()
    one.popup(QPoint(0, 0))
    for _ in range(hands.draw.randint(0, 6)):
        QTest.keyClick(one, Qt.Key.Key_Down)
    chosen = one.activeAction()
    leaves = chosen is not None and chosen.objectName().startswith((*LEFT_OUT, *COSTLY))
    choose = hands.draw.random() < 0.5 and not leaves
    QTest.keyClick(one, Qt.Key.Key_Return if choose else Qt.Key.Key_Escape)
    one.close()
    return f"{one.title()} {chosen.objectName() if choose and chosen else ''}"


def undo(hands: Hands) -> str:
    stack = hands.window.document.undo_stack
    steps = hands.draw.randint(-6, 8)
    for _ in range(abs(steps)):
        if steps > 0:
            stack.undo()
        else:
            stack.redo()
    return str(steps)


def resize(hands: Hands) -> str:
    size = hands.draw.choice(_SIZES)
    hands.window.resize(*size)
    return str(size)


def text_size(hands: Hands) -> str:
    percent = hands.draw.choice(_PERCENTS)
    font = QFont(hands.plain_font)
    font.setPointSizeF(font.pointSizeF() * percent / 100)
    QApplication.setFont(font)
    hands.window.look.follow_font()
    return str(percent)


def theme(hands: Hands) -> str:
    which = hands.draw.choice(list(Theme))
    hands.window.look.show_theme(which)
    return which.value


def hand_outs(hands: Hands) -> str:
    """Begin to make files, and now and then give it up again."""
    made = hands.window.page("handouts")
    hands.window.show_page("handouts")
    made.make_files()
    if hands.draw.random() < 0.5:
        QTest.qWait(hands.draw.randint(0, 5))
        made.stop()
    hands.window.show_page("riffs")
    return str(len(made._outputs))


_WEIGHED: dict[Callable[[Hands], str], float] = {
    digit: 28,
    key: 24,
    action: 14,
    walk: 8,
    click: 8,
    drag: 5,
    undo: 3,
    field: 4,
    wheel: 2,
    menu: 1.5,
    page: 1.5,
    resize: 0.4,
    hand_outs: 0.2,
    # Half a second each, as the whole window is dressed anew; thousands of gestures are drawn.
    costly: 0.08,
    theme: 0.03,
    text_size: 0.03,
}
_KINDS, _WEIGHTS = list(_WEIGHED), list(_WEIGHED.values())


def _press(hands: Hands, name: str) -> str:
    combination = QKeySequence(name)[0]
    popup = QApplication.activePopupWidget()
    if popup is not None and name not in _WALK:
        popup.close()  # an open menu takes no keys of other places, but a test's hands could
        _come_back(hands)
    focus = QApplication.focusWidget()
    if focus is None:
        return f"{name} to nobody"
    QTest.keyClick(focus, combination.key(), combination.keyboardModifiers())
    return f"{name} in {_name(focus)}"


def _type(text: str) -> None:
    """Any sign into whatever has the focus by then; those of a test's own hands are Latin only."""
    for sign in text:
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            focus = QApplication.focusWidget()
            if focus is not None:
                none = Qt.KeyboardModifier.NoModifier
                QApplication.sendEvent(focus, QKeyEvent(kind, 0, none, sign))


def _come_back(hands: Hands) -> None:
    """The offscreen platform leaves a closed menu active: hands it back, as a real one does."""
    active = QApplication.activeWindow()
    if QApplication.activePopupWidget() is None and (
        active is None or isinstance(active, QMenu) or not active.isVisible()
    ):
        hands.window.activateWindow()
        QApplication.processEvents()


def _look_at_grid(hands: Hands) -> None:
    """Come back to the grid, as hands do: its keys are most of the work."""
    if hands.window.is_shown("riffs"):
        hands.grid.setFocus()


def _spot(hands: Hands) -> tuple[QWidget, QPoint]:
    """A place that can be seen, and the widget there; half of them in the grid."""
    window, draw = hands.window, hands.draw
    if window.is_shown("riffs") and draw.random() < 0.5:
        seen = hands.grid.viewport() if hasattr(hands.grid, "viewport") else hands.grid
        return seen, QPoint(
            draw.randrange(max(1, seen.width())), draw.randrange(max(1, seen.height()))
        )
    top = QApplication.activePopupWidget() or QApplication.activeWindow() or window
    hands.held.append(top)
    at = _point_in(top, draw)
    widget = top.childAt(at) or top
    return widget, widget.mapFrom(top, at)


def _point_in(widget: QWidget, draw: random.Random) -> QPoint:
    across, down = max(1, widget.width()), max(1, widget.height())
    return QPoint(draw.randrange(across), draw.randrange(down))


def _modifier(hands: Hands) -> Qt.KeyboardModifier:
    keys = Qt.KeyboardModifier
    return hands.draw.choice(
        (keys.NoModifier, keys.NoModifier, keys.ShiftModifier, keys.ControlModifier,
         keys.AltModifier)
    )  # fmt: skip


def _name(widget: QWidget) -> str:
    return f"{type(widget).__name__} {widget.objectName() or widget.accessibleName()}".strip()
