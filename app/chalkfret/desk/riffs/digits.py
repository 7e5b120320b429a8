"""The digit that a key means, whatever is held beside it and wherever the keyboard comes from.

With Shift held, keyboards give the sign above the digit, and a French one gives digits only then.
So the place of the key is asked first: the codes below are those of the digit row (X11 and Wayland
keycodes; the set 1 scan codes that Windows passes on; virtual key codes of macOS).
"""

from __future__ import annotations

import sys
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_ROW: Final = (1, 2, 3, 4, 5, 6, 7, 8, 9, 0)
_X11: Final = dict(zip(range(10, 20), _ROW, strict=True))
_WINDOWS: Final = dict(zip(range(2, 12), _ROW, strict=True))
_MAC: Final = dict(zip((18, 19, 20, 21, 23, 22, 26, 28, 25, 29), _ROW, strict=True))
# Where a key comes without a code: signs over the digits of a US keyboard (ANSI INCITS 154).
_US: Final = dict(zip("!@#$%^&*()", _ROW, strict=True))


def digit_of(event: QKeyEvent) -> int | None:
    """0 to 9, or None where the key is no digit."""
    key = event.key()
    if Qt.Key.Key_0 <= key <= Qt.Key.Key_9:
        return key - Qt.Key.Key_0
    by_place = placed(event)
    if by_place is not None:
        return by_place
    return _US.get(chr(key)) if 0 < key < 128 else None


def placed(event: QKeyEvent) -> int | None:
    """The digit of the upper row on whose place the key is; None for a key elsewhere."""
    if sys.platform == "darwin":
        return _MAC.get(event.nativeVirtualKey()) if event.nativeScanCode() else None
    codes = _WINDOWS if sys.platform == "win32" else _X11
    return codes.get(event.nativeScanCode())
