"""Read by a Python that a row starts: end at the first painted window, and say what it took.

A row sets CHALKFRET_BENCH to a number of seconds to go on for after the first paint; what is
printed then is the memory in use, in bytes. The program itself knows nothing of this.
"""

import os
import sys
import time
from pathlib import Path

if "CHALKFRET_BENCH" in os.environ and sys.prefix != sys.base_prefix:
    from PySide6.QtCore import QEvent, QObject
    from PySide6.QtWidgets import QApplication, QWidget

    class Watch(QObject):
        painted = False

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if event.type() == QEvent.Type.Paint and isinstance(watched, QWidget):
                self.painted = self.painted or watched.isWindow()
            return False

    def end_when_painted(*_args: object) -> int:
        watch = Watch()
        app = QApplication.instance()
        app.installEventFilter(watch)
        while not watch.painted:
            app.processEvents()
        app.removeEventFilter(watch)
        ends = time.monotonic() + float(os.environ["CHALKFRET_BENCH"])
        while time.monotonic() < ends:
            app.processEvents()
        pages = int(Path("/proc/self/statm").read_text().split()[1])
        print(pages * os.sysconf("SC_PAGE_SIZE"))
        sys.stdout.flush()
        os._exit(0)

    QApplication.exec = end_when_painted
