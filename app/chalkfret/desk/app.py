"""The application: one lesson at a desk, and the window on it.

What outlives a window (look, settings, the lesson with its way back) is the desk's, so that the
window can be built anew, as when the language changes.
"""

from __future__ import annotations

import signal
import sys
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QApplication, QStyleFactory

from chalkfret.desk.collecting import Collecting
from chalkfret.desk.document import Document
from chalkfret.desk.languages import Languages
from chalkfret.desk.look import Look
from chalkfret.desk.safety.care import Care
from chalkfret.desk.settings import Kept, Settings, open_settings
from chalkfret.desk.standing import stand, standing_of
from chalkfret.desk.trouble import crashes
from chalkfret.desk.trouble.catching import Catcher, before_telling
from chalkfret.desk.window import Window
from chalkfret.places import state_folder
from chalkfret.sheet.paint_fonts import music_text_family


def application() -> QApplication:
    """The application object, in our plain style."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication([sys.argv[0]])
    app.setApplicationName("Chalkfret")
    app.setStyle(QStyleFactory.create("Fusion"))
    music_text_family()  # many systems have no font with double sharps and double flats
    return app


class Desk(QObject):
    """Owns look, settings and document, and the window of now."""

    def __init__(self, look: Look, settings: Kept[Settings], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.look, self.settings = look, settings
        self._languages = Languages(application())
        self._languages.speak(settings.value.language)
        self.document = Document(parent=self)
        self.window = self._made()
        settings.changed.connect(self._settings_changed)

    def _made(self) -> Window:
        window = Window(self.look, self.settings, self.document)
        # Later: who asks for another window is a part of this one, and goes with it.
        window.outdated.connect(self.remake, Qt.ConnectionType.QueuedConnection)
        return window

    def _settings_changed(self, before: Settings, after: Settings) -> None:
        if before.language != after.language:
            self._languages.speak(after.language)
            self.window.outdated.emit()

    def remake(self) -> None:
        """Build the window anew around the same lesson: history, page and cursor stay."""
        old, standing = self.window, standing_of(self.window)
        self.window = self._made()
        stand(self.window, standing)
        self.window.show()  # before the old one goes: the program ends with its last window
        self.window.activateWindow()
        old.hide()
        old.deleteLater()


def main(path: Path | None) -> int:
    """Open the window on the lesson at ``path``, or on its empty state; the exit code."""
    app = application()
    # Python's own handler would only run at the next event; the default one stops at once.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    sys.setswitchinterval(0.001)  # a thread gives way to the hands within a millisecond
    let_go = Catcher(app).take_hold()
    crash_file = crashes.begin(state_folder())
    desk = Desk(Look(app), open_settings(), app)
    before_telling.append(Care.of(desk.document).bring_in_safety)
    window = desk.window
    if path is None:
        window.show_empty()
    else:
        # The frame is on the screen while the lesson is read and its page is made.
        window.once_painted(lambda: window.begin_with(path))
    # The collector rested during the start.
    window.once_painted(partial(Collecting, app))
    window.once_painted(lambda: window.telling.tell_of_crash(crashes.left_behind(state_folder())))
    window.once_painted(window.safety.begin)
    window.show()
    code = app.exec()
    from chalkfret.desk.work import stop_all

    stop_all()
    let_go()
    if crash_file is not None:
        crash_file.close()
    return code
