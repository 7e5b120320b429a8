"""A window whose disk can be chosen, with a lesson in a file."""

import pytest

from chalkfret.desk.document import Document
from chalkfret.desk.safety.care import Care
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.files.lesson_file import save
from tests.builder import lesson, section
from tests.desk.hands import open_lesson

LESSON = lesson(section("A", "q 6:0 3 5 7"), title="Slate and chalk")


@pytest.fixture
def path(tmp_path):
    place = tmp_path / "lessons" / "slate.chalkfret"
    place.parent.mkdir()
    save(LESSON, place)
    return place


@pytest.fixture
def window_on(qtbot, look, path, private_home):
    """A window on a disk, with the lesson open and the focus in its grid."""

    def make(disk=None, pause_s=0.01, look_s=60.0, slow_ms=3_000, opened=True):
        document = Document()
        more = {} if disk is None else {"disk": disk}
        care = Care(document, pause_s=pause_s, look_s=look_s, **more)
        care.slow_ms = slow_ms
        window = Window(look, open_settings(), document)
        document.setParent(window)
        qtbot.addWidget(window, before_close_func=lambda one: one.document.undo_stack.setClean())
        window.resize(1280, 800)
        window.show()
        qtbot.waitExposed(window)
        window.activateWindow()
        if opened:
            open_lesson(window, path)
            qtbot.waitUntil(window.page("riffs").grid.hasFocus)
        return window

    return make


@pytest.fixture
def answer(monkeypatch):
    """What is said to the question about unsaved work, one answer after the other."""
    given = []
    monkeypatch.setattr(
        "chalkfret.desk.lesson_files.LessonFiles.ask_unsaved", lambda _files: given.pop(0)
    )
    return given


@pytest.fixture
def save_elsewhere(monkeypatch, tmp_path):
    """The place that is chosen when the teacher is asked where to save."""
    place = tmp_path / "elsewhere.chalkfret"
    monkeypatch.setattr(
        "PySide6.QtWidgets.QFileDialog.getSaveFileName", lambda *_args: (str(place), "")
    )
    return place
