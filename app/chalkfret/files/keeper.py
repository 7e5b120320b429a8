"""The journal of one window: writes down how it stands, beside the window, soon after each change.

``note`` is called at every change and costs next to nothing: a lesson is a value that never
changes, so the journal's thread makes its bytes and writes them while the teacher types on. What
is noted is on the disk within ``PAUSE_S`` and the time of one write. The whole lesson is written
each time (2,000 bars: 2 MB), but only the bars that changed are made into text anew.

    journal = Journal(state_folder())
    journal.note(Standing(lesson, path, digest))   # in any thread
    journal.flush()                                # now, in this thread; never raises
    journal.end(keep=False)                        # nothing is unsaved, or the teacher let it go

No Qt here: the journal works when the window no longer does.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Final

from chalkfret.files.canonical import Remembering
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.journal import Standing, record
from chalkfret.files.sessions import RECORD, Session
from chalkfret.files.trouble import system_fault
from chalkfret.model import Fault, fault

PAUSE_S: Final = 1.0
"""How long changes are gathered before they are written; half of the two seconds promised."""

AGAIN_S: Final = 5.0
"""How long to wait after a write that failed."""

Troubled = Callable[[Fault | None], None]
"""Told in the journal's thread that it cannot write; None: that it can again."""


class Journal:
    """Keeps the newest standing on the disk. Its thread lives from the first note to ``end``."""

    def __init__(
        self,
        state: Path,
        disk: Disk = DISK,
        pause_s: float = PAUSE_S,
        again_s: float = AGAIN_S,
        troubled: Troubled = lambda _fault: None,
    ) -> None:
        self._state, self._disk = state, disk
        self._pause_s, self._again_s = pause_s, again_s
        self._troubled = troubled
        self._lines = Remembering()
        self._newest = self._kept = Standing()
        self._fault: Fault | None = None
        self._session: Session | None = None
        self._writing = threading.Lock()
        self._noted = threading.Event()
        self._ending = threading.Event()
        self._thread: threading.Thread | None = None

    @property
    def folder(self) -> Path | None:
        """The folder of this window's record, where it has one by now."""
        session = self._session
        return None if session is None else session.folder

    @property
    def is_running(self) -> bool:
        """Whether anything was noted since it was made, or ended last."""
        return self._thread is not None

    def note(self, standing: Standing) -> None:
        """So it stands from now on."""
        self._newest = standing
        self._noted.set()
        if self._thread is None:
            self._ending.clear()
            # A daemon: a disk that never answers must not keep the program from ending.
            self._thread = threading.Thread(target=self._run, name="chalkfret journal", daemon=True)
            self._thread.start()

    def flush(self, seconds: float = 2.0) -> bool:
        """Write what is noted, in this thread, waiting so long at most for a write under way.

        Never raises, and needs no window: it can be called from an excepthook in any thread.
        False where the newest standing is not on the disk.
        """
        if not self._writing.acquire(timeout=seconds):
            return False
        try:
            return self._write() is None
        finally:
            self._writing.release()

    def end(self, keep: bool, seconds: float = 2.0) -> None:
        """Stop the thread; keep the record for the next start, or remove it.

        A journal that has ended begins again with the next ``note``.
        """
        self._ending.set()
        self._noted.set()
        thread, self._thread = self._thread, None
        if thread is not None and thread is not threading.current_thread():
            thread.join(seconds)
            if thread.is_alive():  # the disk hangs: whatever is there stays for the next start
                return
        if keep:
            self.flush(seconds)
        session, self._session = self._session, None
        self._newest = self._kept = Standing()
        if session is not None:
            session.end(keep)

    def _run(self) -> None:
        while not self._ending.is_set():
            self._noted.wait()
            if self._ending.wait(self._pause_s):
                return
            self._noted.clear()
            with self._writing:
                found = self._write()
            self._tell(found)
            if found is not None:
                self._noted.set()
                self._ending.wait(self._again_s)

    def _tell(self, found: Fault | None) -> None:
        if found != self._fault and not self._ending.is_set():
            self._fault = found
            self._troubled(found)

    def _write(self) -> Fault | None:
        """Write the newest standing where it is not on the disk yet; what was in the way."""
        newest = self._newest
        if newest is self._kept:
            return None
        try:
            data = record(newest, time.time(), self._lines)
            self._lines.turn()
            try:
                self._to_disk(data)
            except FileNotFoundError:  # someone cleared the folder away: begin another
                with suppress(OSError):
                    if self._session is not None:
                        self._session.end(keep=True)
                self._session = None
                self._to_disk(data)
        except (OSError, ValueError) as error:
            if isinstance(error, UnicodeEncodeError):
                return fault("text_broken", value=ascii(error.object)[:40])
            return system_fault(error, (self.folder or self._state) / RECORD)
        self._kept = newest
        return None

    def _to_disk(self, data: bytes) -> None:
        if self._session is None:
            self._session = Session(self._state, self._disk)
        self._session.write(data)
