"""What is typed in the window is soon in its journal, never in the teacher's file."""

import threading
import time

import pytest
from PySide6.QtWidgets import QMessageBox

from chalkfret.files.backups import versions
from chalkfret.files.journal import read_record
from chalkfret.files.keeper import PAUSE_S
from chalkfret.files.lesson_file import dumps, load, loads
from chalkfret.files.sessions import RECORD, lost_work
from tests.desk.hands import files_done, open_lesson, press
from tests.desk.safety.answers import asked, press_button
from tests.desk.safety.conftest import LESSON


def kept(window):
    """The lesson in the window's journal; None where it says that nothing is unsaved."""
    folder = window.files.care.journal.folder
    if folder is None or not (folder / RECORD).exists():
        return None
    body = read_record((folder / RECORD).read_bytes())[1]
    return loads(body) if body else None


def test_a_change_is_on_the_disk_within_two_seconds(window_on, path, qtbot):
    window = window_on(pause_s=PAUSE_S)
    began = time.monotonic()
    press("9")
    qtbot.waitUntil(lambda: kept(window) == window.document.lesson, timeout=10_000)
    assert time.monotonic() - began < 2.0
    assert load(path) == LESSON
    assert sorted(one.name for one in path.parent.iterdir()) == [path.name]


def test_typing_writes_nothing_in_the_windows_thread(window_on, monkeypatch):
    window = window_on()
    threads = set()
    real = window.files.care.journal._to_disk
    monkeypatch.setattr(
        window.files.care.journal,
        "_to_disk",
        lambda data: (threads.add(threading.current_thread().name), real(data)),
    )
    for key in "987654":
        press(key)
        time.sleep(0.02)
    assert threads == {"chalkfret journal"}


def test_a_save_and_an_undo_to_what_is_saved_empty_it(window_on, qtbot):
    window = window_on()
    press("9")
    qtbot.waitUntil(lambda: kept(window) == window.document.lesson)
    press("Ctrl+Z")
    qtbot.waitUntil(lambda: kept(window) is None)
    press("8")
    qtbot.waitUntil(lambda: kept(window) == window.document.lesson)
    press("Ctrl+S")
    files_done(window)
    qtbot.waitUntil(lambda: kept(window) is None)
    press("Ctrl+Z")
    qtbot.waitUntil(lambda: kept(window) == LESSON)


@pytest.mark.parametrize("discard", [True, False])
def test_a_window_that_is_closed_leaves_nothing(window_on, path, discard, answer):
    window = window_on()
    press("9")
    state = window.files.care.state
    answer.append(
        QMessageBox.StandardButton.Discard if discard else QMessageBox.StandardButton.Save
    )
    window.close()
    files_done(window)
    assert not window.isVisible()
    assert lost_work(state) == ()
    assert not list((state / "sessions").iterdir())
    assert (load(path) == LESSON) == discard


def test_what_is_let_go_for_another_lesson_is_in_the_journal_no_more(
    window_on, path, qtbot, answer
):
    window = window_on()
    press("9")
    qtbot.waitUntil(lambda: kept(window) == window.document.lesson)
    answer.append(QMessageBox.StandardButton.Discard)
    window.files.new()
    qtbot.waitUntil(lambda: kept(window) is None)


def test_an_error_brings_the_work_in_safety_at_once(window_on):
    window = window_on(pause_s=60)
    press("9")
    window.files.care.bring_in_safety()
    assert kept(window) == window.document.lesson


def test_each_save_keeps_the_version_it_replaces(window_on, path, qtbot):
    window = window_on()
    state = window.files.care.state
    lessons = [window.document.lesson]
    for number, key in enumerate("987", start=1):
        press(key, "Ctrl+S")
        files_done(window)
        lessons.append(window.document.lesson)
        qtbot.waitUntil(lambda number=number: len(versions(state, path)) == number)
    found = versions(state, path)
    assert [load(one.path) for one in reversed(found)] == lessons[:-1]
    window.registry.run("earlier_versions")
    qtbot.waitUntil(lambda: "Earlier versions of slate.chalkfret" in asked(window))
    assert "Version 3, replaced at " in asked(window)
    assert "Section A: " in asked(window)
    press_button(window, "Open as a copy")
    assert window.document.lesson == lessons[-2]
    assert window.document.path is None
    assert load(path) == lessons[-1]


def test_without_a_save_there_are_no_earlier_versions(window_on, qtbot):
    window = window_on()
    window.registry.run("earlier_versions")
    qtbot.waitUntil(lambda: "no earlier versions yet" in window.foot.sentence)


def test_the_history_survives_a_save(window_on, path):
    window = window_on()
    press("9", "8", "Ctrl+S")
    files_done(window)
    assert window.document.undo_stack.canUndo()
    press("Ctrl+Z", "Ctrl+Z")
    assert window.document.lesson == LESSON
    press("Ctrl+Shift+Z", "Ctrl+Shift+Z")
    assert dumps(window.document.lesson) == path.read_bytes()
    assert not window.document.dirty


def test_threads_end_with_the_window(window_on, path):
    window = window_on()
    open_lesson(window, path)
    press("9")
    names = {thread.name for thread in threading.enumerate()}
    assert {"chalkfret journal", "chalkfret watch"} <= names
    window.document.undo_stack.setClean()
    window.close()
    names = {thread.name for thread in threading.enumerate() if thread.is_alive()}
    assert not {"chalkfret journal", "chalkfret watch"} & names
