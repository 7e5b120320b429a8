"""A drive that does not answer never stops the hands, and there is always a way on."""

import time

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMessageBox

from chalkfret.desk.safety.busy import AFTER_MS
from chalkfret.files.lesson_file import load
from chalkfret.files.sessions import lost_work
from tests.desk.hands import files_done, press
from tests.desk.safety.answers import asked, press_button
from tests.desk.safety.conftest import LESSON
from tests.faults.disks import Hanging

QUICK_S = 3.0  # a loaded machine, not a frozen window: the disk would hang for half a minute


@pytest.fixture
def hanging():
    """Makes disks that hang; all go on when the test is over."""
    made = []

    def make(name=""):
        made.append(Hanging(name=name))
        return made[-1]

    yield make
    for disk in made:
        disk.go_on.set()


@pytest.fixture
def slow(window_on, hanging, qtbot):
    """A window whose next save hangs as it syncs the file; the disk goes on at the end."""
    disk = hanging()
    window = window_on(disk, pause_s=60, slow_ms=30)
    disk.name = "sync"
    yield window, disk
    disk.go_on.set()
    qtbot.waitUntil(lambda: window.files.care.save is None, timeout=20_000)
    QTest.qWait(20)


def hanging_save(window, disk, qtbot):
    press("9", "Ctrl+S")
    qtbot.waitUntil(disk.hangs.is_set)


def test_the_hands_go_on_while_a_save_hangs(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    saved = window.document.lesson
    began = time.monotonic()
    press("8", "7", "Ctrl+Z")
    assert time.monotonic() - began < QUICK_S
    assert window.document.lesson is not saved
    assert window.isWindowModified()
    qtbot.waitUntil(lambda: window.safety.busy.text == "Saving slate.chalkfret …")
    disk.go_on.set()
    files_done(window)
    assert load(path) == saved
    assert window.document.dirty, "what was typed meanwhile is not saved"
    press("Ctrl+Z")
    assert not window.document.dirty, "this is what was saved"
    assert window.document.lesson is saved
    press("Ctrl+Z")
    assert window.document.dirty
    assert window.document.lesson == LESSON, "undo goes on behind the save"
    press("Ctrl+Shift+Z")
    assert not window.document.dirty


def test_a_second_save_in_the_meantime_follows_the_first(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    press("8", "Ctrl+S")
    disk.go_on.set()
    files_done(window)
    assert load(path) == window.document.lesson
    assert not window.document.dirty


def test_undone_behind_what_is_being_saved_it_cannot_be_come_back_to(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    press("Ctrl+Z", "5")
    disk.go_on.set()
    files_done(window)
    assert window.document.dirty
    press("Ctrl+Z")
    assert window.document.dirty, "not what is on the disk"
    assert load(path) != window.document.lesson


def test_a_save_that_hangs_can_be_done_elsewhere(slow, path, qtbot, save_elsewhere):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    qtbot.waitUntil(lambda: "has not answered" in asked(window))
    disk.name = ""
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == window.document.lesson
    assert not window.document.dirty
    assert window.document.path == save_elsewhere
    disk.go_on.set()
    qtbot.waitUntil(lambda: [one.name for one in path.parent.iterdir()] == [path.name])
    assert load(path) == LESSON, "what was left replaces nothing any more"
    assert window.document.path == save_elsewhere


@pytest.mark.faults
@pytest.mark.parametrize(
    "name",
    [
        "read", "status", "may_write", "create", "write", "sync", "close", "copy_permissions",
        "replace", "sync_folder", "names",
    ],
)  # fmt: skip
def test_wherever_a_save_hangs_the_hands_go_on_and_it_is_saved_elsewhere(
    window_on, hanging, path, qtbot, save_elsewhere, name
):
    disk = hanging()
    window = window_on(disk, pause_s=60, slow_ms=30)
    disk.name = name
    hanging_save(window, disk, qtbot)
    began = time.monotonic()
    press("8")
    assert time.monotonic() - began < QUICK_S
    qtbot.waitUntil(lambda: "has not answered" in asked(window))
    was_there = path.read_bytes()
    disk.name = ""
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == window.document.lesson
    disk.go_on.set()
    qtbot.waitUntil(lambda: [one.name for one in path.parent.iterdir()] == [path.name])
    QTest.qWait(30)
    assert name == "replace" or path.read_bytes() == was_there
    assert load(path)


def test_a_save_that_hangs_can_be_left(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    qtbot.waitUntil(lambda: "has not answered" in asked(window))
    press_button(window, "Do not wait for it")
    assert not window.files.is_busy
    assert window.document.dirty
    disk.go_on.set()
    QTest.qWait(50)
    assert load(path) == LESSON
    press("Ctrl+S")
    files_done(window)
    assert load(path) == window.document.lesson


def test_closing_waits_for_the_save_and_then_closes(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    saved = window.document.lesson
    began = time.monotonic()
    window.close()
    assert time.monotonic() - began < QUICK_S
    assert window.isVisible()
    qtbot.waitUntil(lambda: "goes on by itself" in asked(window))
    disk.go_on.set()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert load(path) == saved
    assert lost_work(window.files.care.state) == ()


def test_closing_can_be_given_up(slow, path, qtbot):
    window, disk = slow
    hanging_save(window, disk, qtbot)
    window.close()
    qtbot.waitUntil(lambda: "goes on by itself" in asked(window))
    press_button(window, "Stay here")
    disk.go_on.set()
    files_done(window)
    QTest.qWait(20)
    assert window.isVisible()


def test_closing_without_waiting_keeps_the_work_for_the_next_start(window_on, hanging, path, qtbot):
    disk = hanging()
    window = window_on(disk, pause_s=60)
    window.files.care.journal.flush()
    disk.name = "copy_permissions"
    hanging_save(window, disk, qtbot)
    work = window.document.lesson
    window.close()
    qtbot.waitUntil(lambda: "goes on by itself" in asked(window))
    disk.name = ""
    press_button(window, "Go on without waiting")
    assert not window.isVisible()
    (lost,) = lost_work(window.files.care.state)
    assert lost.lesson == work
    lost.release()
    disk.go_on.set()
    QTest.qWait(50)
    assert load(path) == LESSON


def test_saving_as_the_answer_to_closing_waits_too(slow, path, qtbot, answer):
    window, disk = slow
    press("9")
    saved = window.document.lesson
    answer.append(QMessageBox.StandardButton.Save)
    window.close()
    assert window.isVisible()
    qtbot.waitUntil(disk.hangs.is_set)
    disk.go_on.set()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert load(path) == saved


def test_a_lesson_is_opened_from_a_slow_drive_while_the_hands_go_on(
    window_on, hanging, path, qtbot
):
    disk = hanging("status")
    window = window_on(disk, pause_s=60, opened=False)
    window.files.new()
    qtbot.waitUntil(window.page("riffs").grid.hasFocus)
    began = time.monotonic()
    window.files.open(path)
    qtbot.waitUntil(disk.hangs.is_set)
    press("9")
    assert time.monotonic() - began < QUICK_S
    qtbot.waitUntil(lambda: window.safety.busy.text == "Opening slate.chalkfret …")
    window.document.undo_stack.undo()
    disk.go_on.set()
    files_done(window)
    assert window.document.lesson == LESSON
    assert not window.safety.busy.isVisible()


def test_opening_can_be_stopped(window_on, hanging, path, qtbot):
    disk = hanging("status")
    window = window_on(disk, pause_s=60, opened=False)
    window.files.new()
    window.files.open(path)
    qtbot.waitUntil(disk.hangs.is_set)
    qtbot.waitUntil(window.safety.busy.isVisible, timeout=AFTER_MS + 10_000)
    window.safety.busy._stop.click()
    assert not window.files.is_busy
    disk.go_on.set()
    QTest.qWait(50)
    assert window.document.path is None


def test_a_recent_lesson_on_a_drive_that_hangs_keeps_no_menu_waiting(window_on, path, monkeypatch):
    import threading
    from pathlib import Path

    window = window_on()
    go_on = threading.Event()
    real = Path.exists
    monkeypatch.setattr(Path, "exists", lambda self, **more: go_on.wait(20) and real(self, **more))
    began = time.monotonic()
    window.files.places.look()
    assert window.files.recent() == [path]
    assert time.monotonic() - began < QUICK_S
    go_on.set()
    QTest.qWait(20)


def test_a_journal_that_hangs_stops_neither_hands_nor_closing(
    window_on, hanging, path, qtbot, answer
):
    disk = hanging()
    window = window_on(disk, pause_s=0.01)
    window.files.care.journal.flush()
    disk.name = "sync"
    began = time.monotonic()
    press("9")
    qtbot.waitUntil(disk.hangs.is_set)
    press("8")
    assert time.monotonic() - began < QUICK_S
    answer.append(QMessageBox.StandardButton.Discard)
    window.close()
    assert not window.isVisible()
    assert time.monotonic() - began < 15
    disk.go_on.set()
    QTest.qWait(50)
