"""The key sequence that a press means, for the list of keys."""

from __future__ import annotations

from PySide6.QtCore import QKeyCombination, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence

from chalkfret.desk.riffs.digits import digit_of
from chalkfret.words.text import _

_ALONE = {
    Qt.Key.Key_Shift, Qt.Key.Key_Control, Qt.Key.Key_Alt, Qt.Key.Key_Meta, Qt.Key.Key_AltGr,
    Qt.Key.Key_CapsLock, Qt.Key.Key_NumLock, Qt.Key.Key_ScrollLock, Qt.Key.Key_unknown,
    Qt.Key.Key_Super_L, Qt.Key.Key_Super_R, Qt.Key.Key_Hyper_L, Qt.Key.Key_Hyper_R, 0,
}  # fmt: skip
_DEAD = range(Qt.Key.Key_Dead_Grave, Qt.Key.Key_Dead_Longsolidusoverlay + 1)
_SHIFT = Qt.KeyboardModifier.ShiftModifier


class NoKey(ValueError):
    """A press that cannot be a key of an action: a sentence that says why."""


def sequence_of(event: QKeyEvent) -> str | None:
    """The portable sequence; None while only modifiers are held. Raises NoKey."""
    key = event.key()
    if key in _ALONE:
        return None
    if key in _DEAD:
        raise NoKey(_("This key waits for a letter to put an accent on. Choose another."))
    if key in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab):
        raise NoKey(_("Tab leads from one field to the next and stays so. Choose another key."))
    held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
    held &= ~Qt.KeyboardModifier.GroupSwitchModifier
    digit = digit_of(event)
    if digit is not None:
        key = Qt.Key.Key_0 + digit
    elif held & _SHIFT and 0x20 < key < 0x10000 and not chr(key).isalpha():
        held &= ~_SHIFT  # the sign above is meant, wherever other keyboards have it
    return QKeySequence(QKeyCombination(held, Qt.Key(key))).toString()
