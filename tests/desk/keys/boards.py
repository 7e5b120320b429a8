"""Keys as keyboards of other countries send them: the sign, its code, and the place of the key."""

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication

from chalkfret.desk.keys.layouts import _CODES, DEAD, Layout, Press

_MODIFIERS = {
    "Shift": Qt.KeyboardModifier.ShiftModifier,
    "Ctrl": Qt.KeyboardModifier.ControlModifier,
    "Alt": Qt.KeyboardModifier.AltModifier,
}


def event_of(layout: Layout, press: Press, kind: QEvent.Type = QEvent.Type.KeyPress) -> QKeyEvent:
    """The event of a press: Qt's key is the sign that this keyboard writes there."""
    row = layout.shifted if "Shift" in press.held else layout.alone
    sign = row[_CODES.index(press.code)]
    assert sign != DEAD
    held = Qt.KeyboardModifier.NoModifier
    for name in press.held:
        held |= _MODIFIERS[name]
    upper = sign.upper() if len(sign.upper()) == 1 else sign
    text = "" if "Ctrl" in press.held else sign
    return QKeyEvent(kind, ord(upper), held, press.code, ord(sign), 0, text)


def send_through(window, layout: Layout, press: Press) -> bool:
    """Press a key as the system hands it to the window: asked for first, then pressed."""
    handle = window.windowHandle()
    asked = event_of(layout, press, QEvent.Type.ShortcutOverride)
    asked.ignore()
    QApplication.sendEvent(handle, asked)
    QApplication.sendEvent(handle, event_of(layout, press))  # on to what has the focus
    return asked.isAccepted()
