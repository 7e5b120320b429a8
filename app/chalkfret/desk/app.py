"""The application: one window on one lesson."""

from __future__ import annotations

import signal
import sys
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QApplication, QStyleFactory

from chalkfret.desk.collecting import Collecting
from chalkfret.desk.look import Look
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window


def application() -> QApplication:
    """The application object, in our plain style."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication([sys.argv[0]])
    app.setApplicationName("Chalkfret")
    app.setStyle(QStyleFactory.create("Fusion"))
    return app


def main(path: Path | None) -> int:
    """Open the window on the lesson at ``path``, or on its empty state; the exit code."""
    app = application()
    # Python's own handler would only run at the next event; the default one stops at once.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    window = Window(Look(app), open_settings())
    if path is None:
        window.show_empty()
    else:
        # The frame is on the screen while the lesson is read and its page is made.
        window.once_painted(lambda: window.begin_with(path))
    # The collector rested during the start.
    window.once_painted(partial(Collecting, app))
    window.show()
    code = app.exec()
    from chalkfret.desk.work import stop_all

    stop_all()
    return code
