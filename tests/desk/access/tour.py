"""A walk through all there is to be seen in the window: every page, and whatever an action opens.

What other tests check of widgets they check on this tour, so that nothing new is left out.
"""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget

from chalkfret.desk.pages import PAGES
from chalkfret.desk.window import Window
from chalkfret.words.text import _
from tests.desk.hands import open_lesson
from tests.desk.two_guitars import two_guitars

# What ends the window or hands it to the system; "close" and "new" ask about unsaved work instead.
LEFT_OUT = {"quit", "full_screen", "theme_system", "theme_light", "theme_dark", "handouts_make"}

Look = Callable[[str, QWidget], object]


class Tour:
    """Calls ``look(scene, root)`` for each window, wherever widgets are seen for the first time."""

    def __init__(self, window: Window, look: Look, monkeypatch) -> None:
        self._window, self._look = window, look
        self._seen: set[QWidget] = set()  # the objects themselves: an id may be given again
        for name in ("getOpenFileName", "getSaveFileName"):
            monkeypatch.setattr(QFileDialog, name, lambda *_args, **_more: ("", ""))
        monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_args, **_more: "")

    def pages(self, bad_file: Path) -> None:
        """The empty state, a file that cannot be read, every page."""
        window = self._window
        window.show_empty()
        self.stop("no lesson")
        bad_file.write_text('{"format": "chalkfret", "version": 1, "parts": 7}')
        open_lesson(window, bad_file)
        self.stop("faults")
        window.notice.put_away()
        window.files.show_copy(two_guitars())
        for page in PAGES:
            window.show_page(page.id)
            self.stop(page.id)

    def actions(self) -> None:
        """Every action where its keys work, with a lesson that is put back after it."""
        pages = {_(page.title): page.id for page in PAGES}
        for action, where in list(self._window.registry.entries()):
            if action.run is None or action.id in LEFT_OUT:
                continue
            page = pages.get(where, "riffs")
            self._window.show_page(page)
            if not self._window.page(page).isVisible():  # the lesson was closed
                self._window.files.show_copy(two_guitars())
                self._window.show_page(page)
            self._run(action.id)
            self.stop(action.id)
            self._put_back()
        # What was copied is Python's: Qt would free it at its very end, when Python is gone.
        QApplication.clipboard().clear()

    def _run(self, action_id: str) -> None:
        watch = QTimer()
        watch.timeout.connect(lambda: self._look_at_question(action_id))
        watch.start(20)
        try:
            self._window.registry.run(action_id)
        finally:
            watch.stop()

    def _look_at_question(self, action_id: str) -> None:
        """A question stops everything until it is answered: look at it, and say no."""
        asked = QApplication.activeModalWidget()
        if asked is not None:
            self._show(f"{action_id} asks", asked)
            asked.close()

    def _put_back(self) -> None:
        for root in QApplication.topLevelWidgets():
            if root is not self._window and root.isVisible():
                root.close()
        stack = self._window.document.undo_stack
        while stack.canUndo():
            stack.undo()

    def stop(self, scene: str) -> None:
        """Let everything be laid out, then look at every window that is open."""
        for _round in range(12):
            QApplication.processEvents()
        for root in QApplication.topLevelWidgets():
            if root.isVisible():
                self._show(scene, root)

    def _show(self, scene: str, root: QWidget) -> None:
        seen = {one for one in (root, *root.findChildren(QWidget)) if one.isVisible()}
        if seen - self._seen:
            self._seen |= seen
            self._look(scene, root)
