"""Long work beside the window: one end for each, and signals in the window's thread."""

import threading

from PySide6.QtCore import QObject, Slot

from chalkfret.desk.work import Cancelled, Work, stop_all


class Listener(QObject):
    """Remembers what it is told, and in which thread."""

    def __init__(self, work):
        super().__init__()
        self.ends = []
        self.steps = []
        work.finished.connect(self.finished)
        work.failed.connect(self.failed)
        work.cancelled.connect(self.cancelled)
        work.progressed.connect(self.progressed)

    @Slot(object)
    def finished(self, result):
        self.ends.append(("finished", result, threading.current_thread()))

    @Slot(object)
    def failed(self, error):
        self.ends.append(("failed", error, threading.current_thread()))

    @Slot()
    def cancelled(self):
        self.ends.append(("cancelled", None, threading.current_thread()))

    @Slot(int, int, str)
    def progressed(self, done, of, what):
        self.steps.append((done, of, what))


def test_a_task_runs_beside_the_window_and_its_result_arrives_in_it(qtbot):
    threads = []

    def task(progress):
        threads.append(threading.current_thread())
        for number in range(3):
            progress.step(number, 3, f"file {number}")
        return "done"

    work = Work(task)
    listener = Listener(work)
    work.start()
    qtbot.waitUntil(lambda: bool(listener.ends))
    assert listener.ends == [("finished", "done", threading.main_thread())]
    assert listener.steps == [(0, 3, "file 0"), (1, 3, "file 1"), (2, 3, "file 2")]
    assert threads != [threading.main_thread()]


def test_what_a_task_raises_is_told_once(qtbot):
    def task(progress):
        raise ZeroDivisionError("by zero")

    work = Work(task)
    listener = Listener(work)
    work.start()
    qtbot.waitUntil(lambda: bool(listener.ends))
    ((end, error, _thread),) = listener.ends
    assert end == "failed"
    assert isinstance(error, ZeroDivisionError)


def test_a_cancelled_task_stops_at_its_next_step(qtbot):
    begun, go_on = threading.Event(), threading.Event()

    def task(progress):
        begun.set()
        go_on.wait(10)
        progress.step(1, 2)
        raise AssertionError("went on after it was cancelled")

    work = Work(task)
    listener = Listener(work)
    work.start()
    assert begun.wait(10)
    work.cancel()
    go_on.set()
    qtbot.waitUntil(lambda: bool(listener.ends))
    assert [end for end, *_ in listener.ends] == ["cancelled"]


def test_a_receiver_that_is_gone_is_told_nothing(qtbot):
    go_on = threading.Event()

    def task(progress):
        go_on.wait(10)
        return "nobody listens"

    work = Work(task)
    listener = Listener(work)
    work.start()
    ends = listener.ends
    listener.deleteLater()
    qtbot.wait(10)
    go_on.set()
    assert work.wait(10)
    qtbot.wait(10)
    assert ends == []


def test_the_end_of_the_program_stops_all_work(qtbot):
    def task(progress):
        while True:
            try:
                progress.step(0, 1)
            except Cancelled:
                return

    work = Work(task)
    work.start()
    stop_all()
    assert work.wait(0)
    qtbot.wait(10)
