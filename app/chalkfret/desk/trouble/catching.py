"""Every road on which an unexpected exception leaves Python leads here.

Slots and methods that Qt calls end in ``sys.excepthook`` (PySide prints what they raise), threads
and objects that are thrown away have hooks of their own, and a ``Work`` hands over what its task
raised. Equal ones are kept once and counted. ``caught`` is sent for it, into the window's thread.
Warnings of Qt are kept beside them, for the report.
"""

from __future__ import annotations

import sys
import threading
import time
from collections import deque
from collections.abc import Callable
from contextlib import suppress
from traceback import walk_tb
from types import TracebackType
from typing import Any, Final

from PySide6.QtCore import QMessageLogContext, QObject, QtMsgType, Signal, qInstallMessageHandler
from PySide6.QtGui import QPainter

from chalkfret.desk.trouble.described import Place, described, place_of

_KINDS_MOST: Final = 20  # different errors of one run that are kept with their places
_QT_MOST: Final = 20

before_telling: Final[list[Callable[[], object]]] = []
"""What is done in the window's thread before the teacher is told: bring the lesson in safety.

Each may be called again and again, and may raise: then the teacher is told to save a copy.
"""


class Noted:
    """One unexpected error: where it came from, its lines, how often and when last (monotonic)."""

    def __init__(self, where: str, lines: str) -> None:
        self.where, self.lines = where, lines
        self.count, self.last = 1, time.monotonic()


class Catcher(QObject):
    """What was caught in this run of the program."""

    caught = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.noted: dict[Place, Noted] = {}
        self.beyond = 0  # errors of further kinds, counted only
        self.qt_words: deque[str] = deque(maxlen=_QT_MOST)
        self.crash = ""  # the trace that an earlier run left
        self._lock = threading.RLock()

    def note(self, where: str, error: BaseException, tell: bool = True) -> None:
        """Keep an error; from any thread. It raises nothing."""
        try:
            self._keep(where, error)
            if tell:
                self.caught.emit()
        except Exception as second:  # nobody is left to take it
            _print(type(second), second, second.__traceback__)

    def _keep(self, where: str, error: BaseException) -> None:
        place = place_of(error)
        with self._lock:
            known = self.noted.get(place)
            if known is not None:
                known.count += 1
                known.last = time.monotonic()
            elif len(self.noted) < _KINDS_MOST:
                self.noted[place] = Noted(where, described(error))
            else:
                self.beyond += 1

    # The hooks

    def _raised(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        let_go_of(trace)
        _print(kind, error, trace)
        if not issubclass(kind, KeyboardInterrupt):
            self.note("in the window", error.with_traceback(trace))

    def _raised_in_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None and not issubclass(args.exc_type, SystemExit):
            _print(args.exc_type, args.exc_value, args.exc_traceback)
            self.note("in a thread", args.exc_value.with_traceback(args.exc_traceback))

    def _raised_in_vain(self, args: Any) -> None:
        if args.exc_value is not None:
            _print(args.exc_type, args.exc_value, args.exc_traceback)
            self.note("as an object went", args.exc_value.with_traceback(args.exc_traceback))

    def _said_by_qt(self, kind: QtMsgType, _where: QMessageLogContext, words: str) -> None:
        if sys.stderr is not None:
            print(words, file=sys.stderr)
        if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg):
            self.qt_words.append(words)

    def take_hold(self) -> Callable[[], None]:
        """Lead all roads here; what is returned gives them back to who had them."""
        global _catcher
        before = (sys.excepthook, threading.excepthook, sys.unraisablehook, _catcher)
        sys.excepthook, threading.excepthook = self._raised, self._raised_in_thread
        sys.unraisablehook = self._raised_in_vain
        qt_before = qInstallMessageHandler(self._said_by_qt)
        _catcher = self

        def let_go() -> None:
            global _catcher
            sys.excepthook, threading.excepthook, sys.unraisablehook, _catcher = before
            qInstallMessageHandler(qt_before)

        return let_go


def let_go_of(trace: TracebackType | None) -> None:
    """End the paintings that an exception broke off, and forget where it came through.

    A painter that is still at work when Qt shows what was painted crashes the program, and Python
    keeps the last traceback with all that its frames hold, the painter among it.
    """
    for frame, _line in walk_tb(trace):
        for value in tuple(frame.f_locals.values()):
            if isinstance(value, QPainter):
                with suppress(RuntimeError):  # it is gone already
                    if value.isActive():
                        value.end()
    sys.last_type = sys.last_value = sys.last_traceback = None


_catcher: Catcher | None = None


def catcher() -> Catcher | None:
    """Who holds the roads, None where nobody does (a test of one widget)."""
    return _catcher


def unexpected(where: str, error: BaseException) -> None:
    """Hand over an exception that was caught, but that nobody foresaw; from any thread."""
    if _catcher is not None:
        _print(type(error), error, error.__traceback__)
        _catcher.note(where, error)


def _print(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    """On the terminal, where there is one, all is said as ever."""
    if sys.stderr is not None:
        sys.__excepthook__(kind, error, trace)
