"""After a crash what was there is offered, compared with the file, and decided on."""

import pytest

from chalkfret.files.backups import versions
from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import dumps, load, save
from chalkfret.files.sessions import RECORD, lost_work
from chalkfret.places import state_folder
from tests.builder import lesson, section
from tests.desk.hands import files_done, press
from tests.desk.safety.answers import asked, buttons, crashed, press_button
from tests.desk.safety.conftest import LESSON
from tests.faults.disks import REFUSALS, Choosing

WORK = lesson(section("A", "q 6:0 3 5 12 | 5:0 2"), title="Slate and chalk")
NAMELESS = lesson(section("A", "q 6:0 3"), title="")


@pytest.fixture
def window(window_on):
    return window_on(opened=False)


def begin(window, qtbot):
    window.show_empty()
    window.safety.begin()
    qtbot.waitUntil(lambda: asked(window) != "")


def left():
    """What would be offered to another start."""
    found = lost_work(state_folder())
    for one in found:
        one.release()
    return [one.lesson for one in found]


def test_nothing_lost_nothing_asked(window, qtbot):
    window.show_empty()
    window.safety.begin()
    qtbot.wait(100)
    assert not window.safety.questions.isVisible()
    window.registry.run("unsaved_work")
    qtbot.waitUntil(lambda: "no unsaved work" in window.foot.sentence)


def test_what_was_lost_is_offered_with_how_it_differs(window, path, qtbot):
    crashed(WORK, path, digest(dumps(LESSON)))
    begin(window, qtbot)
    assert "1 lesson has work that was not saved" in asked(window)
    assert "slate.chalkfret" in asked(window)
    assert "Section A: 1 bar is new." in asked(window)
    assert "Section A: bar 1 is changed." in asked(window)
    assert "Section A: 2 notes are new." in asked(window)
    assert "Section A: 1 note is changed." in asked(window)
    assert [one.text() for one in buttons(window)] == [
        "Take it up", "Look at it as a copy", "Keep the saved one", "Later",
    ]  # fmt: skip
    assert load(path) == LESSON, "the teacher's file is never touched"


def test_it_is_taken_up_and_undo_leads_to_the_saved_lesson(window, path, qtbot):
    crashed(WORK, path, digest(dumps(LESSON)))
    begin(window, qtbot)
    press_button(window, "Take it up")
    assert window.document.lesson == WORK
    assert window.document.path == path
    assert window.document.dirty
    assert window.page("riffs").isVisible()
    assert not window.safety.questions.isVisible()
    press("Ctrl+Z")
    assert window.document.lesson == LESSON
    press("Ctrl+Shift+Z", "Ctrl+S")
    files_done(window)
    assert load(path) == WORK
    qtbot.waitUntil(lambda: left() == [])


def test_until_it_is_in_the_journal_of_this_window_the_lost_one_stays(window_on, path, qtbot):
    disk = Choosing("create", REFUSALS["disk full"])
    window = window_on(disk, pause_s=60, opened=False)
    crashed(WORK, path)
    begin(window, qtbot)
    disk.on = True
    press_button(window, "Take it up")
    assert window.document.lesson == WORK
    qtbot.waitUntil(lambda: left() == [WORK])
    disk.on = False


def test_a_copy_to_look_at_decides_nothing(window, path, qtbot):
    crashed(WORK, path)
    begin(window, qtbot)
    press_button(window, "Look at it as a copy")
    assert (window.document.lesson, window.document.path) == (WORK, None)
    assert "Take it up" in [one.text() for one in buttons(window)]
    press_button(window, "Later")
    assert left() == [WORK]


def test_the_saved_one_is_kept_and_the_work_goes_to_the_earlier_versions(window, path, qtbot):
    crashed(WORK, path)
    begin(window, qtbot)
    press_button(window, "Keep the saved one")
    qtbot.waitUntil(lambda: left() == [] and bool(versions(state_folder(), path)))
    assert load(versions(state_folder(), path)[0].path) == WORK
    assert load(path) == LESSON
    assert "earlier versions" in window.foot.sentence


def test_later_means_the_next_start_or_the_action(window, path, qtbot):
    crashed(WORK, path)
    begin(window, qtbot)
    press_button(window, "Later")
    assert not window.safety.questions.isVisible()
    assert left() == [WORK]
    window.registry.run("unsaved_work")
    qtbot.waitUntil(lambda: "slate.chalkfret" in asked(window))


def test_several_are_listed_newest_first_and_decided_one_by_one(window, path, qtbot):
    crashed(NAMELESS, at=1_700_000_500.0)
    crashed(WORK, path, at=1_700_000_000.0)
    begin(window, qtbot)
    qtbot.waitUntil(lambda: "2 lessons have work" in asked(window))
    text = asked(window)
    assert text.index("a lesson without a name") < text.index("slate.chalkfret")
    assert "It was never saved." in text
    assert "Guitars: 1, sections: 1, bars: 1, notes: 2." in text
    press_button(window, "Let it go")
    assert "1 lesson has work" in asked(window)
    press_button(window, "Take it up")
    assert window.document.lesson == WORK
    qtbot.waitUntil(lambda: left() == [])
    assert load(versions(state_folder(), None)[0].path) == NAMELESS


def test_work_that_is_in_the_file_by_now_is_not_lost(window, path, qtbot):
    folder = crashed(LESSON, path)
    window.show_empty()
    window.safety.begin()
    qtbot.waitUntil(lambda: not folder.exists())
    assert not window.safety.questions.isVisible()


def test_a_file_that_changed_since_is_said_and_not_written_over(window, path, qtbot):
    crashed(WORK, path, digest(b"what it was"))
    begin(window, qtbot)
    assert "changed since by another program" in asked(window)
    press_button(window, "Take it up")
    press("Ctrl+S")
    files_done(window)
    assert load(path) == LESSON
    assert "changed this file since you opened it" in asked(window)


def test_a_file_that_is_gone_is_said(window, path, qtbot):
    crashed(WORK, path, digest(dumps(LESSON)))
    path.unlink()
    begin(window, qtbot)
    assert "cannot be read now" in asked(window)
    press_button(window, "Take it up")
    press("Ctrl+S")
    files_done(window)
    assert load(path) == WORK


def test_what_cannot_be_read_is_said_and_thrown_away_only_when_asked(window, path, qtbot):
    folder = crashed(WORK, path)
    record_file = folder / RECORD
    record_file.write_bytes(record_file.read_bytes()[:-9])
    begin(window, qtbot)
    assert "damaged" in asked(window)
    press_button(window, "Later")
    assert record_file.exists()
    window.registry.run("unsaved_work")
    qtbot.waitUntil(lambda: "damaged" in asked(window))
    press_button(window, "Throw it away")
    qtbot.waitUntil(lambda: not folder.exists())


def test_the_open_lesson_is_not_lost_by_taking_another_up(window, path, qtbot, answer):
    from PySide6.QtWidgets import QMessageBox

    crashed(WORK, path)
    window.files.new()
    qtbot.waitUntil(window.page("riffs").grid.hasFocus)
    press("5")
    mine = window.document.lesson
    window.safety.begin()
    qtbot.waitUntil(lambda: "slate.chalkfret" in asked(window))
    answer.append(QMessageBox.StandardButton.Cancel)
    press_button(window, "Take it up")
    assert window.document.lesson is mine
    assert "Take it up" in [one.text() for one in buttons(window)], "it can still be taken"


def test_the_question_takes_no_keys_from_the_hands(window, path, qtbot):
    save(LESSON, path)
    crashed(WORK, path)
    window.files.new()
    grid = window.page("riffs").grid
    qtbot.waitUntil(grid.hasFocus)
    window.safety.begin()
    qtbot.waitUntil(lambda: "slate.chalkfret" in asked(window))
    assert grid.hasFocus()
    press("Shift+F9")
    assert buttons(window)[0].hasFocus()
    press("Escape")
    assert not window.safety.questions.isVisible()
    assert grid.hasFocus()
    window.document.undo_stack.setClean()


def test_a_window_built_anew_goes_on_asking(window, path, qtbot, look):
    from chalkfret.desk.settings import open_settings
    from chalkfret.desk.window import Window

    crashed(WORK, path)
    begin(window, qtbot)
    again = Window(look, open_settings(), window.document)
    qtbot.addWidget(again)
    again.safety.recovering.look()
    assert "slate.chalkfret" in asked(again)
