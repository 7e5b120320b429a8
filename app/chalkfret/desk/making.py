"""Files made in a process of their own, driven from a worker thread.

Two reasons, both measured: Qt's raw fonts, which the sheet is shaped and painted with, crash when
two threads use them at once; and laying out a long lesson in a thread takes the interpreter from
the hands that type. The child makes and writes the files (``files.export.run``); what comes back
is small, since the lessons are here already. ``making_child`` says what the two say to each other,
in pickles over the child's input and output.

Cancelling ends the child at once, except in the moment in which a file is put in place. A child
that dies takes one file with it: the next is made by another. What it left half-written is gone
before anything is told.
"""

from __future__ import annotations

import os
import pickle
import queue
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import IO, Any, Final

import chalkfret
from chalkfret.desk.trouble.catching import unexpected
from chalkfret.desk.trouble.crashes import shown_trace
from chalkfret.files.export import Output, Result
from chalkfret.model import fault
from chalkfret.words.text import spoken

_CHILD = "from chalkfret.desk.making_child import child; child()"
_LOOK_S: Final = 0.05  # how often it is looked whether to go on
_PUT_S: Final = 1.0  # how long a cancel waits for a file that is just being put in place
_END_S: Final = 2.0  # how long to wait for the end of a child that was ended
_SAID_MOST: Final = 20_000  # bytes of a dead child's last words


class MakerFailed(Exception):
    """The process could not make a file; ``inside`` is what it described, cut for a report."""

    def __init__(self, what: str, inside: str = "") -> None:
        super().__init__(what)
        self.inside = inside


def make_files(
    outputs: Sequence[Output],
    report: Callable[[int, int, Output], None],
    cancelled: Callable[[], bool],
) -> tuple[Result, ...]:
    """As ``files.export.run``, beside this process. After ``cancelled()`` fewer results come back.

    Raises MakerFailed where the process cannot do anything at all.
    """
    results: list[Result] = []
    while len(results) < len(outputs) and not cancelled():
        maker = _Maker(outputs, results, report, cancelled)
        try:
            maker.follow()
        finally:
            maker.end()
    return tuple(results)


class _Maker:
    """One child and what is known of it; it adds to ``results``."""

    def __init__(
        self,
        outputs: Sequence[Output],
        results: list[Result],
        report: Callable[[int, int, Output], None],
        cancelled: Callable[[], bool],
    ) -> None:
        self._outputs, self._results = outputs, results
        self._report, self._cancelled = report, cancelled
        self._begun = False
        self._putting_until: float | None = None
        self._half_written: Path | None = None
        self._trace = ""  # of a crash of the child
        self._last_words = _last_words()
        self._process = subprocess.Popen(
            [sys.executable, "-P", "-c", _CHILD],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=self._last_words,
            env=_environment(),
        )
        self._messages: queue.SimpleQueue[tuple[Any, ...]] = queue.SimpleQueue()
        self._reader = threading.Thread(target=self._read, name="chalkfret maker", daemon=True)
        self._reader.start()

    def _read(self) -> None:
        """Messages in a thread: a read cannot be given up, and not every system can look first."""
        assert self._process.stdout is not None, "asked for a pipe"
        with self._process.stdout as heard:
            try:
                while True:
                    self._messages.put(_as_message(pickle.load(heard)))
            except Exception:  # its end, or something that is no message: then it is over as well
                self._messages.put(("ended",))

    def follow(self) -> None:
        """Until all is made, the child is dead, or nobody wants the files any more."""
        wanted = tuple(self._outputs[len(self._results) :])
        # In a thread: a long lesson fills the pipe, and the child may never come to read it.
        threading.Thread(
            target=self._say, args=(wanted,), name="chalkfret wish", daemon=True
        ).start()
        while len(self._results) < len(self._outputs):
            if self._is_over():
                return
            try:
                kind, *more = self._messages.get(timeout=_LOOK_S)
            except queue.Empty:
                continue
            if kind == "ended":
                self._died()
                return
            self._take(kind, more)

    def _is_over(self) -> bool:
        """Cancelled, and no file is just being put in place, or for too long."""
        if not self._cancelled():
            return False
        return self._putting_until is None or time.monotonic() > self._putting_until

    def _take(self, kind: str, more: list[Any]) -> None:
        output = self._outputs[len(self._results)]
        if kind == "step":
            self._begun = True
            self._report(len(self._results), len(self._outputs), output)
        elif kind == "may put":
            go_on = not self._cancelled()
            self._putting_until = time.monotonic() + _PUT_S if go_on else None
            self._say(go_on)
        elif kind == "writing":
            self._half_written = Path(*more)
        elif kind == "made":
            self._settle(Result(output, *more))
        elif kind == "broken":
            self._settle_broken(MakerFailed("a file could not be made", *more))

    def _settle(self, result: Result) -> None:
        self._putting_until = self._half_written = None
        self._results.append(result)

    def _settle_broken(self, error: MakerFailed) -> None:
        unexpected("in the making of a file", error)
        output = self._outputs[len(self._results)]
        broken = fault("export_broken", file=str(output.path))
        self._settle(Result(output, 0, faults=(broken,)))

    def _died(self) -> None:
        if self._cancelled():
            return
        self.end()
        what = f"the process ended with {self._process.returncode}"
        error = MakerFailed(what, self._trace)
        if not self._begun:
            raise error
        self._settle_broken(error)

    def end(self) -> None:
        """End the child, and remove what it left half-written. Twice is once."""
        self._process.kill()
        if self._process.stdin is not None:
            with suppress(OSError):
                self._process.stdin.close()
        try:
            self._process.wait(_END_S)
        except subprocess.TimeoutExpired:
            return  # a drive holds it, and would hold us as well
        finally:
            self._trace = self._trace or self._heard_last()
        self._reader.join()
        while not self._messages.empty():
            kind, *more = self._messages.get()
            if kind == "writing":
                self._half_written = Path(*more)
            elif kind == "made" and len(self._results) < len(self._outputs):
                self._settle(Result(self._outputs[len(self._results)], *more))
        if self._half_written is not None:
            with suppress(OSError):
                self._half_written.unlink()
            self._half_written = None

    def _say(self, message: object) -> None:
        assert self._process.stdin is not None, "asked for a pipe"
        with suppress(OSError, ValueError):  # it is dead, and the reader says so
            pickle.dump(message, self._process.stdin)
            self._process.stdin.flush()

    def _heard_last(self) -> str:
        """What the child said as it died, on the one time that it is asked for."""
        if self._last_words is None:
            return ""
        with suppress(OSError, ValueError), self._last_words as file:
            file.seek(0)
            return shown_trace(file.read(_SAID_MOST).decode(errors="replace"))
        return ""


def _as_message(value: Any) -> tuple[Any, ...]:
    if not isinstance(value, tuple) or not value or not isinstance(value[0], str):
        raise ValueError("no message")
    return value


def _last_words() -> IO[bytes] | None:
    """Where the child's error stream goes: what it says as it dies is worth a report."""
    try:
        return tempfile.TemporaryFile()
    except OSError:
        return None


def _environment() -> dict[str, str]:
    """The child finds the package where this process found it, and speaks its language."""
    here = str(Path(chalkfret.__file__).parent.parent)
    known = os.environ.get("PYTHONPATH")
    path = os.pathsep.join([here, known] if known else [here])
    return {**os.environ, "PYTHONPATH": path, "LANGUAGE": spoken()}
