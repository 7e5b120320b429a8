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

    Empty, it takes no room, unless ``keeps_room``. Most never say anything: the labels are made
    with the first words.
    """

    def __init__(self, look: Look, keeps_room: bool = False) -> None:
        super().__init__()
        self._look = look
        self._loud = False
        self._keeps_room = keeps_room
        self._labels: tuple[QLabel, QLabel] | None = None  # the sign, and the words
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        if keeps_room:
            self._labels = self._made()
        else:
            self.hide()
        follow(self, look, self._dress)

    def _made(self) -> tuple[QLabel, QLabel]:
        sign, words = QLabel(), Wrapped()
        sign.setAccessibleName(_("Read this"))
        sign.hide()
        words.setWordWrap(True)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        words.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._row.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
        self._row.addWidget(words, 1)
        return sign, words

    @property
    def text(self) -> str:
        """What it says."""
        return "" if self._labels is None else self._labels[1].text()

    @property
    def is_loud(self) -> bool:
        """Whether it asks to be read."""
        return self._loud

    def say(self, text: str, loud: bool = False) -> None:
        """Say this from now on; "" to be silent."""
        changed = text != self.text
        dresses = loud != self._loud
        self._loud = loud
        if self._labels is None and text:
            self._labels, dresses = self._made(), True
        if dresses:
            self._dress()
        if self._labels is not None:
            sign, words = self._labels
            words.setText(text)
            # What can be selected takes the focus; where nothing is said there is nothing to name.
            focus = Qt.FocusPolicy.ClickFocus if text else Qt.FocusPolicy.NoFocus
            words.setFocusPolicy(focus)
            sign.setVisible(bool(text) and loud)
        if not self._keeps_room:  # else it comes with its parent: alone it would be a window
            self.setVisible(bool(text))
        if changed and loud:
            announce(self, text)

    def _dress(self) -> None:
        look = self._look
        self._row.setSpacing(look.unit(0.5))
        if self._labels is None:
            return
        sign, words = self._labels
        palette = words.palette()
        palette.setColor(words.foregroundRole(), look.colour("warning" if self._loud else "soft"))
        words.setPalette(palette)
        ratio = self.devicePixelRatioF()
        picture = pixmap("read", look.colour("warning"), round(look.unit(2) * ratio))
        picture.setDevicePixelRatio(ratio)
        sign.setPixmap(picture)
