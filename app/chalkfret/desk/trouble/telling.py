"""Tells the teacher of something unexpected, in the window, and brings the lesson in safety first.

Equal errors are told once and counted: a widget that cannot paint itself raises with every frame.
One that comes back after a pause is told again, so that a button that fails never seems dead.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, Qt, QTimer, Slot

from chalkfret.desk.actions import Action
from chalkfret.desk.trouble.catching import before_telling, catcher
from chalkfret.words.text import N_, _, ngettext

if TYPE_CHECKING:
    from chalkfret.desk.trouble.bar import TroubleBar
    from chalkfret.desk.trouble.described import Place
    from chalkfret.desk.trouble.sheet import ReportSheet
    from chalkfret.desk.window import Window
    from chalkfret.desk.work import Progress

_PAUSE_MS: Final = 1000  # between two looks at what was caught meanwhile
_QUIET_S: Final = 5.0  # an error that was away for so long is told again


class Telling(QObject):
    """The part of a window that tells."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self._catcher = catcher()
        self._bar: TroubleBar | None = None
        self._sheet: ReportSheet | None = None
        self._told: dict[Place, float] = {}  # when each had happened last, at the last look
        self._is_telling = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._pause.timeout.connect(self._look_again)
        self._more = False
        if self._catcher is not None:
            # Queued: whatever raised is over by then, a painting above all.
            self._catcher.caught.connect(self._hear, Qt.ConnectionType.QueuedConnection)
        text = _("What went &wrong …")
        window.registry.add(
            window, (Action("trouble_report", text, menu=N_("Hel&p"), run=self.show_report),)
        )

    @property
    def bar(self) -> TroubleBar:
        """Where it is said, made when there is something to say."""
        from chalkfret.desk.trouble.bar import TroubleBar

        if self._bar is None:
            self._bar = TroubleBar(self._window.look)
            self._bar.copy_wished.connect(self.choose_copy)
            self._bar.report_wished.connect(self.show_report)
            self._bar.gone_on.connect(self._window.focus_page)
            self._window.put_above(self._bar)
        return self._bar

    @Slot()
    def _hear(self) -> None:
        if self._pause.isActive():
            self._more = True
        else:
            self._tell()

    @Slot()
    def _look_again(self) -> None:
        if self._more:
            self._tell()

    def _tell(self) -> None:
        """Say what was caught since the last time; what goes wrong here is kept, never told."""
        if self._is_telling or self._catcher is None:
            return
        self._is_telling, self._more = True, False
        self._pause.start()
        try:
            self._tell_all(self._brought_in_safety())
        except Exception as error:
            self._catcher.note("while telling", error, tell=False)
        finally:
            self._is_telling = False

    def _brought_in_safety(self) -> bool:
        good = True
        for bring in tuple(before_telling):
            try:
                bring()
            except Exception as error:
                good = False
                if self._catcher is not None:
                    self._catcher.note("bringing the lesson in safety", error, tell=False)
        return good

    def _tell_all(self, in_safety: bool) -> None:
        if self._catcher is None:
            return
        noted = dict(self._catcher.noted)
        fresh = [
            place
            for place, one in noted.items()
            if one.last - self._told.get(place, float("-inf")) > _QUIET_S
        ]
        self._told = {place: one.last for place, one in noted.items()}
        if not fresh and not (self._bar is not None and self._bar.isVisible()):
            return
        times = sum(one.count for one in noted.values()) + self._catcher.beyond
        self.bar.tell(_("Something went wrong"), self._words(in_safety, times))

    @staticmethod
    def _words(in_safety: bool, times: int) -> str:
        if in_safety:
            words = _(
                "That was the program’s fault, not yours. Your lesson is kept, as it was "
                "before. You can go on, or save a copy first."
            )
        else:
            words = _(
                "That was the program’s fault, not yours. Your lesson is still here, but could "
                "not be kept safe by itself: save a copy now."
            )
        if times > 1:
            counted = ngettext("It happened {count} time.", "It happened {count} times.", times)
            words += "\n" + counted.format(count=times)
        return words

    def tell_of_crash(self, trace: str) -> None:
        """Say that an earlier run crashed, and keep its trace for the report."""
        if trace and self._catcher is not None:
            self._catcher.crash = trace
            words = _(
                "It was closed by a fault of its own while it was running. The report says where "
                "in the program; it would help to mend it."
            )
            self.bar.tell(_("Chalkfret broke off the last time"), words)

    # What the teacher can do

    def show_report(self) -> None:
        """Show the whole report as it is by now."""
        from chalkfret.desk.trouble.catching import Catcher
        from chalkfret.desk.trouble.report import report
        from chalkfret.desk.trouble.sheet import ReportSheet

        if self._sheet is not None:
            self._sheet.close()
            self._sheet.deleteLater()
        text = report(self._catcher or Catcher())
        self._sheet = ReportSheet(text, self._window.look, self._window)
        self._sheet.show()

    def choose_copy(self) -> None:
        """Ask where to save a copy of the lesson; the lesson itself stays where it lies."""
        from PySide6.QtWidgets import QFileDialog

        from chalkfret.desk.lesson_files import SUFFIX, documents_folder

        path = self._window.document.path
        folder = documents_folder() if path is None else path.parent
        stem = _("Lesson") if path is None else path.stem
        suggested = folder / _("{name} copy").format(name=stem)
        chosen, _filter = QFileDialog.getSaveFileName(
            self._window, _("Save a copy"), f"{suggested}{SUFFIX}", f"*{SUFFIX}"
        )
        if chosen:
            self.save_copy(Path(chosen if chosen.endswith(SUFFIX) else chosen + SUFFIX))

    def save_copy(self, path: Path) -> None:
        """Save a copy there, beside the window's thread: the drive may be what went wrong."""
        from chalkfret.desk.work import Work
        from chalkfret.files.lesson_file import save

        lesson = self._window.document.lesson

        def task(_progress: Progress) -> str:
            save(lesson, path)
            return path.name

        work = Work(task)
        work.finished.connect(self._say_saved)
        work.failed.connect(self._say_not_saved)
        work.start()

    @Slot(object)
    def _say_saved(self, name: str) -> None:
        self.bar.say(_("A copy was saved as {name}.").format(name=name))

    @Slot(object)
    def _say_not_saved(self, error: Exception) -> None:
        from chalkfret.files.trouble import FileTrouble
        from chalkfret.words.sentences import sentence

        if isinstance(error, FileTrouble):
            words = " ".join(sentence(fault) for fault in error.faults)
        else:
            words = _("The copy could not be saved: the report says why.")
        self.bar.say(words, True)
