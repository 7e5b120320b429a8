"""Reference cycles are found in the window's thread, and in no other."""

import gc
import threading
import weakref

import pytest
from PySide6.QtCore import QObject, QThread

from chalkfret.desk.collecting import Collecting


class Knot(QObject):
    """Something that only the collector can free; remembers the thread in which it went."""

    went_in: list[int] = []

    def __init__(self):
        super().__init__()
        self.itself = self

    def __del__(self):
        self.went_in.append(threading.get_ident())


@pytest.fixture
def collecting(qapp):
    made = Collecting()
    yield made
    made.deleteLater()


def busy():
    """Make many objects that Python's collector counts, as a worker does."""
    for _each in range(200):
        kept = [[] for _other in range(1000)]
        del kept


def test_a_worker_that_makes_many_objects_frees_no_window(collecting):
    Knot.went_in.clear()
    knot = weakref.ref(Knot())
    worker = threading.Thread(target=busy)
    worker.start()
    worker.join()
    assert knot() is not None
    assert not Knot.went_in
    gc.collect()
    assert Knot.went_in == [threading.get_ident()]


def test_the_timer_frees_what_goes_round_in_circles(collecting, qtbot):
    Knot.went_in.clear()
    knot = weakref.ref(Knot())
    busy_lists = [[] for _each in range(gc.get_threshold()[0] + 10)]
    qtbot.waitUntil(lambda: knot() is None, timeout=3000)
    assert Knot.went_in == [threading.get_ident()]
    assert QThread.currentThread() is collecting.thread()
    del busy_lists


def test_everything_is_looked_through_once_in_a_while(collecting):
    made = Knot()
    gc.collect(1)  # it is alive, so by now it is among the old, whom the young runs never meet
    knot = weakref.ref(made)
    del made
    for _run in range(59):
        collecting.collect()
    assert knot() is not None
    collecting.collect()
    assert knot() is None
