"""A line that says something where it happens: quietly, or marked as to be read."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from chalkfret.desk.icons import pixmap
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import Wrapped, follow
from chalkfret.words.text import _


class Saying(QWidget):
    """Words of one or more lines; loud ones have the warning colour and a sign before them.

    Empty, it takes no room, unless ``keeps_room``.
    """

    def __init__(self, look: Look, keeps_room: bool = False) -> None:
        super().__init__()
        self._look = look
        self._loud = False
        self._keeps_room = keeps_room
        self._sign = QLabel()
        self._sign.setAccessibleName(_("Read this"))
        self._words = Wrapped()
        self._words.setWordWrap(True)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        layout = self._row = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(self._words, 1)
        self.say("")
        follow(self, look, self._dress)

    @property
    def text(self) -> str:
        """What it says."""
        return self._words.text()

    @property
    def is_loud(self) -> bool:
        """Whether it asks to be read."""
        return self._loud

    def say(self, text: str, loud: bool = False) -> None:
        """Say this from now on; "" to be silent."""
        changed = text != self._words.text()
        self._words.setText(text)
        if loud != self._loud:
            self._loud = loud
            self._dress()
        self._sign.setVisible(bool(text) and loud)
        if not self._keeps_room:  # else it comes with its parent: alone it would be a window
            self.setVisible(bool(text))
        if changed and loud:
            announce(self, text)

    def _dress(self) -> None:
        look = self._look
        self._row.setSpacing(look.unit(0.5))
        palette = self._words.palette()
        palette.setColor(
            self._words.foregroundRole(), look.colour("warning" if self._loud else "soft")
        )
        self._words.setPalette(palette)
        side = look.unit(2)
        ratio = self.devicePixelRatioF()
        picture = pixmap("read", look.colour("warning"), round(side * ratio))
        picture.setDevicePixelRatio(ratio)
        self._sign.setPixmap(picture)
