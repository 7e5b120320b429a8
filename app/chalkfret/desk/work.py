"""Long work, off the window's thread: with progress, cancel and failure.

A task is a function of one argument, a ``Progress``: it reports through it and asks it whether to
go on. It works on values (a lesson never changes), so the teacher types on meanwhile.

    work = Work(lambda progress: make_files(plan, progress))
    work.progressed.connect(bar.show_step)      # (done, of, what)
    work.finished.connect(self._show_results)   # what the task returned
    work.failed.connect(self._show_fault)       # the exception it raised
    work.start()

Signals arrive in the window's thread. Exactly one of ``finished``, ``failed`` and ``cancelled``
is sent; an exception that is no ``FileTrouble`` goes into the report of unexpected things as well.
A work whose receiver is gone says nothing to anybody. ``stop_all`` ends what still runs when the
program ends.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal, Slot

from chalkfret.desk.trouble.catching import unexpected
from chalkfret.files.trouble import FileTrouble


class Cancelled(Exception):
    """Raised by ``Progress.step`` in a task that nobody waits for any more."""


class Progress:
    """What a task is given: to report, and to learn that it was cancelled."""

    def __init__(self, report: Callable[[int, int, str], None]) -> None:
        self.report = report
        self._stop = threading.Event()

    @property
    def cancelled(self) -> bool:
        """Whether the task should stop; for tasks that stop by themselves."""
        return self._stop.is_set()

    def step(self, done: int, of: int, what: str = "") -> None:
        """Report so many of so many steps done; raises Cancelled where the task should stop."""
        if self._stop.is_set():
            raise Cancelled
        self.report(done, of, what)

    def stop(self) -> None:
        """Ask the task to stop at its next step."""
        self._stop.set()


class Work(QObject):
    """One task in a thread of its own; it is kept alive until its last signal has arrived."""

    progressed = Signal(int, int, str)
    finished = Signal(object)
    failed = Signal(object)
    cancelled = Signal()
    _ended = Signal()

    def __init__(self, task: Callable[[Progress], Any]) -> None:
        super().__init__()
        self._task = task
        self._progress = Progress(self.progressed.emit)
        # A daemon: a drive that never answers must not keep the program from ending.
        self._thread = threading.Thread(target=self._run, name="chalkfret work", daemon=True)
        self._ended.connect(self._forget)

    def start(self) -> None:
        """Begin. Once for each work."""
        _RUNNING.add(self)
        self._thread.start()

    def cancel(self) -> None:
        """Ask the task to stop; ``cancelled`` is sent when it has."""
        self._progress.stop()

    def leave(self) -> None:
        """Wait for it no more, not even as the program ends: its disk may never answer."""
        self.cancel()
        if self in _RUNNING:
            _RUNNING.remove(self)
            _LEFT.add(self)

    def wait(self, seconds: float | None = None) -> bool:
        """Wait for the thread without letting the window live; False where it still runs."""
        self._thread.join(seconds)
        return not self._thread.is_alive()

    def _run(self) -> None:
        try:
            result = self._task(self._progress)
        except Cancelled:
            self.cancelled.emit()
        except Exception as error:  # the window says it: a thread has nobody to raise it to
            if not isinstance(error, FileTrouble):
                unexpected("in a task", error)
            self.failed.emit(error)
        else:
            self.finished.emit(result)
        self._ended.emit()

    @Slot()
    def _forget(self) -> None:
        # In the window's thread, after the signals above: a QObject must not die in another one.
        self._thread.join()
        _RUNNING.discard(self)
        _LEFT.discard(self)


_RUNNING: set[Work] = set()
_LEFT: set[Work] = set()


def stop_all(seconds: float = 5.0) -> None:
    """Cancel all work and wait for it, as the program ends."""
    for work in tuple(_RUNNING):
        work.cancel()
    for work in tuple(_RUNNING):
        work.wait(seconds)
