"""Files made in a process of their own, driven from a worker thread.

Two reasons, both measured: Qt's raw fonts, which the sheet is shaped and painted with, crash when
two threads use them at once; and laying out a long lesson in a thread takes the interpreter from
the hands that type. The child makes and writes the files (``files.export.run``); what comes back
is small, since the lessons are here already.
"""

from __future__ import annotations

import traceback
from collections.abc import Callable, Sequence
from multiprocessing import get_context
from multiprocessing.connection import Connection

from chalkfret.files.export import Output, Result, run

_LOOK_S = 0.05  # how often cancelling is looked for


class MakerFailed(Exception):  # noqa: N818
    """The process ended without results; what it said, where it said anything."""


def make_files(
    outputs: Sequence[Output],
    report: Callable[[int, int, Output], None],
    cancelled: Callable[[], bool],
) -> tuple[Result, ...]:
    """As ``files.export.run``, beside this process. Raises MakerFailed."""
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(
        target=_make, args=(theirs, tuple(outputs)), name="chalkfret files", daemon=True
    )
    process.start()
    theirs.close()
    try:
        return _follow(ours, outputs, report, cancelled)
    except (EOFError, OSError) as error:
        raise MakerFailed(str(error)) from error
    finally:
        ours.close()
        process.join()
        process.close()


def _follow(
    child: Connection,
    outputs: Sequence[Output],
    report: Callable[[int, int, Output], None],
    cancelled: Callable[[], bool],
) -> tuple[Result, ...]:
    asked_to_stop = False
    while True:
        if not asked_to_stop and cancelled():
            child.send("stop")
            asked_to_stop = True
        if not child.poll(_LOOK_S):
            continue
        kind, *more = child.recv()
        if kind == "step":
            done, of = more
            report(done, of, outputs[done])
        elif kind == "failed":
            raise MakerFailed(*more)
        else:
            (ends,) = more
            return tuple(Result(output, *end) for output, end in zip(outputs, ends, strict=False))


def _make(parent: Connection, outputs: tuple[Output, ...]) -> None:
    """The child: whatever the parent sends means that no further file is to be begun."""
    try:
        results = run(
            outputs,
            lambda done, of, _output: parent.send(("step", done, of)),
            lambda: parent.poll(),
        )
    except Exception:  # the parent says it to the teacher
        parent.send(("failed", traceback.format_exc()))
    else:
        ends = [(result.size, result.remarks, result.faults) for result in results]
        parent.send(("done", ends))
    finally:
        parent.close()
