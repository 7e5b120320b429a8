"""The file changes or vanishes behind the window, or is open in a second one."""

import json
from pathlib import Path

import pytest
from PySide6.QtWidgets import QMessageBox

from chalkfret.files.backups import versions
from chalkfret.files.lesson_file import dumps, load, save
from tests.builder import lesson, section
from tests.desk.hands import files_done, open_lesson, press
from tests.desk.safety.answers import asked, press_button
from tests.desk.safety.conftest import LESSON

THEIRS = lesson(section("A", "q 6:0 3 5 12"), title="Slate and chalk")


@pytest.fixture
def window(window_on):
    return window_on(look_s=0.01)


def test_a_change_by_another_program_is_noticed_and_named(window, path, qtbot):
    press("9")
    mine = window.document.lesson
    save(THEIRS, path)
    qtbot.waitUntil(lambda: "slate.chalkfret was changed" in asked(window))
    assert window.document.lesson is mine, "nothing happens unasked"
    press_button(window, "Go on with mine")
    assert not window.safety.questions.isVisible()


def test_what_is_asked_about_a_lesson_goes_with_it(window, path, qtbot):
    save(THEIRS, path)
    qtbot.waitUntil(lambda: "was changed" in asked(window))
    window.close_lesson()
    assert not window.safety.questions.isVisible()
    assert window.document.path is None


def test_what_is_there_can_be_loaded_and_undo_comes_back_to_mine(window, path, qtbot):
    press("9")
    mine = window.document.lesson
    save(THEIRS, path)
    qtbot.waitUntil(lambda: "was changed" in asked(window))
    press_button(window, "Load what is there")
    files_done(window)
    assert window.document.lesson == THEIRS
    assert not window.document.dirty
    press("Ctrl+Z")
    assert window.document.lesson is mine
    assert window.document.dirty
    press("Ctrl+S")
    files_done(window)
    assert load(path) == mine, "this is the file that is known now"


def test_a_save_over_a_changed_file_asks_first(window_on, path, qtbot):
    window = window_on()
    press("9")
    mine = window.document.lesson
    save(THEIRS, path)
    press("Ctrl+S")
    files_done(window)
    assert load(path) == THEIRS
    assert window.document.dirty
    assert "changed this file since you opened it" in asked(window)
    press_button(window, "Write over it")
    files_done(window)
    assert load(path) == mine
    assert not window.document.dirty
    qtbot.waitUntil(lambda: bool(versions(window.files.care.state, path)))
    kept = versions(window.files.care.state, path)[0]
    assert load(kept.path) == THEIRS, "what was written over is not lost"


def test_mine_can_be_saved_elsewhere(window_on, path, save_elsewhere):
    window = window_on()
    press("9")
    save(THEIRS, path)
    press("Ctrl+S")
    files_done(window)
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == window.document.lesson
    assert load(path) == THEIRS


def test_a_file_that_vanished_is_noticed_and_can_be_saved_again(window, path, qtbot):
    path.unlink()
    qtbot.waitUntil(lambda: "no longer where it was" in asked(window))
    press_button(window, "Save it there again")
    files_done(window)
    assert load(path) == LESSON
    assert "saved anew" in window.foot.sentence


def test_a_folder_that_vanished_is_said_with_a_way_out(window_on, path, save_elsewhere):
    window = window_on()
    path.rename(save_elsewhere.parent / "away.chalkfret")
    path.parent.rmdir()
    press("9", "Ctrl+S")
    files_done(window)
    assert "was not saved" in asked(window)
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == window.document.lesson


def test_my_own_saves_are_no_news(window, path, qtbot):
    for key in "987":
        press(key, "Ctrl+S")
        files_done(window)
        qtbot.wait(40)
    assert asked(window) == ""


def test_a_second_window_is_named_and_neither_writes_over_the_other(window_on, path, qtbot):
    first = window_on()
    first.files.care.journal.flush()
    second = window_on()
    assert "slate.chalkfret is open in another window, too" in asked(second)
    assert asked(first) == ""
    second.page("riffs").grid.setFocus()
    press("9")
    second.files.save()
    files_done(second)
    theirs = load(path)
    first.document.apply("Other", THEIRS)
    first.files.save()
    files_done(first)
    assert load(path) == theirs
    assert "changed this file since you opened it" in asked(first)


def test_the_second_window_can_become_a_copy(window_on, path):
    first = window_on()
    first.files.care.journal.flush()
    second = window_on()
    press_button(second, "Make this one a copy")
    assert second.document.path is None
    assert second.document.lesson == LESSON
    assert second.document.dirty, "it lies nowhere yet"


def test_a_lesson_of_a_newer_version_is_refused_and_never_rewritten(
    window_on, path, tmp_path, monkeypatch
):
    window = window_on()
    tree = json.loads(path.read_bytes()) | {"version": 2, "what_we_do_not_know": [1]}
    newer = tmp_path / "newer.chalkfret"
    newer.write_text(json.dumps(tree))
    before = newer.read_bytes()
    open_lesson(window, newer)
    assert "newer.chalkfret cannot be opened" in window.notice.heading
    assert "Open it with a newer version of the program; it was not changed." in window.notice.text
    assert window.document.path == path
    chosen = [str(newer)]
    monkeypatch.setattr(
        "PySide6.QtWidgets.QFileDialog.getSaveFileName", lambda *_args: (chosen[0], "")
    )
    window.files.save_as()
    files_done(window)
    assert "a newer version of the program wrote" in asked(window).lower()
    assert newer.read_bytes() == before
    path.write_bytes(before)  # the newer program saved it behind the window
    press("9", "Ctrl+S")
    files_done(window)
    assert path.read_bytes() == before
    assert "a newer version of the program wrote" in asked(window).lower()


def test_an_ending_that_is_added_does_not_lead_to_a_file_that_nobody_was_asked_about(
    window_on, path, monkeypatch
):
    window = window_on()
    taken = path.with_name("taken.chalkfret")
    save(THEIRS, taken)
    monkeypatch.setattr(
        "PySide6.QtWidgets.QFileDialog.getSaveFileName",
        lambda *_args: (str(Path(taken).with_suffix("")), ""),
    )
    press("9")
    window.files.save_as()
    files_done(window)
    assert load(taken) == THEIRS
    assert "There is a taken.chalkfret already" in asked(window)
    press_button(window, "Write over it")
    files_done(window)
    assert load(taken) == window.document.lesson
    assert window.document.path == taken


def test_a_save_that_is_asked_about_lets_closing_wait_for_the_answer(window_on, path, answer):
    window = window_on()
    press("9")
    save(THEIRS, path)
    answer.append(QMessageBox.StandardButton.Save)
    window.close()
    files_done(window)
    assert window.isVisible()
    press_button(window, "Write over it")
    files_done(window)
    assert not window.isVisible()
    assert path.read_bytes() != dumps(THEIRS)


def test_one_change_behind_the_window_is_one_line(window, path, qtbot):
    press("9")
    save(THEIRS, path)
    qtbot.waitUntil(lambda: "was changed by another" in asked(window))
    press("Ctrl+S")
    files_done(window)
    assert "was not saved" in asked(window)
    assert "was changed by another" not in asked(window)
    qtbot.wait(100)  # the watcher looks again
    assert "was changed by another" not in asked(window)


def test_a_missing_folder_is_named_and_no_file_is_said_to_be_as_it_was(
    window_on, monkeypatch, path
):
    window = window_on()
    place = path.parent / "nowhere" / "new.chalkfret"
    monkeypatch.setattr(
        "PySide6.QtWidgets.QFileDialog.getSaveFileName", lambda *_args: (str(place), "")
    )
    window.files.save_as()
    files_done(window)
    assert str(place.parent) in asked(window)
    assert "no folder" in asked(window)
    assert "still open with all your work" in asked(window)
    assert "as it was" not in asked(window)
