"""The care for one document: its journal, its saves, and its file as others may change it.

It belongs to the document and outlives windows. Nothing here asks or says anything to the teacher:
``desk.lesson_files`` does. All disk work is done in threads; they hold no widgets, and speak
through signals, which arrive in the window's thread.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import cached_property, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from chalkfret.desk.document import Document, Mark
from chalkfret.desk.work import Cancelled, Progress, Work
from chalkfret.files.disk import DISK, Disk
from chalkfret.files.expected import ANYTHING
from chalkfret.files.trouble import FileTrouble, system_fault
from chalkfret.model import Fault, Lesson
from chalkfret.places import state_folder

if TYPE_CHECKING:
    from PySide6.QtGui import QUndoStack

    from chalkfret.files.keeper import Journal
    from chalkfret.files.saving import Saved
    from chalkfret.files.watching import Seen, Watch

SLOW_MS = 3_000
"""How long a save may take before the teacher is told that the drive does not answer."""


class Save:
    """A save under way."""

    def __init__(self, path: Path, mark: Mark) -> None:
        self.path = path
        self.mark: Mark | None = mark  # None: another lesson is open by now
        self.work: Work | None = None


class Outcome(NamedTuple):
    """How a save ended."""

    save: Save
    saved: Saved | None = None
    trouble: FileTrouble | None = None


class Care(QObject):
    """Journal, saves and watch of one document."""

    saved = Signal(object)  # a Saved; the document knows by now
    not_saved = Signal(object, object)  # the path, and the exception
    slow = Signal()  # the save under way takes long
    save_changed = Signal()  # one began or ended
    file_seen = Signal(object)  # a Seen: another file stands where ours was
    journal_troubled = Signal(object)  # a Fault, or None when all is well again
    version_not_kept = Signal(object)  # a Fault: the file that was replaced is not kept
    _seen = Signal(object)
    _troubled = Signal(object)

    def __init__(
        self,
        document: Document,
        disk: Disk = DISK,
        pause_s: float | None = None,
        look_s: float | None = None,
    ) -> None:
        """``pause_s`` and ``look_s`` are those of journal and watch, None the usual ones."""
        super().__init__(document)
        self._document = document
        self.disk, self._pause_s, self._look_s = disk, pause_s, look_s
        self._journal: Journal | None = None
        self._watch: Watch | None = None
        self._ends: list[Callable[[bool], object]] = []
        self.save: Save | None = None
        self.lost: dict[Path, Any] = {}  # lost work that waits for a decision, in any window
        self.expected = ANYTHING  # the digest of the file at the document's path, where it is known
        self.slow_ms = SLOW_MS
        self._ours: set[str] = set()  # digests of saves that were left and came through
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.timeout.connect(self.slow)
        self._seen.connect(self._file_seen)
        self._troubled.connect(self.journal_troubled)
        document.changed.connect(self._changed)
        document.undo_stack.cleanChanged.connect(self._note)
        document.path_changed.connect(self._note)
        document.replaced.connect(self._forget)
        document.destroyed.connect(partial(_document_goes, document.undo_stack, self._ends))

    @staticmethod
    def of(document: Document) -> Care:
        """The care for this document."""
        found = document.findChild(Care)
        return found if isinstance(found, Care) else Care(document)

    # Made when they are first needed: the window is on the screen before any of this is read.

    @cached_property
    def state(self) -> Path:
        """The folder where it is all kept."""
        return state_folder()

    @property
    def journal(self) -> Journal:
        """The journal of this document."""
        from chalkfret.files.keeper import PAUSE_S, Journal

        if self._journal is None:
            pause_s = PAUSE_S if self._pause_s is None else self._pause_s
            self._journal = Journal(self.state, self.disk, pause_s, troubled=self._troubled.emit)
            self._ends.append(self._journal.end)
        return self._journal

    @property
    def watch(self) -> Watch:
        """What looks at the document's file."""
        from chalkfret.files.watching import PAUSE_S, Watch

        if self._watch is None:
            look_s = PAUSE_S if self._look_s is None else self._look_s
            self._watch = watch = Watch(self._seen.emit, self.disk, look_s)
            self._ends.insert(0, lambda _keep: watch.end())
        return self._watch

    # The journal

    @Slot(object, object)
    def _changed(self, _before: object, _after: object) -> None:
        # The undo stack does not know yet whether this is the saved lesson: it says so in a moment.
        self._note_as(self._document.lesson)

    @Slot()
    def _note(self) -> None:
        document = self._document
        if document.is_passing:
            return
        unsaved = document.lesson if document.dirty else None
        is_running = self._journal is not None and self._journal.is_running
        if unsaved is not None or document.path is not None or is_running:
            self._note_as(unsaved)

    def _note_as(self, unsaved: Lesson | None) -> None:
        from chalkfret.files.journal import Standing

        self.journal.note(Standing(unsaved, self._document.path, self._digest()))

    def _digest(self) -> str | None:
        return None if self.expected == ANYTHING else self.expected

    @Slot()
    def _forget(self) -> None:
        """Another lesson is open; its path and its file are said right after this."""
        self.expected = ANYTHING
        self._ours.clear()
        if self._watch is not None:
            self._watch.rest()
        if self.save is not None:
            self.save.mark = None

    def lies_at(self, path: Path, digest: str) -> None:
        """The document's file is this one, with these bytes."""
        self.expected = digest
        self._note()
        self.watch.follow(path, digest)

    def bring_in_safety(self) -> None:
        """Write the journal now, after something unexpected. RuntimeError where it cannot be."""
        if not self.journal.flush():
            raise RuntimeError("the journal could not be written")

    def set_aside(self) -> None:
        """Leave what is unsaved to the next start; what is opened now has a journal of its own."""
        self.journal.end(keep=True)

    def end(self, keep: bool) -> None:
        """The window is closed; ``keep`` what is unsaved, or the teacher let it go."""
        self._slow.stop()
        _end(self._ends, keep)

    # The file behind the window

    def look(self) -> None:
        """Look soon whether the file is still the one that is known."""
        self.watch.look()

    @Slot(object)
    def _file_seen(self, seen: Seen) -> None:
        if self.save is not None or seen.path != self._document.path:
            return  # the save will find out by itself
        if seen.digest in self._ours:
            self.lies_at(seen.path, seen.digest or "")
        elif self.expected not in (ANYTHING, seen.digest):
            self.file_seen.emit(seen)

    # Saving

    def begin_save(self, path: Path, expected: str) -> None:
        """Save the lesson of now at ``path``, over what is expected there, beside the window."""
        from chalkfret.files.saving import save_over

        self.leave_save()
        lesson, disk = self._document.lesson, self.disk
        save = Save(path, self._document.mark())

        def task(progress: Progress) -> Outcome:
            def last_word() -> None:
                if progress.cancelled:
                    raise Cancelled

            try:
                saved = save_over(lesson, path, expected, disk, last_word)
            except FileTrouble as trouble:
                return Outcome(save, trouble=trouble)
            return Outcome(save, saved)

        self.save = save
        save.work = work = Work(task)
        work.finished.connect(self._ended)
        work.failed.connect(self._broke)
        work.start()
        self._slow.start(self.slow_ms)
        self.save_changed.emit()

    def leave_save(self) -> None:
        """Wait for the save under way no more; from now on it replaces nothing."""
        save, self.save = self.save, None
        self._slow.stop()
        if save is not None:
            if save.work is not None:
                save.work.leave()
            self.save_changed.emit()

    @Slot(object)
    def _ended(self, outcome: Outcome) -> None:
        save, saved = outcome.save, outcome.saved
        if save is not self.save:
            if saved is not None:  # it was left too late to be stopped
                self._was_left(save, saved)
            return
        self._over()
        if saved is None:
            self.not_saved.emit(save.path, outcome.trouble)
            return
        if save.mark is not None:
            self.expected = saved.digest
            self._document.saved_as(save.path, save.mark)
            self.lies_at(save.path, saved.digest)
        if saved.replaced is not None:
            self._keep_version(save.path, saved.replaced)
        self.saved.emit(saved)

    @Slot(object)
    def _broke(self, error: Exception) -> None:
        if self.save is not None:
            path = self.save.path
            self._over()
            self.not_saved.emit(path, error)

    def _over(self) -> None:
        self.save = None
        self._slow.stop()
        self.save_changed.emit()

    def _was_left(self, save: Save, saved: Saved) -> None:
        """It is on the disk all the same: no other program's work."""
        if save.mark is not None:
            self._ours.add(saved.digest)
        if saved.replaced is not None:
            self._keep_version(save.path, saved.replaced)

    # Earlier versions

    def _keep_version(self, path: Path, data: bytes) -> None:
        """Keep what was replaced; in a thread of its own, since the save itself is done."""
        work = Work(partial(_keep, self.state, path, data, self.disk))
        work.finished.connect(self._version_kept)
        work.start()

    @Slot(object)
    def _version_kept(self, found: Fault | None) -> None:
        if found is not None:
            self.version_not_kept.emit(found)


def _keep(state: Path, path: Path, data: bytes, disk: Disk, _progress: Progress) -> Fault | None:
    from chalkfret.files.backups import keep_version

    try:
        keep_version(state, path, data, time.time(), disk)
    except (OSError, ValueError) as error:
        return system_fault(error, state)
    return None


def _document_goes(
    stack: QUndoStack, ends: list[Callable[[bool], object]], *_destroyed: object
) -> None:
    # The stack goes right after it, and says that it is clean then: nobody is there to hear it.
    stack.blockSignals(True)
    _end(ends, True)


def _end(ends: list[Callable[[bool], object]], keep: bool) -> None:
    for end in ends:
        end(keep)
