"""What is being read or written, at the window's foot; it shows only where that takes a while."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from chalkfret.desk.frame import in_colour
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.dress import follow
from chalkfret.words.text import _

AFTER_MS = 300


class Busy(QWidget):
    """A few words, and a button to wait no longer."""

    stopped = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._words = QLabel()
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._stop = QPushButton(_("Stop"))
        self._stop.setToolTip(_("Do not wait for it any longer"))
        self._stop.clicked.connect(self.stopped)
        self._row = QHBoxLayout(self)
        self._row.addWidget(self._words)
        self._row.addWidget(self._stop)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(AFTER_MS)
        self._timer.timeout.connect(self._show)
        follow(self, look, self._dress)
        self.hide()

    def _dress(self) -> None:
        unit = self._look.unit
        self._row.setContentsMargins(unit(2), 0, unit(2), 0)
        self._row.setSpacing(unit())
        in_colour(self._words, self._look, "soft")

    def tell(self, words: str) -> None:
        """This is being done; "" nothing is."""
        self._words.setText(words)
        if not words:
            self._timer.stop()
            self.hide()
        elif not self.isVisible():
            self._timer.start()

    def _show(self) -> None:
        self.show()
        announce(self, self._words.text())

    @property
    def text(self) -> str:
        """What is shown to be going on."""
        return "" if self.isHidden() else self._words.text()
