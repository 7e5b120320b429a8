"""Unsaved work of windows that did not end well: listed, compared with the file, and decided on.

Nothing is thrown away before the teacher said so, and even then it goes to the earlier versions of
its file. What nobody decided on is offered again at the next start.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QDateTime, QLocale, QObject, Signal, Slot

from chalkfret.desk.document import Document
from chalkfret.desk.lesson_files import LessonFiles
from chalkfret.desk.safety.asked import Asked, Choice, Entry
from chalkfret.desk.safety.reading import trouble_sentences
from chalkfret.desk.work import Progress, Work
from chalkfret.files.backups import keep_version
from chalkfret.files.disk import Disk
from chalkfret.files.journal import digest
from chalkfret.files.keeper import Journal
from chalkfret.files.lesson_file import loads, read_bytes
from chalkfret.files.sessions import Lost, lost_work
from chalkfret.files.trouble import CannotRead, FileTrouble
from chalkfret.model import Lesson
from chalkfret.model.lesson_differences import differences
from chalkfret.model.start import new_lesson
from chalkfret.words.lesson_differences import difference_sentences
from chalkfret.words.text import _, ngettext

KEY = "lost"


class Beside(NamedTuple):
    """Lost work beside the file it belongs to, as that is now."""

    lost: Lost
    saved: Lesson | None = None  # the lesson in the file, where there is one
    lines: tuple[str, ...] = ()
    is_saved: bool = False  # the file holds all of it
    ready: bool = False  # the file has been looked at


class Recovering(QObject):
    """Offers what was lost. ``asked`` carries the question; ``settled`` says that it is none."""

    asked = Signal(object)
    settled = Signal(str)
    said = Signal(str)
    refused = Signal(str)

    def __init__(self, document: Document, files: LessonFiles, parent: QObject) -> None:
        super().__init__(parent)
        self._document, self._files = document, files
        self._found: dict[Path, Beside] = files.care.lost
        self._wished = False

    def look(self, wished: bool = False) -> None:
        """Look for lost work; say so where there is none, if the teacher ``wished`` to know."""
        self._wished = wished
        if self._found:
            self._show()
            return
        care = self._files.care
        work = Work(partial(_lost, care.state, care.journal.folder, care.disk))
        work.finished.connect(self._take_found)
        work.failed.connect(self._failed)
        work.start()

    @Slot(object)
    def _take_found(self, found: tuple[Lost, ...]) -> None:
        if not found and self._wished:
            self.said.emit(_("There is no unsaved work to take up."))
        for lost in found:
            self._found[lost.folder] = Beside(lost)
            # Each by itself: the drive of one that does not answer keeps no other waiting.
            work = Work(partial(_beside, lost, self._files.care.disk))
            work.finished.connect(self._compared)
            work.start()
            work.leave()  # nor does the end of the program
        if any(lost.path is None for lost in found):
            self._show()

    @Slot(object)
    def _compared(self, beside: Beside) -> None:
        folder = beside.lost.folder
        if folder not in self._found:
            return
        if beside.is_saved:
            self._forget(beside.lost)
            self._run(partial(_removed, beside.lost, self._files.care.disk))
        else:
            self._found[folder] = beside
        self._show()

    @Slot(object)
    def _failed(self, error: Exception) -> None:
        self.refused.emit(
            _("It could not be found out whether work was lost. {reason}").format(
                reason=trouble_sentences(error)[0]
            )
        )

    # The question

    def _show(self) -> None:
        entries = [self._entry(beside) for beside in self._found.values() if beside.ready]
        if not entries:
            self.settled.emit(KEY)
            return
        heading = ngettext(
            "{count} lesson has work that was not saved when the program ended",
            "{count} lessons have work that was not saved when the program ended",
            len(entries),
        ).format(count=len(entries))
        self.asked.emit(Asked(KEY, heading, entries, _("Later"), self.later))

    def _entry(self, beside: Beside) -> Entry:
        lost = beside.lost
        title = _("Left at {time}: {name}").format(time=said_time(lost.at), name=_name(lost))
        if lost.lesson is None:
            choices: tuple[Choice, ...] = (
                Choice(_("Throw it away"), partial(self._throw_away, lost), stays=True),
            )
        else:
            keep = _("Keep the saved one") if beside.saved is not None else _("Let it go")
            choices = (
                Choice(_("Take it up"), partial(self._take, beside), stays=True),
                Choice(_("Look at it as a copy"), partial(self._look_at, lost.lesson), stays=True),
                Choice(keep, partial(self._let_go, lost), stays=True),
            )
        return Entry(title, beside.lines, choices)

    def later(self) -> None:
        """Leave all of it to the next start, or to the action that looks again."""
        for beside in tuple(self._found.values()):
            self._forget(beside.lost)
            beside.lost.release(self._files.care.disk)

    def _forget(self, lost: Lost) -> None:
        self._found.pop(lost.folder, None)

    # What can be done with it

    def _look_at(self, lesson: Lesson) -> None:
        self._files.show_copy(lesson)

    def _take(self, beside: Beside) -> None:
        then = partial(self._take_now, beside)
        if self._files.leave(then):
            then()

    def _take_now(self, beside: Beside) -> None:
        lost = beside.lost
        if lost.lesson is None or lost.folder not in self._found:
            return
        self._forget(lost)
        base = beside.saved or new_lesson()
        self._files.show_unsaved(base, lost.lesson, lost.path, lost.saved)
        # Only when the work is in this window's own journal does that of the lost one go.
        care = self._files.care
        self._run(partial(_taken, lost, care.journal, care.disk))
        self._show()

    def _let_go(self, lost: Lost) -> None:
        self._forget(lost)
        care = self._files.care
        self._run(partial(_let_go, lost, care.state, care.disk))
        self.said.emit(_("It lies among the earlier versions, should you want it after all."))
        self._show()

    def _throw_away(self, lost: Lost) -> None:
        self._forget(lost)
        self._run(partial(_removed, lost, self._files.care.disk))
        self._show()

    def _run(self, task) -> None:
        work = Work(task)
        work.failed.connect(self._not_done)
        work.start()

    @Slot(object)
    def _not_done(self, error: Exception) -> None:
        reason = error.strerror if isinstance(error, OSError) else type(error).__name__
        self.refused.emit(
            _("The unsaved work stays where it was: {reason}. It is offered again.").format(
                reason=reason
            )
        )


def said_time(at: float) -> str:
    """A moment as the user's language writes it."""
    form = QLocale.FormatType.ShortFormat
    return QLocale().toString(QDateTime.fromSecsSinceEpoch(int(at)), form)


def _name(lost: Lost) -> str:
    if lost.path is not None:
        return lost.path.name
    title = "" if lost.lesson is None else lost.lesson.head.title.strip()
    return title or _("a lesson without a name")


def _extent(lesson: Lesson) -> str:
    bars = [bar for section in lesson.sections for bar in section.bars]
    return _("Guitars: {guitars}, sections: {sections}, bars: {bars}, notes: {notes}.").format(
        guitars=len(lesson.parts),
        sections=len(lesson.sections),
        bars=len(bars),
        notes=sum(len(notes) for bar in bars for notes in bar.notes),
    )


# In threads


def _lost(state: Path, own: Path | None, disk: Disk, _progress: Progress) -> tuple[Lost, ...]:
    try:
        return lost_work(state, own, disk)
    except OSError as error:
        from chalkfret.files.trouble import system_fault

        raise CannotRead(system_fault(error, state)) from error


def _beside(lost: Lost, disk: Disk, _progress: Progress) -> Beside:
    """Lost work compared with its file."""
    from chalkfret.words.sentences import sentence

    if lost.lesson is None:
        return Beside(lost, lines=tuple(sentence(one) for one in lost.faults), ready=True)
    if lost.path is None:
        return Beside(lost, lines=(_("It was never saved."), _extent(lost.lesson)), ready=True)
    try:
        data = read_bytes(lost.path, disk)
        saved = loads(data)
    except FileTrouble as trouble:
        lines = (_("Its saved file cannot be read now:"), *trouble_sentences(trouble))
        return Beside(lost, lines=lines, ready=True)
    if data == lost.data:
        return Beside(lost, saved, is_saved=True, ready=True)
    lines = difference_sentences(differences(saved, lost.lesson))
    if lost.saved is not None and digest(data) != lost.saved:
        lines = (_("The saved file was changed since by another program or window."), *lines)
    return Beside(lost, saved, lines, ready=True)


def _taken(lost: Lost, journal: Journal, disk: Disk, _progress: Progress) -> None:
    if journal.flush():
        _removed(lost, disk, _progress)
    else:
        lost.release(disk)


def _let_go(lost: Lost, state: Path, disk: Disk, _progress: Progress) -> None:
    try:
        keep_version(state, lost.path, lost.data, lost.at, disk)
        lost.remove(disk)
    except BaseException:
        lost.release(disk)
        raise


def _removed(lost: Lost, disk: Disk, _progress: Progress) -> None:
    try:
        lost.remove(disk)
    except BaseException:
        lost.release(disk)
        raise
