"""New, open, save: nothing is lost unasked, and nothing is half opened."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox, QPushButton

from chalkfret.desk.beginnings import begun
from chalkfret.desk.empty import EmptyState
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from chalkfret.files.lesson_file import load, save
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import fault
from tests.builder import lesson, section
from tests.desk.hands import files_done, open_lesson, press, save_lesson

LESSON = lesson(section("A", "q 6:0 3 5 7"), title="Slate and chalk")


@pytest.fixture
def path(tmp_path):
    place = tmp_path / "slate.chalkfret"
    save(LESSON, place)
    return place


@pytest.fixture
def answers(monkeypatch):
    """What the teacher says to the question about unsaved work, one answer after the other."""
    given = []
    asked = []

    def ask(_files):
        asked.append(True)
        return given.pop(0)

    monkeypatch.setattr("chalkfret.desk.lesson_files.LessonFiles.ask_unsaved", ask)
    return given, asked


def test_open_edit_save_reopen(window, path):
    open_lesson(window, path)
    assert window.windowTitle() == "slate[*] – Chalkfret"
    assert not window.isWindowModified()
    window.page("riffs").grid.setFocus()
    press("9")
    assert window.isWindowModified()
    press("Ctrl+S")
    files_done(window)
    assert not window.isWindowModified()
    assert load(path) == window.document.lesson
    assert load(path) != LESSON


def test_save_as_asks_where_and_adds_the_ending(window, path, tmp_path, monkeypatch):
    open_lesson(window, path)
    other = tmp_path / "other"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(other), ""))
    press("Ctrl+Shift+S")
    files_done(window)
    assert load(tmp_path / "other.chalkfret") == LESSON
    assert window.document.path == tmp_path / "other.chalkfret"
    assert window.windowTitle().startswith("other")


def test_a_lesson_that_lies_nowhere_asks_where(show, tmp_path, monkeypatch):
    window = show(LESSON)
    asked = []
    monkeypatch.setattr(
        QFileDialog,
        "getSaveFileName",
        lambda *args: asked.append(args[2]) or (str(tmp_path / "new.chalkfret"), ""),
    )
    save_lesson(window)
    assert not window.document.dirty
    assert asked[0].endswith("Slate and chalk.chalkfret")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: ("", ""))
    press("9")
    window.files.save_as()
    assert not window.files.is_busy
    assert window.document.dirty


def test_a_new_lesson_is_saved_where_the_teacher_last_was_or_among_the_documents(
    window, path, tmp_path, monkeypatch, private_home, qtbot
):
    asked = []

    def save_as(*args):
        asked.append(Path(args[2]))
        return (str(tmp_path / "chosen" / "new.chalkfret"), "")

    monkeypatch.setattr(QFileDialog, "getSaveFileName", save_as)
    (tmp_path / "chosen").mkdir()
    open_lesson(window, path)  # as at the start, by no choice of the teacher's
    window.files.new()
    window.files.save_as()
    files_done(window)
    assert asked[-1].parent == private_home
    window.files.new()
    (private_home / "Documents").mkdir()
    window.files.save_as()
    files_done(window)
    assert asked[-1].parent == tmp_path / "chosen"
    (tmp_path / "chosen" / "new.chalkfret").unlink()
    (tmp_path / "chosen").rmdir()
    window.files.new()
    window.files.places.look()
    qtbot.waitUntil(lambda: window.files.places.folder() is None)
    window.files.save_as()
    files_done(window)
    assert "new.chalkfret was not saved" in window.safety.questions.text, "its folder is gone"
    assert asked[-1].parent == private_home / "Documents"


def test_the_question_about_unsaved_work_has_words_and_no_pictures(show, monkeypatch):
    window = show(LESSON)
    press("9")
    seen = []

    def answer(box):
        seen.extend((button.text(), button.icon().isNull()) for button in box.buttons())
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr(QMessageBox, "exec", answer)
    press("Ctrl+N")
    assert sorted(seen) == [("&Cancel", True), ("&Do not save", True), ("&Save", True)]
    assert window.document.dirty


def test_recent_lessons_come_newest_first_and_only_those_that_are_there(
    window, path, tmp_path, qtbot
):
    other = tmp_path / "b.chalkfret"
    save(LESSON, other)
    open_lesson(window, path)
    open_lesson(window, other)
    assert window.files.recent() == [other, path]
    path.unlink()
    window.files.places.look()
    qtbot.waitUntil(lambda: window.files.recent() == [other])


def test_unsaved_work_is_asked_about_before_it_is_let_go(window, path, answers):
    given, asked = answers
    open_lesson(window, path)
    window.page("riffs").grid.setFocus()
    window.files.new()
    assert not asked, "nothing was unsaved"
    open_lesson(window, path)
    window.page("riffs").grid.setFocus()
    press("9")
    kept = window.document.lesson
    given.append(QMessageBox.StandardButton.Cancel)
    window.files.new()
    assert window.document.lesson is kept
    given.append(QMessageBox.StandardButton.Cancel)
    window.close()
    assert window.isVisible()
    given.append(QMessageBox.StandardButton.Save)
    window.files.new()
    files_done(window)
    assert load(path) == kept
    assert window.document.lesson == begun(window.settings.value)


def test_discarded_work_is_gone(window, path, answers):
    given, _asked = answers
    open_lesson(window, path)
    window.page("riffs").grid.setFocus()
    press("9")
    given.append(QMessageBox.StandardButton.Discard)
    window.close()
    assert not window.isVisible()
    assert load(path) == LESSON


def test_a_bad_file_is_told_in_sentences_and_never_half_opened(window, path, tmp_path):
    open_lesson(window, path)
    shown = window.document.lesson
    bad = tmp_path / "bad.chalkfret"
    bad.write_text(path.read_text().replace('"fret":3', '"fret":99'))
    assert bad.read_text() != path.read_text()
    open_lesson(window, bad)
    assert window.document.lesson is shown
    assert window.document.path == path
    assert window.notice.isVisible()
    assert "bad.chalkfret" in window.notice.heading
    assert window.notice.text.startswith("– ")
    press("Escape")
    assert not window.notice.isVisible()
    assert window.page("riffs").grid.hasFocus()


def test_a_missing_file_is_told(window, tmp_path):
    window.show_empty()
    open_lesson(window, tmp_path / "none.chalkfret")
    assert "none.chalkfret" in window.notice.heading
    assert window.notice.text


def test_a_save_that_fails_leaves_the_lesson_open_and_unsaved(window, path, monkeypatch):
    open_lesson(window, path)
    window.page("riffs").grid.setFocus()
    press("9")

    def full(path, *_rest):
        raise CannotWrite(fault("file_disk_full", file=str(path)))

    monkeypatch.setattr("chalkfret.files.saving.replace_file", full)
    press("Ctrl+S")
    files_done(window)
    assert "slate.chalkfret was not saved" in window.safety.questions.text
    assert "no room left" in window.safety.questions.text
    assert window.document.dirty
    assert load(path) == LESSON


def test_a_lesson_dropped_on_the_window_is_opened(window, path, qtbot):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    event = QDropEvent(
        QPointF(50, 50), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    window.dropEvent(event)
    qtbot.waitUntil(lambda: window.document.path == path)


def test_a_dropped_lesson_is_never_moved(window, path, qtbot):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    actions = Qt.DropAction.CopyAction | Qt.DropAction.MoveAction
    for kind in (QDragEnterEvent, QDropEvent):
        at = QPoint(50, 50) if kind is QDragEnterEvent else QPointF(50, 50)
        event = kind(at, actions, data, Qt.MouseButton.LeftButton,
                     Qt.KeyboardModifier.ShiftModifier)  # fmt: skip
        event.setDropAction(Qt.DropAction.MoveAction)
        (window.dragEnterEvent if kind is QDragEnterEvent else window.dropEvent)(event)
        assert event.isAccepted()
        assert event.dropAction() is Qt.DropAction.CopyAction
    qtbot.waitUntil(lambda: window.document.path == path)


def test_the_empty_window_names_no_lesson(window):
    window.show_empty()
    assert window.windowTitle() == "Chalkfret"
    press("Ctrl+N")
    assert window.windowTitle() == "New lesson[*] – Chalkfret"


def test_the_empty_state_says_what_to_do_and_does_it(window, qtbot):
    window.show_empty()
    buttons = [
        button
        for button in window.findChild(EmptyState).findChildren(QPushButton)
        if button.isVisible()
    ]
    assert [button.text() for button in buttons] == ["New lesson", "Open a lesson", "First steps"]
    buttons[2].click()
    files_done(window)
    assert window.document.lesson.head.title
    assert window.document.path is None, "a copy lies nowhere yet"
    assert window.page("riffs").isVisible()


def test_the_window_comes_back_as_it_was(window, look, qtbot):
    window.files.new()
    window.show_page("strings")
    window.resize(790, 700)  # the offscreen screen is 800 x 800
    QApplication.processEvents()
    window.close()
    again = Window(look, open_settings())
    qtbot.addWidget(again)
    again.show()
    assert (again.width(), again.height()) == (790, 700)
    again.files.new()
    assert again.page("strings").isVisible()
