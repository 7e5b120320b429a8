"""The process in which hand-outs are made: the other end of ``desk.making``, and its whole life.

It says ``("step", number)`` before a file, asks ``("may put",)`` before the file is put in place
and is answered True or False, names the temporary file with ``("writing", path)``, and ends a
file with ``("made", size, remarks, faults)``, or ``("broken", lines)`` where the program failed.
"""

from __future__ import annotations

import faulthandler
import os
import pickle
import sys
import traceback
from pathlib import Path
from typing import Any

from chalkfret.desk.trouble.described import described
from chalkfret.files.disk import Disk
from chalkfret.files.export import run


class Line:
    """The way to the window's process."""

    def __init__(self) -> None:
        self._heard, self._said = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
        os.dup2(2, 1)  # whatever a library prints must not come between the messages

    def hear(self) -> Any:
        """The next message. Raises EOFError where nobody is there any more."""
        return pickle.load(self._heard)

    def say(self, *message: Any) -> None:
        """Send a message."""
        pickle.dump(message, self._said)
        self._said.flush()


class NamingDisk(Disk):
    """Names a file to the other end before it is there, so that it is removed after a kill."""

    def __init__(self, line: Line) -> None:
        self._line = line

    def create(self, path: Path) -> int:
        self._line.say("writing", str(path))
        return super().create(path)


def child() -> None:
    """Make what the other end wants made."""
    line = Line()
    faulthandler.enable()
    disk = NamingDisk(line)
    asked = 0

    def stop() -> bool:
        """``run`` asks before it begins a file, and again before it puts it in place."""
        nonlocal asked
        asked += 1
        if asked % 2:
            return False
        line.say("may put")
        return not line.hear()

    for number, output in enumerate(line.hear()):
        line.say("step", number)
        asked = 0
        try:
            results = run([output], cancelled=stop, disk=disk)
        except (EOFError, BrokenPipeError):
            return  # the window is gone
        except Exception as error:
            traceback.print_exc()
            line.say("broken", described(error))
        else:
            if not results:
                return
            (made,) = results
            line.say("made", made.size, made.remarks, made.faults)
