"""The trace of a crash that Python does not survive, kept for the next start.

Each run has a file of its own in the state folder, held locked while the run lives. One that
nobody holds is of a run that is over: empty after a kill, with a trace after a crash.
"""

from __future__ import annotations

import faulthandler
import os
import re
import sys
from contextlib import suppress
from pathlib import Path
from typing import IO, Final

from chalkfret.desk.trouble.masked import cut_path

_NAME: Final = "crash-"
_LINES_MOST: Final = 80
_STEP: Final = re.compile(r'^\s+File "(?P<file>.*)", line (?P<line>\d+) in (?P<name>\S+)$')
_KEPT: Final = ("Fatal Python error", "Windows fatal exception", "Current thread", "Thread ")


class CrashFile:
    """Where the interpreter writes as it dies; ``close`` when the run ended well."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._path = folder / f"{_NAME}{os.getpid()}.txt"
        self._file = self._path.open("w", encoding="utf-8")
        _hold(self._file)
        faulthandler.enable(self._file)

    def close(self) -> None:
        """The run is over, and nothing is to be told of it."""
        faulthandler.disable()
        self._file.close()
        with suppress(OSError):
            self._path.unlink()


def begin(folder: Path) -> CrashFile | None:
    """Be ready for a crash; None where the folder cannot be written."""
    try:
        return CrashFile(folder)
    except OSError:
        return None


def left_behind(folder: Path) -> str:
    """The trace of the last crashed run as it may be shown; its file, and all older ones, go."""
    traces = []
    try:
        found = sorted(folder.glob(f"{_NAME}*.txt"), key=lambda path: path.stat().st_mtime)
    except OSError:
        return ""
    for path in found:
        with suppress(OSError):
            if not _is_held(path):
                traces.append(path.read_text("utf-8", errors="replace"))
                path.unlink()
    return shown_trace(next((trace for trace in reversed(traces) if trace), ""))


def shown_trace(trace: str) -> str:
    """The interpreter's last words with every path cut to the package; what else is said goes."""
    out = []
    for line in trace.splitlines():
        step = _STEP.match(line)
        if step:
            out.append(f"  {cut_path(step['file'])}, line {step['line']}, in {step['name']}")
        elif line.startswith(_KEPT):
            out.append(re.sub(r" \[.*?\]", "", line))  # a thread's name, on some Pythons
    return "\n".join(out[:_LINES_MOST])


def _hold(file: IO[str]) -> None:
    """A system without locks of this kind does not let an open file be removed."""
    if sys.platform != "win32":
        import fcntl

        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _is_held(path: Path) -> bool:
    if sys.platform == "win32":
        path.rename(path)  # refused, with an OSError, while another process has it open
        return False
    import fcntl

    with path.open("r+") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return True
    return False
