"""Files made in a process of their own, driven from a worker thread.

Two reasons, both measured: Qt's raw fonts, which the sheet is shaped and painted with, crash when
two threads use them at once; and laying out a long lesson in a thread takes the interpreter from
the hands that type. The child makes and writes the files (``files.export.run``); what comes back
is small, since the lessons are here already.

Parent and child speak in pickles, over the child's input and output: the parent begins with the
outputs; the child says ``("step", done, of)``, asks ``("stop?",)`` and is answered True or False,
and ends with ``("done", ends)`` or ``("failed", what)``.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import IO, Any

import chalkfret
from chalkfret.files.export import Output, Result, run

_CHILD = "from chalkfret.desk.making import child; child()"


class MakerFailed(Exception):
    """The process ended without results; what it said, where it said anything."""


def make_files(
    outputs: Sequence[Output],
    report: Callable[[int, int, Output], None],
    cancelled: Callable[[], bool],
) -> tuple[Result, ...]:
    """As ``files.export.run``, beside this process. Raises MakerFailed."""
    command = [sys.executable, "-P", "-c", _CHILD]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, env=_environment()) as process:
        assert process.stdin is not None, "asked for a pipe"
        assert process.stdout is not None, "asked for a pipe"
        try:
            _say(process.stdin, tuple(outputs))
            return _follow(process.stdout, process.stdin, outputs, report, cancelled)
        except (EOFError, OSError, pickle.UnpicklingError) as error:
            raise MakerFailed(str(error)) from error
        finally:
            process.kill()  # it has ended, or nobody waits for it any more


def _environment() -> dict[str, str]:
    """The child finds the package where this process found it."""
    here = str(Path(chalkfret.__file__).parent.parent)
    known = os.environ.get("PYTHONPATH")
    return {**os.environ, "PYTHONPATH": os.pathsep.join([here, known] if known else [here])}


def _follow(
    heard: IO[bytes],
    said: IO[bytes],
    outputs: Sequence[Output],
    report: Callable[[int, int, Output], None],
    cancelled: Callable[[], bool],
) -> tuple[Result, ...]:
    while True:
        kind, *more = pickle.load(heard)
        if kind == "step":
            done, of = more
            report(done, of, outputs[done])
        elif kind == "stop?":
            _say(said, cancelled())
        elif kind == "failed":
            raise MakerFailed(*more)
        else:
            (ends,) = more
            return tuple(Result(output, *end) for output, end in zip(outputs, ends, strict=False))


def _say(to: IO[bytes], message: Any) -> None:
    pickle.dump(message, to)
    to.flush()


def child() -> None:
    """The child's whole life."""
    heard, said = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever a library prints must not come between the messages

    def stop() -> bool:
        _say(said, ("stop?",))
        return bool(pickle.load(heard))

    try:
        outputs = pickle.load(heard)
        results = run(outputs, lambda done, of, _output: _say(said, ("step", done, of)), stop)
    except Exception as error:
        traceback.print_exc()
        _say(said, ("failed", f"{type(error).__name__}: {error}"))
    else:
        ends = [(result.size, result.remarks, result.faults) for result in results]
        _say(said, ("done", ends))
