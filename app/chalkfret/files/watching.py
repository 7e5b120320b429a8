"""Look at the open file from time to time, beside the window: is it still the one we know?

Asking the system to be told of changes would not do: on network drives it tells nothing, and the
asking itself can hang there. A look is one ``stat``; only where that differs is the file read.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from msgspec import Struct

from chalkfret.files.disk import DISK, Disk
from chalkfret.files.journal import digest
from chalkfret.files.lesson_file import SIZE_MAX

PAUSE_S: Final = 3.0
"""From one look to the next."""


class Seen(Struct, frozen=True):
    """Another file than the known one stands at the path; ``digest`` None: none does."""

    path: Path
    digest: str | None


class Watch:
    """Looks at one file in a thread of its own, which lives from ``follow`` to ``end``.

    ``seen`` is called in that thread, once for each file that stands there instead of the known
    one. A disk that gives no answer or refuses is no news: that is said when it is to be saved on.
    """

    def __init__(
        self, seen: Callable[[Seen], None], disk: Disk = DISK, pause_s: float = PAUSE_S
    ) -> None:
        self._seen, self._disk, self._pause_s = seen, disk, pause_s
        self._known: tuple[Path, str] | None = None
        self._told: Seen | None = None
        self._wake = threading.Event()
        self._ending = threading.Event()
        self._thread: threading.Thread | None = None

    def follow(self, path: Path, known: str) -> None:
        """Look at this file, which has this digest, from now on."""
        self._known, self._told = (path, known), None
        if self._thread is None:
            self._ending.clear()
            self._wake.clear()
            self._thread = threading.Thread(target=self._run, name="chalkfret watch", daemon=True)
            self._thread.start()

    def rest(self) -> None:
        """Look at nothing for now."""
        self._known = None

    def look(self) -> None:
        """Look soon, without waiting for the pause to end."""
        self._wake.set()

    def end(self, seconds: float = 2.0) -> None:
        """Stop the thread; where the disk hangs it is left to itself."""
        self._known = None
        self._ending.set()
        self._wake.set()
        thread, self._thread = self._thread, None
        if thread is not None:
            thread.join(seconds)

    def _run(self) -> None:
        stamp: tuple[object, ...] | None = None
        while not self._ending.is_set():
            self._wake.wait(self._pause_s)
            self._wake.clear()
            known = self._known
            if known is None or self._ending.is_set():
                continue
            with suppress(OSError, ValueError):
                stamp = self._look_at(known, stamp)

    def _look_at(
        self, known: tuple[Path, str], stamp: tuple[object, ...] | None
    ) -> tuple[object, ...] | None:
        """Look; what tells whether the next look must read the file, too."""
        path, expected = known
        try:
            status = self._disk.status(path)
            now: tuple[object, ...] = (known, status.st_mtime_ns, status.st_size, status.st_ino)
            if now == stamp:
                return stamp
            found: str | None = digest(self._disk.read(path)) if status.st_size <= SIZE_MAX else ""
        except FileNotFoundError:
            now, found = (known, None), None
        seen = Seen(path, found)
        if found != expected and seen != self._told and self._known is known:
            self._told = seen
            self._seen(seen)
        elif found == expected:
            self._told = None
        return now
