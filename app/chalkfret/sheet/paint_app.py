"""A Qt application for drawing without a window, and the seed that makes its output repeatable."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QHashSeed
from PySide6.QtGui import QGuiApplication


def fix_hash_seed() -> None:
    """Make Qt's hash order, and so the order of objects in a PDF, the same in every run.

    Must be called before the application object is made: whoever opens a window calls it first.
    """
    QHashSeed.setDeterministicGlobalSeed()


def ensure_app() -> QCoreApplication:
    """The running application, or a new one that needs no display.

    Fonts need a QGuiApplication. Keep no reference to widgets: this one cannot show any.
    """
    app = QCoreApplication.instance()
    if app is None:
        fix_hash_seed()
        app = QGuiApplication(["chalkfret", "-platform", "offscreen"])
    return app
