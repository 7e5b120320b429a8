"""Whatever a disk refuses is said in the window; the lesson stays, the old file too, and the
teacher can save elsewhere."""

import pytest

from chalkfret.files.lesson_file import dumps, load
from chalkfret.files.trouble import BadFile
from tests.desk.hands import files_done, press
from tests.desk.safety.answers import asked, press_button
from tests.desk.safety.conftest import LESSON
from tests.faults.disks import REFUSALS, Choosing

pytestmark = pytest.mark.faults

STEPS = ["read", "status", "may_write", "create", "write", "sync", "copy_permissions", "replace"]


@pytest.mark.parametrize("name", STEPS)
def test_a_save_that_is_refused(window_on, path, qtbot, name, save_elsewhere):
    disk = Choosing(name, 0)
    window = window_on(disk, pause_s=60)
    press("9")
    work, said = window.document.lesson, set()
    for code in REFUSALS.values():
        if name in ("read", "status") and code == REFUSALS["folder gone"]:
            continue  # "there is no such file" is an answer, and no refusal
        disk.code, disk.on = code, True
        press("Ctrl+S")
        files_done(window)
        disk.on = False
        assert "slate.chalkfret was not saved" in asked(window)
        assert "still open with all your work" in asked(window)
        said.add(asked(window))
        assert window.document.lesson is work
        assert window.document.dirty
        assert window.isWindowModified()
        assert path.read_bytes() == dumps(LESSON)
        assert [one.name for one in path.parent.iterdir()] == [path.name]
        press("8", "Ctrl+Z")
        assert window.document.lesson is work, "the hands go on"
    assert len(said) >= 4, "each reason has its own words"
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == work
    assert not window.document.dirty
    assert not window.safety.questions.isVisible()


def test_another_try_is_one_button_away(window_on, path):
    disk = Choosing("write", REFUSALS["disk full"])
    window = window_on(disk, pause_s=60)
    press("9")
    disk.on = True
    press("Ctrl+S")
    files_done(window)
    assert "no room left" in asked(window)
    disk.on = False
    press_button(window, "Try again")
    files_done(window)
    assert load(path) == window.document.lesson
    assert not window.document.dirty


def test_a_journal_that_cannot_be_written_is_said_until_it_can(window_on, path, qtbot):
    disk = Choosing("create", REFUSALS["disk full"])
    window = window_on(disk)
    window.files.care.journal._again_s = 0.01
    disk.on = True
    press("9")
    qtbot.waitUntil(lambda: "cannot be kept just now" in asked(window))
    assert "no room left" in asked(window)
    disk.on = False
    qtbot.waitUntil(lambda: not window.safety.questions.isVisible())
    assert window.files.care.journal.flush()


def test_an_earlier_version_that_cannot_be_kept_is_no_failed_save(window_on, path, qtbot):
    disk = Choosing("make_folder", REFUSALS["disk full"])
    window = window_on(disk, pause_s=60)
    window.files.care.journal.flush()
    press("9")
    disk.on = True
    press("Ctrl+S")
    files_done(window)
    assert load(path) == window.document.lesson
    assert not window.document.dirty
    qtbot.waitUntil(lambda: "earlier version could not be kept" in window.foot.sentence)


def test_what_nobody_foresaw_is_said_and_saved_elsewhere_all_the_same(
    window_on, path, monkeypatch, save_elsewhere
):
    window = window_on()
    press("9")

    def raise_(*_args, **_more):
        raise ZeroDivisionError

    with monkeypatch.context() as patch:
        patch.setattr("chalkfret.files.saving.save_over", raise_)
        press("Ctrl+S")
        files_done(window)
    assert "ZeroDivisionError" in asked(window)
    assert window.document.dirty
    press_button(window, "Save elsewhere …")
    files_done(window)
    assert load(save_elsewhere) == window.document.lesson


def test_a_lesson_that_could_not_be_opened_again_is_not_saved(window_on, path, monkeypatch):
    from chalkfret.model import fault

    window = window_on()
    press("9")

    def refuse(_lesson):
        raise BadFile(fault("text_broken", value="x"))

    monkeypatch.setattr("chalkfret.files.saving.sound_bytes", refuse)
    press("Ctrl+S")
    files_done(window)
    assert "half a character" in asked(window).lower()
    assert path.read_bytes() == dumps(LESSON)
