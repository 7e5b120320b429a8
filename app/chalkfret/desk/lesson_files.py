"""New, open, save: the lesson and its file, with the question about unsaved work.

All reading and writing is done beside the window (``desk.safety.care``), so that a slow drive never
stops the hands; here is only what the teacher is asked and told. What has to wait for an answer or
a disk is handed over as ``then`` and done when its time has come.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal, Slot
from PySide6.QtWidgets import QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.safety import asking
from chalkfret.desk.safety.care import Care
from chalkfret.desk.safety.places import Places
from chalkfret.desk.safety.reading import Read, Reading, lacks_folder, trouble_sentences
from chalkfret.desk.settings import Kept, Settings, with_recent
from chalkfret.files.expected import ANYTHING, NOTHING
from chalkfret.model import Fault, Lesson
from chalkfret.words.text import _

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMessageBox

    from chalkfret.files.saving import Saved
    from chalkfret.files.watching import Seen

SUFFIX = ".chalkfret"

_LEAVING_MS = 400  # most saves are over before anybody need be asked

Then = Callable[[], object]


class LessonFiles(QObject):
    """The file side of a document. ``refused`` carries a path and the sentences that say why."""

    opened = Signal()
    refused = Signal(str, list)
    asked = Signal(object)  # an ``Asked``, for the questions above the page
    settled = Signal(str)  # the key of a question that is none any more
    busy = Signal(str)  # what is being read or written; "" nothing

    def __init__(self, document: Document, window: QWidget, settings: Kept[Settings]) -> None:
        super().__init__(window)
        self._document, self._window, self._settings = document, window, settings
        self.care = Care.of(document)
        self.places = Places(settings, self)
        self._reading = Reading(self.care, self)
        self._reading.refused.connect(self.refused)
        self._reading.changed.connect(self._tell_busy)
        self._after_save: list[Then] = []
        self._save_again = False
        self._differing = ""  # the digest of a file that a save has found in its place
        self._leaving: Then | None = None
        self._may_leave = self._keep = False
        document.replaced.connect(self._forget)
        document.copy_wished.connect(self.show_copy)
        care = self.care
        care.saved.connect(self._saved)
        care.not_saved.connect(self._not_saved)
        care.slow.connect(self._slow)
        care.save_changed.connect(self._tell_busy)
        care.file_seen.connect(self._file_seen)
        care.journal_troubled.connect(self._journal_troubled)
        care.version_not_kept.connect(self._version_not_kept)

    # New, and open

    def new(self) -> None:
        """Begin a new lesson, as this teacher begins one."""
        from chalkfret.desk.beginnings import begun

        self.show_copy(begun(self._settings.value))

    def show_copy(self, lesson: Lesson) -> None:
        """Begin a lesson that is a copy of this one and lies nowhere yet."""
        then = partial(self._show, lesson, None, "")
        if self.leave(then):
            then()

    def _show(self, lesson: Lesson, path: Path | None, digest: str) -> None:
        self._document.replace(lesson, path)
        if path is not None:
            self.care.lies_at(path, digest)
            self._remember(path)
        self.opened.emit()

    def show_unsaved(
        self, saved: Lesson, unsaved: Lesson, path: Path | None, digest: str | None
    ) -> None:
        """Take up unsaved work: Undo leads back to the saved lesson. Nothing is asked."""
        self._document.replace(saved, path)
        self._document.apply(_("Take up unsaved work"), unsaved)
        if path is not None:
            self.care.lies_at(path, digest or NOTHING)
            self._remember(path)
        self.opened.emit()

    @Slot()
    def _forget(self) -> None:
        """Another lesson: what was asked and waited for the last one is over."""
        self._after_save, self._save_again, self._differing = [], False, ""
        for key in (asking.SAVE, asking.FILE, asking.TWICE):
            self.settled.emit(key)

    def choose(self) -> None:
        """Ask for a lesson to open."""
        from PySide6.QtWidgets import QFileDialog

        name, _filter = QFileDialog.getOpenFileName(
            self._window, _("Open a lesson"), self._folder(), self._filter()
        )
        if name:
            self._settings.change(folder=str(Path(name).absolute().parent))
            self.open(Path(name))

    def open(self, path: Path, otherwise: Then | None = None) -> None:
        """Open the lesson at ``path`` as soon as it is read.

        Where it is at fault say why, leave all as it is, and do what is to be done ``otherwise``.
        """
        self._reading.begin(path, self._show_read, otherwise)

    def open_copy(self, path: Path) -> None:
        """Begin with a copy of the lesson at ``path``; the file itself stays as it is."""
        self._reading.begin(path, self._show_read_copy)

    def load_again(self) -> None:
        """Take up what lies in the lesson's file now; Undo comes back to what was open."""
        if self._document.path is not None:
            self._reading.begin(self._document.path, self._take_read)

    def _show_read(self, read: Read) -> None:
        opened = read.opened

        def then() -> None:
            self._show(opened.lesson, opened.path, opened.digest)
            if read.elsewhere:
                self.asked.emit(asking.open_twice(opened.path, self._become_copy))

        if self.leave(then):
            then()

    def _show_read_copy(self, read: Read) -> None:
        self.show_copy(read.opened.lesson)

    def _take_read(self, read: Read) -> None:
        opened, document = read.opened, self._document
        if opened.path == document.path:
            document.apply(_("Load the file again"), opened.lesson)
            document.saved_as(opened.path)
            self.care.lies_at(opened.path, opened.digest)

    def _become_copy(self) -> None:
        """The open lesson lies nowhere from now on; its work stays."""
        self._document.lies_nowhere()

    # Save

    @property
    def is_busy(self) -> bool:
        """Whether a lesson is being read or written."""
        return self._reading.path is not None or self.care.save is not None

    def save(self, then: Then | None = None) -> None:
        """Save where the lesson lies, or ask where; ``then`` follows when it is saved."""
        path, under_way = self._document.path, self.care.save
        if path is None:
            self.save_as(then)
        elif under_way is not None and under_way.path == path:
            self._save_again = True  # what was done since goes on the disk right after it
            self._after_save += [] if then is None else [then]
        else:
            self._write(path, self.care.expected, then)

    def save_as(self, then: Then | None = None) -> None:
        """Ask where to save, and save there."""
        from PySide6.QtWidgets import QFileDialog

        title = self._document.lesson.head.title.strip() or _("Lesson")
        name = "".join(" " if sign in '/\\:*?"<>|' else sign for sign in title)
        if self._document.path is not None:
            name = self._document.path.stem
        suggested = Path(self._folder()) / f"{name}{SUFFIX}"
        chosen, _filter = QFileDialog.getSaveFileName(
            self._window, _("Save the lesson as"), str(suggested), self._filter()
        )
        if not chosen:
            return
        path = Path(chosen)
        self._settings.change(folder=str(path.absolute().parent))
        if path.suffix == SUFFIX:
            self._write(path, ANYTHING, then)  # the dialog has asked about what stands there
        else:
            self._write(path.with_name(path.name + SUFFIX), NOTHING, then)

    def _write(self, path: Path, expected: str, then: Then | None = None) -> None:
        self._save_again, self._differing = False, ""
        self._after_save = [] if then is None else [then]
        self.settled.emit(asking.SAVE)
        self.care.begin_save(path, expected)

    @Slot(object)
    def _saved(self, saved: Saved) -> None:
        for key in (asking.SAVE, asking.FILE):
            self.settled.emit(key)
        self._remember(saved.path)
        if saved.was_gone:
            self._document.said.emit(
                _("{name} was no longer there. It was saved anew.").format(name=saved.path.name)
            )
        if self._save_again:
            self._save_again = False
            if self._document.dirty:
                self.care.begin_save(saved.path, self.care.expected)
                return
        after, self._after_save = self._after_save, []
        for then in after:
            then()
        self._go_on_leaving()

    @Slot(object, object)
    def _not_saved(self, path: Path, error: Exception) -> None:
        from chalkfret.files.saving import FileDiffers

        after = self._after_save[:1]
        self._after_save, self._save_again = [], False
        self._stay()
        elsewhere = partial(self.save_as, *after)
        if isinstance(error, FileDiffers):
            over = partial(self._write, path, error.found, *after)
            if path == self._document.path:
                self._differing = error.found
                self.asked.emit(asking.differs(path, over, elsewhere, self.load_again))
            else:
                self.asked.emit(asking.occupied(path, over, elsewhere))
            return
        reasons = trouble_sentences(error)
        expected = self.care.expected if path == self._document.path else NOTHING
        again = partial(self._write, path, expected, *after)
        stands = path == self._document.path and not lacks_folder(error)
        self.asked.emit(asking.not_saved(path, reasons, elsewhere, again, stands))

    @Slot()
    def _slow(self) -> None:
        save = self.care.save
        if save is not None and self._leaving is None:
            after = self._after_save[:1]
            self.asked.emit(
                asking.slow(save.path, partial(self.save_as, *after), self.care.leave_save)
            )

    # Let the lesson go

    def leave(self, then: Then) -> bool:
        """Whether the lesson may be let go right now.

        Where not, the teacher is asked or a save is waited for, and ``then`` follows when it may;
        it has to ask again.
        """
        if self._may_leave:
            self._may_leave = False
            return True
        if self.care.save is not None:
            self._leaving = then
            QTimer.singleShot(_LEAVING_MS, self, self._ask_leaving)
            return False
        if not self._document.dirty:
            return True
        from PySide6.QtWidgets import QMessageBox

        choice = self.ask_unsaved()
        if choice is QMessageBox.StandardButton.Save:
            self.save(partial(self._try_leaving, then))
        return choice is QMessageBox.StandardButton.Discard

    def _try_leaving(self, then: Then) -> None:
        self._leaving = then
        self._go_on_leaving()

    def _go_on_leaving(self) -> None:
        then, self._leaving = self._leaving, None
        if then is not None:
            self.settled.emit(asking.LEAVE)
            if self.leave(then):
                self._may_leave = True  # ``then`` asks again
                then()
                self._may_leave = False

    def _ask_leaving(self) -> None:
        save = self.care.save
        if self._leaving is not None and save is not None:
            self.asked.emit(
                asking.leaving(save.path, self._leave_at_once, self._leave_elsewhere, self._stay)
            )

    def _leave_at_once(self) -> None:
        """Go without waiting: the save is left to itself, the work to the next start."""
        self.care.leave_save()
        self.care.set_aside()
        then, self._leaving = self._leaving, None
        if then is not None:
            self._may_leave = self._keep = True
            then()
            self._may_leave = self._keep = False

    def _leave_elsewhere(self) -> None:
        then, self._leaving = self._leaving, None
        self.save_as(None if then is None else partial(self._try_leaving, then))

    def _stay(self) -> None:
        self._leaving = None
        self.settled.emit(asking.LEAVE)

    def end(self) -> None:
        """The window is closed, and the teacher has decided what becomes of unsaved work."""
        self._reading.stop()
        self.care.end(self._keep)

    def ask_unsaved(self) -> QMessageBox.StandardButton:
        """Ask what to do with unsaved work: Save, Discard or Cancel."""
        from chalkfret.desk.safety.unsaved import ask_unsaved

        return ask_unsaved(self._window)

    # What happened behind the window

    @Slot(object)
    def _file_seen(self, seen: Seen) -> None:
        if seen.digest is None:
            self.asked.emit(asking.vanished(seen.path, self.save, self.save_as))
        elif seen.digest != self._differing:  # else a save has found it, and asks about it
            self.asked.emit(asking.changed_behind(seen.path, self.load_again, self.save_as))

    @Slot(object)
    def _journal_troubled(self, found: Fault | None) -> None:
        from chalkfret.words.sentences import sentence

        if found is None:
            self.settled.emit(asking.JOURNAL)
        else:
            self.asked.emit(asking.journal_stopped(sentence(found), self.save))

    @Slot(object)
    def _version_not_kept(self, found: Fault) -> None:
        from chalkfret.words.sentences import sentence

        self._document.refused.emit(
            _("The lesson is saved, but its earlier version could not be kept. {reason}").format(
                reason=sentence(found)
            )
        )

    def stop_waiting(self) -> None:
        """Wait no more for what is being read or written."""
        self._reading.stop()
        self.care.leave_save()

    @Slot()
    def _tell_busy(self) -> None:
        save = self.care.save
        if save is not None:
            self.busy.emit(_("Saving {name} …").format(name=save.path.name))
        elif self._reading.path is not None:
            self.busy.emit(_("Opening {name} …").format(name=self._reading.path.name))
        else:
            self.busy.emit("")

    # Places

    def recent(self) -> Sequence[Path]:
        """Lessons that were open lately, the newest first, but those known to be gone."""
        return self.places.recent()

    def _remember(self, path: Path) -> None:
        self._settings.update(lambda value: with_recent(value, path.absolute()))
        self.places.is_there(path)

    def _folder(self) -> str:
        """Where a dialog begins: beside the lesson, where one was last chosen, or the documents.

        Not beside a lesson whose drive just keeps a save waiting: the dialog would wait, too.
        """
        path = self._document.path
        if path is not None and self.care.save is None:
            return str(path.parent)
        return str(self.places.folder() or documents_folder())

    def _filter(self) -> str:
        return _("Lessons") + f" (*{SUFFIX})"


def documents_folder() -> Path:
    """The user's folder for documents, or the home folder where there is none."""
    from PySide6.QtCore import QStandardPaths

    documents = QStandardPaths.StandardLocation.DocumentsLocation
    folder = Path(QStandardPaths.writableLocation(documents))
    return folder if folder.is_dir() else Path.home()
