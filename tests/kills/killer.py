"""A process that has everything imported, and for each run forks one that types, and kills it.

Orders come as lines of JSON on the standard input: who types, with which seed, in which folder,
and how long after it is ready it is to be killed. The answer is a line with the moment of the kill
on the monotonic clock, taken just before it.
"""

import json
import os
import signal
import sys
import time
from importlib import import_module
from pathlib import Path

from tests.kills.typists import LOG, TYPISTS

READY_S = 60.0

BEFOREHAND = [
    "PySide6.QtTest", "chalkfret.desk.app", "chalkfret.desk.riffs.page", "chalkfret.edits.notes",
    "chalkfret.files.backups", "chalkfret.files.keeper", "chalkfret.files.saving",
]  # fmt: skip
"""What the typists need, read once before the first fork."""


def main() -> None:
    for name in BEFOREHAND:
        import_module(name)
    for line in sys.stdin:
        order = json.loads(line)
        folder = Path(order["folder"])
        child = os.fork()
        if child == 0:
            _type(order["who"], folder, order["seed"])
        _wait_until_ready(folder / LOG, child)
        time.sleep(order["after"])
        moment = time.monotonic()
        os.kill(child, signal.SIGKILL)
        _pid, status = os.waitpid(child, 0)
        killed = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
        print(json.dumps({"moment": moment, "killed": killed}), flush=True)


def _type(who: str, folder: Path, seed: int) -> None:
    """In the child; it never comes back."""
    try:
        os.environ["HOME"] = str(folder)
        for name in ("CONFIG", "DATA", "STATE", "CACHE"):
            os.environ[f"XDG_{name}_HOME"] = str(folder / name.lower())
        TYPISTS[who](folder, seed)
    except BaseException:
        import traceback

        traceback.print_exc()
    finally:
        os._exit(1)


def _wait_until_ready(log: Path, child: int) -> None:
    ends = time.monotonic() + READY_S
    while not (log.exists() and log.stat().st_size):
        if os.waitpid(child, os.WNOHANG) != (0, 0) or time.monotonic() > ends:
            raise SystemExit("the typist did not begin")
        time.sleep(0.002)


if __name__ == "__main__":
    main()
