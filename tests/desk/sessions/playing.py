"""Plays sessions and looks after each whether all is as it must be."""

from __future__ import annotations

import contextlib
import random
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from unittest.mock import patch

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QDesktopServices, QDrag, QFont
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QMenu, QMessageBox

from chalkfret.desk.trouble.catching import let_go_of
from chalkfret.desk.window import Window
from chalkfret.files.export import Output, Result
from chalkfret.files.lesson_file import dumps, load
from chalkfret.model import Lesson, validate
from chalkfret.model.start import new_lesson
from chalkfret.places import DEMO_LESSONS
from tests.desk.sessions.gestures import Hands, gesture, hands_on
from tests.desk.two_guitars import two_guitars

GESTURES = 200
_NOISE = "This plugin does not support "  # of the offscreen platform: no grabbing, no raising
_LOOK_EVERY = 8  # gestures between two looks at the whole lesson
_TOLD = 12  # last gestures that a failure tells
_PAGES = ("strings", "sheet", "handouts", "riffs")


class SessionFailed(AssertionError):
    """What went wrong in a session, and what had been done."""


class Player:
    """One window and the sessions played in it, one after the other."""

    def __init__(
        self,
        window: Window,
        seed: str,
        folder: Path,
        tell: Callable[[str], object] = lambda _what: None,
    ) -> None:
        self.window, self.seed, self._folder, self._tell = window, seed, folder, tell
        self.gestures = 0
        self._heard: list[str] = []
        self.done: list[str] = []
        self._plain_font = QFont(QApplication.font())
        self._lessons = [new_lesson(), two_guitars(), *map(load, sorted(DEMO_LESSONS.glob("*")))]

    def play(self, number: int, gestures: int = GESTURES) -> None:
        """One session, from a fresh lesson to that lesson again."""
        draw = random.Random(f"{self.seed} {number}")
        first = draw.choice(self._lessons)
        written = dumps(first)
        self.done = [f"begins with {first.head.title or 'a new lesson'}"]
        document = self.window.document
        with self._hearing():
            self._open(first)
            replaced: list[object] = []
            document.replaced.connect(lambda: replaced.append(None), owner := QObject())
            hands = hands_on(self.window, draw, self._plain_font)
            try:
                for at in range(gestures):
                    self._one(hands, at)
                    self._check(not replaced, "the lesson was taken away")
                self._leave_all()
                self._look_at(document.lesson)
                self._undo_all(first, written)
            except SessionFailed:
                raise
            except Exception as error:
                raise self._failed(f"{type(error).__name__}: {error}") from error
            finally:
                owner.deleteLater()
                # What lies there was made by Python, and would outlive it without a screen.
                QApplication.clipboard().clear()
        self.gestures += gestures

    def _one(self, hands: Hands, at: int) -> None:
        self.done.append("...")
        self.done[-1] = gesture(hands)
        self._tell(self.done[-1])
        if hands.draw.random() < 0.2:
            QApplication.processEvents()
            self._close_popup(hands.draw)
        if at % _LOOK_EVERY == 0:
            self._look_at(hands.window.document.lesson)
        self._check(not self._heard, "")

    def _open(self, lesson: Lesson) -> None:
        self.window.resize(900, 600)
        self.window.activateWindow()
        self.window.document.replace(lesson, None)
        self.window.files.opened.emit()
        self.window.show_page("riffs")
        QApplication.processEvents()

    def _look_at(self, lesson: Lesson) -> None:
        faults = validate(lesson)
        self._check(not faults, f"the lesson is at fault: {faults[:3]}")

    def _undo_all(self, first: Lesson, written: bytes) -> None:
        stack = self.window.document.undo_stack
        while stack.canUndo():
            stack.undo()
        lesson = self.window.document.lesson
        self._check(dumps(lesson) == written, "not all was undone")
        self._check(lesson is first, "undone to an equal lesson, but not to the very one")
        QApplication.processEvents()
        self._check(not self._heard, "")

    def _leave_all(self) -> None:
        """Let go of what a gesture left open: menus, drags, other windows, files being made."""
        while (popup := QApplication.activePopupWidget()) is not None:
            popup.close()
        for other in QApplication.topLevelWidgets():
            if other is not self.window and other.isVisible():
                other.close()
        handouts = self.window.page("handouts")
        handouts.stop()
        ends = time.monotonic() + 20
        while handouts._work is not None and time.monotonic() < ends:
            QApplication.processEvents()
        self._check(handouts._work is None, "files are still being made")
        self.window.showNormal()
        if QApplication.font() != self._plain_font:
            QApplication.setFont(self._plain_font)
            self.window.look.follow_font()
        QApplication.processEvents()

    @staticmethod
    def _close_popup(draw: random.Random) -> None:
        popup = QApplication.activePopupWidget()
        if popup is not None and draw.random() < 0.7:
            popup.close()

    def census(self) -> Counter[str]:
        """What there is of each kind, on the same lesson with all its pages shown."""
        with self._hearing():
            self._open(self._lessons[0])
            for page in _PAGES:
                self.window.show_page(page)
                QApplication.processEvents()
            QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        found = Counter(type(one).__name__ for one in self.window.findChildren(QObject))
        found.update(f"top {type(one).__name__}" for one in QApplication.topLevelWidgets())
        found["threads"] = threading.active_count()
        return found

    # What goes wrong

    def _check(self, good: bool, what: str) -> None:
        if not good:
            raise self._failed("; ".join(filter(None, [what, *self._heard])))

    def _failed(self, what: str) -> SessionFailed:
        done = "\n".join(f"  {one}" for one in self.done[-_TOLD:])
        return SessionFailed(
            f"{what}\nafter {len(self.done) - 1} gestures, the last of them\n{done}\n"
            f"play it again: python -m tests.desk.sessions {self.seed!r}"
        )

    @contextlib.contextmanager
    def _hearing(self) -> Iterator[None]:
        """Hear what is raised where nobody catches it, and what Qt warns of."""

        def raised(kind: type[BaseException], error: BaseException, trace: object) -> None:
            let_go_of(trace)
            self._heard.append(f"{kind.__name__}: {error} {_place(trace)}")

        def warned(kind: QtMsgType, _where: object, words: str) -> None:
            if kind not in (QtMsgType.QtDebugMsg, QtMsgType.QtInfoMsg) and not words.startswith(
                _NOISE
            ):
                self._heard.append(f"Qt: {words}")

        before = (sys.excepthook, threading.excepthook, sys.unraisablehook)
        qt_before = qInstallMessageHandler(warned)
        sys.excepthook = raised
        threading.excepthook = lambda args: raised(
            args.exc_type, args.exc_value or args.exc_type(), args.exc_traceback
        )
        sys.unraisablehook = lambda args: raised(
            args.exc_type, args.exc_value or args.exc_type(), args.exc_traceback
        )
        try:
            with _no_questions(self.window, self._folder):
                yield
        finally:
            sys.excepthook, threading.excepthook, sys.unraisablehook = before
            qInstallMessageHandler(qt_before)
        self._check(not self._heard, "")


def _place(trace: object) -> str:
    """The last line of the traceback that is ours."""
    steps = []
    while trace is not None:
        steps.append(f"{Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}")
        trace = trace.tb_next
    return " ".join(steps[-4:])


@contextlib.contextmanager
def _no_questions(window: Window, folder: Path) -> Iterator[None]:
    """Dialogs that wait for an answer get one at once; hand-outs are made without a process."""
    target = str(folder / "session.chalkfret")
    with (
        patch.object(QFileDialog, "getSaveFileName", lambda *_a, **_k: (target, "")),
        patch.object(QFileDialog, "getOpenFileName", lambda *_a, **_k: ("", "")),
        patch.object(QFileDialog, "getExistingDirectory", lambda *_a, **_k: str(folder)),
        patch.object(QDialog, "exec", lambda *_a: 0),
        patch.object(QMessageBox, "exec", lambda *_a: QMessageBox.StandardButton.Cancel),
        patch.object(QMenu, "exec", lambda *_a: None),
        patch.object(QDrag, "exec", lambda *_a: None),
        patch.object(QDesktopServices, "openUrl", lambda *_a: True),
        patch.object(window.files, "leave", lambda *_a: False),
        patch("chalkfret.desk.handouts_page.page.make_files", _pretend_to_make),
    ):
        yield


def _pretend_to_make(outputs: Sequence[Output], report, cancelled) -> tuple[Result, ...]:
    """As ``making.make_files``, but no process and no file: those have tests of their own."""
    results: list[Result] = []
    for done, output in enumerate(outputs):
        if cancelled():
            break
        report(done, len(outputs), output)
        time.sleep(0.0005)
        results.append(Result(output, 1))
    return tuple(results)


def growing(counts: Sequence[Counter[str]]) -> list[str]:
    """The kinds of which there were more each time."""
    return [
        f"{kind}: {', '.join(str(count[kind]) for count in counts)}"
        for kind in counts[-1]
        if all(one[kind] < two[kind] for one, two in pairwise(counts))
    ]
