"""Every road of an unexpected exception leads to the notice and the report; the window lives on."""

import gc
import os
import sys
import threading
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QApplication, QPushButton, QWidget

from chalkfret.desk import making
from chalkfret.desk.actions import Action
from chalkfret.desk.making import MakerFailed, make_files
from chalkfret.desk.trouble.catching import before_telling
from chalkfret.desk.trouble.report import report
from chalkfret.desk.work import Work
from chalkfret.files.export import Kind, Request, plan
from tests.desk.hands import press
from tests.desk.two_guitars import two_guitars


class Odd(Exception):
    """What only these tests raise."""


def raise_odd(*_whatever):
    raise Odd("an odd thing")


class Painted(QWidget):
    def paintEvent(self, _event):
        raise_odd()


class HalfPainted(QWidget):
    def paintEvent(self, _event):
        painter = QPainter(self)
        painter.fillRect(self.rect(), Qt.GlobalColor.red)
        raise_odd()
        painter.end()


class Keyed(QWidget):
    def keyPressEvent(self, _event):
        raise_odd()


class Falling:
    def __del__(self):
        raise_odd()


def slot(window):
    button = QPushButton(window)
    button.clicked.connect(raise_odd)
    QTimer.singleShot(0, button, button.click)
    return button


def action(window):
    window.registry.add(window, (Action("odd", "Odd", ("Ctrl+Alt+Shift+O",), run=raise_odd),))
    QTimer.singleShot(0, window, window.registry.qaction("odd").trigger)


def painting(window):
    widget = Painted(window)
    widget.setGeometry(0, 0, 50, 50)
    widget.show()
    return widget


def key(window):
    widget = Keyed(window)
    kind, none = QEvent.Type.KeyPress, Qt.KeyboardModifier.NoModifier
    QApplication.postEvent(widget, QKeyEvent(kind, Qt.Key.Key_F30, none))
    return widget


def timer(window):
    QTimer.singleShot(0, window, raise_odd)


def task(_window):
    Work(raise_odd).start()


def thread(_window):
    threading.Thread(target=raise_odd).start()


def going(_window):
    Falling()


def going_in_a_cycle(_window):
    one = Falling()
    one.itself = one
    del one
    gc.collect()


def child(_window):
    files = plan(two_guitars(), "x", Request(Path(os.devnull), (Kind.MIDI,)))
    broken = replace(files[0], kind="no kind at all")
    make_files([broken], raise_nothing, lambda: False)


def raise_nothing(*_step):
    return None


ROADS = {
    slot: "Odd",
    action: "Odd",
    painting: "Odd",
    key: "Odd",
    timer: "Odd",
    task: "Odd",
    thread: "Odd",
    going: "Odd",
    going_in_a_cycle: "Odd",
    child: "MakerFailed",
}


@pytest.mark.parametrize("road", ROADS, ids=lambda road: road.__name__)
def test_it_is_told_and_reported_and_the_window_lives_on(troubled, catcher, qtbot, road, capfd):
    before = troubled.document.lesson
    flushed = []
    before_telling.append(lambda: flushed.append(troubled.document.lesson))
    try:
        kept = road(troubled)
        qtbot.waitUntil(lambda: troubled.telling._bar is not None)
    finally:
        before_telling.pop()
    bar = troubled.telling.bar
    assert bar.isVisible()
    assert "Something went wrong" in bar.text
    assert "Your lesson is kept" in bar.text
    assert flushed
    assert flushed[0] is before
    text = report(catcher)
    assert ROADS[road] in text
    assert f"line {raise_odd.__code__.co_firstlineno + 1}, in raise_odd" in text or road is child
    assert ROADS[road] in capfd.readouterr().err, "the terminal says it as ever"
    if isinstance(kept, QWidget):
        kept.hide()
    grid = troubled.page("riffs").grid
    assert grid.hasFocus(), "the hands were not disturbed"
    press("7")
    assert troubled.document.lesson is not before
    qtbot.mouseClick(bar.go_on, Qt.MouseButton.LeftButton)
    assert not bar.isVisible()
    assert grid.hasFocus()


def test_what_the_child_described_is_in_the_report(troubled, catcher):
    child(troubled)
    text = report(catcher)
    assert "in the other process:" in text
    assert "chalkfret/files/export.py" in text


def test_the_crash_of_a_child_is_in_the_report(troubled, catcher, monkeypatch, tmp_path):
    """A segmentation fault of its own making, once it has begun."""
    monkeypatch.setattr(
        making,
        "_CHILD",
        "import ctypes\n"
        "from chalkfret.desk import making_child\n"
        "making_child.run = lambda *_a, **_k: ctypes.string_at(0)\n"
        "making_child.child()",
    )
    files = plan(two_guitars(), "x", Request(tmp_path, (Kind.MIDI,)))
    (result,) = make_files(files, raise_nothing, lambda: False)
    assert result.faults[0].code == "export_broken"
    text = report(catcher)
    assert "Segmentation fault" in text or "access violation" in text
    assert "chalkfret/desk/making_child.py" in text


def test_a_process_that_cannot_begin_is_told_in_the_page(troubled, qtbot, monkeypatch, catcher):
    monkeypatch.setattr(making, "_CHILD", "raise SystemExit(3)")
    troubled.show_page("handouts")
    page = troubled.page("handouts")
    page.make_files()
    qtbot.waitUntil(lambda: page._work is None)
    assert page.saying.is_loud
    assert "fault of the program" in page.saying.text
    qtbot.waitUntil(lambda: troubled.telling._bar is not None)
    assert MakerFailed.__name__ in report(catcher)


def test_an_expected_refusal_of_a_task_is_no_trouble(troubled, qtbot, catcher):
    from chalkfret.files.trouble import CannotWrite
    from chalkfret.model import fault

    def refuse(_progress):
        raise CannotWrite(fault("export_nothing"))

    ends = []
    work = Work(refuse)
    work.failed.connect(ends.append)
    work.start()
    qtbot.waitUntil(lambda: bool(ends))
    assert catcher.noted == {}


def test_a_storm_is_told_once_and_counted(troubled, catcher, qtbot):
    widget = Painted(troubled)
    widget.setGeometry(0, 0, 50, 50)
    widget.show()
    for _ in range(100):
        widget.update()
        QApplication.processEvents()
    (noted,) = catcher.noted.values()
    assert noted.count >= 100
    bar = troubled.telling.bar
    qtbot.waitUntil(lambda: f"{noted.count} times" in bar.text)
    bar.put_away()
    for _ in range(100):
        widget.update()
        qtbot.wait(1)
    assert not bar.isVisible(), "told once"
    widget.hide()


def test_a_painting_that_breaks_off_does_not_crash_the_program(troubled, catcher, qtbot):
    """The traceback holds the painter; Qt would end its frame with it still at work."""
    widget = HalfPainted(troubled)
    widget.setGeometry(0, 0, 50, 50)
    widget.show()
    for _ in range(5):
        widget.update()
        QApplication.processEvents()
    assert next(iter(catcher.noted.values())).count >= 5
    assert getattr(sys, "last_traceback", None) is None
    widget.hide()
    qtbot.waitUntil(lambda: troubled.telling._bar is not None)


def test_one_that_comes_back_after_a_pause_is_told_again(troubled, catcher, qtbot, monkeypatch):
    from chalkfret.desk.trouble import telling

    timer(troubled)
    qtbot.waitUntil(lambda: troubled.telling._bar is not None)
    troubled.telling.bar.put_away()
    monkeypatch.setattr(telling, "_QUIET_S", 0.05)
    qtbot.wait(100)
    timer(troubled)
    qtbot.waitUntil(troubled.telling.bar.isVisible)


def test_where_the_lesson_could_not_be_brought_in_safety_a_copy_is_urged(troubled, catcher, qtbot):
    before_telling.append(raise_odd)
    try:
        timer(troubled)
        qtbot.waitUntil(lambda: troubled.telling._bar is not None)
    finally:
        before_telling.remove(raise_odd)
    assert "save a copy now" in troubled.telling.bar.text
    assert "bringing the lesson in safety" in report(catcher)


def test_a_fault_in_the_telling_is_kept_and_ends_there(troubled, catcher, qtbot, monkeypatch):
    monkeypatch.setattr(type(troubled.telling), "_words", raise_odd)
    timer(troubled)
    qtbot.waitUntil(lambda: len(catcher.noted) == 2)
    qtbot.wait(100)
    assert [noted.count for noted in catcher.noted.values()] == [1, 1]


def test_many_kinds_are_kept_up_to_a_bound(catcher):
    for number in range(30):
        code = compile("\n" * number + "raise ValueError", f"<{number}>", "exec")
        try:
            exec(code)
        except ValueError as error:
            catcher.note("here", error)
    assert len(catcher.noted) == 20
    assert catcher.beyond == 10
    assert "Errors of further kinds" in report(catcher)


def test_the_hooks_are_given_back(qapp):
    from chalkfret.desk.trouble.catching import Catcher

    before = (sys.excepthook, threading.excepthook, sys.unraisablehook)
    made = Catcher()
    let_go = made.take_hold()
    assert sys.excepthook is not before[0]
    let_go()
    assert (sys.excepthook, threading.excepthook, sys.unraisablehook) == before


def test_a_keyboard_interrupt_is_no_trouble(catcher, capfd):
    sys.excepthook(KeyboardInterrupt, KeyboardInterrupt(), None)
    assert catcher.noted == {}
    assert "KeyboardInterrupt" in capfd.readouterr().err


def test_a_copy_is_saved_beside_the_lesson_which_stays_where_it_lies(troubled, qtbot, tmp_path):
    from chalkfret.files.lesson_file import load

    path = tmp_path / "copy.chalkfret"
    troubled.telling.save_copy(path)
    qtbot.waitUntil(lambda: "copy.chalkfret" in troubled.telling.bar.text)
    assert load(path) == troubled.document.lesson
    assert troubled.document.path is None
    troubled.telling.save_copy(tmp_path / "none" / "copy.chalkfret")
    qtbot.waitUntil(lambda: "none" in troubled.telling.bar.text)


def test_a_copy_is_asked_for(troubled, qtbot, tmp_path, monkeypatch):
    from PySide6.QtWidgets import QFileDialog

    asked = []

    def choose(_parent, _title, suggested, _filter):
        asked.append(suggested)
        return str(tmp_path / "mine"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", choose)
    qtbot.mouseClick(troubled.telling.bar.copy, Qt.MouseButton.LeftButton)
    qtbot.waitUntil((tmp_path / "mine.chalkfret").exists)
    assert asked[0].endswith("copy.chalkfret")
    qtbot.waitUntil(lambda: "mine.chalkfret" in troubled.telling.bar.text)


def test_the_report_is_read_before_it_is_saved(troubled, qtbot, tmp_path, catcher):
    timer(troubled)
    qtbot.waitUntil(lambda: troubled.telling._bar is not None)
    qtbot.mouseClick(troubled.telling.bar.report, Qt.MouseButton.LeftButton)
    sheet = troubled.telling._sheet
    assert sheet.isVisible()
    assert not sheet.isModal()
    shown = sheet.text.toPlainText()
    assert shown.startswith(report(catcher).partition("Warnings of Qt")[0])
    sheet.save(tmp_path / "report.txt")
    assert (tmp_path / "report.txt").read_text() == shown
    assert "report.txt" in sheet.saying.text
    sheet.save(tmp_path / "none" / "report.txt")
    assert sheet.saying.is_loud
    troubled.telling.show_report()
    assert troubled.telling._sheet is not sheet
    troubled.telling._sheet.close()
