"""Python's collector of reference cycles, kept to the window's thread.

Left alone it runs in whichever thread happens to make an object, and a window in a cycle would
then be destroyed beside its own thread, which Qt does not survive. So the automatic runs are off
as long as the window lives, and a timer in its thread does what they would have done, between two
events and never while a key waits to be painted.
"""

from __future__ import annotations

import gc
from typing import Final

from PySide6.QtCore import QObject, QTimer

_EVERY_MS: Final = 500
_YOUNG: Final = 0
_MIDDLE: Final = 1
_ALL: Final = 2
_ALL_EVERY: Final = 60  # of our runs: going through everything takes longer than a frame


class Collecting(QObject):
    """Collects from now on, in the thread it is made in, until it is stopped or goes."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        gc.freeze()  # what was made by now stays: it is never looked at again
        self._runs = 0
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.collect)
        self._timer.start(_EVERY_MS)

    def collect(self) -> None:
        """One run: as old as Python's own thresholds ask for, everything once in a while."""
        self._runs += 1
        if self._runs % _ALL_EVERY == 0:
            gc.collect(_ALL)
            return
        counts, thresholds = gc.get_count(), gc.get_threshold()
        if counts[_MIDDLE] > thresholds[_MIDDLE]:
            gc.collect(_MIDDLE)
        elif counts[_YOUNG] > thresholds[_YOUNG]:
            gc.collect(_YOUNG)
