"""Read by a Python that a row starts: end at the first painted window, and say what it took.

A row sets CHALKFRET_BENCH to a number of seconds to go on for after the first paint; what is
printed then is the memory in use, in bytes. The program itself knows nothing of this.
"""

import os
import sys
import time
from pathlib import Path

if "CHALKFRET_BENCH" in os.environ and sys.prefix != sys.base_prefix:
    from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
    from PySide6.QtWidgets import QApplication, QWidget

    class Watch(QObject):
        """Ends right behind the first paint, before what the program put off until then."""

        seen = False

        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if not self.seen and event.type() == QEvent.Type.Paint and isinstance(watched, QWidget):
                self.seen = watched.isWindow()
                if self.seen:
                    first = Qt.EventPriority.HighEventPriority.value
                    QCoreApplication.postEvent(self, QEvent(QEvent.Type.User), first)
            return False

        def event(self, event: QEvent) -> bool:
            if event.type() == QEvent.Type.User:
                QApplication.instance().removeEventFilter(self)
                end_after(float(os.environ["CHALKFRET_BENCH"]))
            return True

    def end_after(seconds: float) -> None:
        ends = time.monotonic() + seconds
        while time.monotonic() < ends:
            QApplication.processEvents()
        pages = int(Path("/proc/self/statm").read_text().split()[1])
        print(pages * os.sysconf("SC_PAGE_SIZE"))
        sys.stdout.flush()
        os._exit(0)

    def watching(*_args: object) -> int:
        app = QApplication.instance()
        app.installEventFilter(Watch(app))
        return run()

    run = QApplication.exec
    QApplication.exec = watching
