"""The Hand-outs page: choices on one side, the files they come to on the other."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QStandardPaths, Qt, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.handouts_page.choices import Choices
from chalkfret.desk.handouts_page.files_list import FilesList
from chalkfret.desk.handouts_page.wishes import Wishes, outputs
from chalkfret.desk.look import Look
from chalkfret.desk.making import make_files
from chalkfret.desk.pieces.dress import follow, heading
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.saying import Saying
from chalkfret.desk.settings import Kept
from chalkfret.desk.work import Progress, Work
from chalkfret.files.export import Output, Result
from chalkfret.files.trouble import FileTrouble
from chalkfret.words.sentences import sentence
from chalkfret.words.text import N_, _, ngettext

_SIDE_UNITS = 42  # width of the choices
_WIDE_UNITS = 100  # from here on they stand beside the files
_STEM_MOST = 60  # letters of a title that become a file's name


class HandoutsPage(QScrollArea):
    """Makes files of the lesson as it is now, while the teacher goes on working."""

    place_changed = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._wishes = Kept("handouts.json", Wishes)
        self._outputs: tuple[Output, ...] = ()
        self._work: Work | None = None
        self._stale = True
        self.choices = Choices(look, self._wishes.value)
        self.files = FilesList(look)
        self.saying = Saying(look)
        self.make = QPushButton()
        self.make.setDefault(True)
        self.cancel = QPushButton(_("Cancel"))
        self.bar = QProgressBar()
        self.bar.setAccessibleName(_("Progress"))
        self._arrange()
        self._connect()
        self._show_working(False)
        follow(self, look, self._dress)

    def _arrange(self) -> None:
        self._main = QWidget()
        self._main.setProperty("ground", "surface")
        self._main_column = QVBoxLayout(self._main)
        title = heading(self._look, _("Files to hand out"))
        self.make.setProperty("main", True)
        buttons = FlowRow(self.make, self.cancel, gap=16)
        for widget in (title, self.bar, self.saying, buttons, self.files):
            self._main_column.addWidget(widget)
        self._main_column.setStretchFactor(self.files, 1)
        body = QWidget()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, body)
        self._columns.setContentsMargins(0, 0, 0, 0)
        self._columns.setSpacing(0)
        self._columns.addWidget(self.choices)
        self._columns.addWidget(self._main, 1)
        self.setWidget(body)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def _dress(self) -> None:
        unit = self._look.unit
        self._main_column.setContentsMargins(unit(2), unit(2), unit(2), unit(2))
        self._main_column.setSpacing(unit(2))
        self._turn()

    def _turn(self) -> None:
        wide = self.width() >= self._look.unit(_WIDE_UNITS)
        way = QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        self._columns.setDirection(way)
        side = max(self._look.unit(_SIDE_UNITS), self.choices.minimumSizeHint().width())
        self.choices.setMinimumWidth(side if wide else 0)
        self.choices.setMaximumWidth(side if wide else 16_777_215)

    def focusInEvent(self, event: QFocusEvent) -> None:
        # The page itself is no stop of Tab; who brings it to the front gets to its first task.
        super().focusInEvent(event)
        self.choices.sheet.setFocus(event.reason())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()

    def _connect(self) -> None:
        document = self._document
        document.changed.connect(self._lesson_changed)
        document.replaced.connect(self._lesson_changed)
        document.path_changed.connect(self._lesson_changed)
        self.choices.changed.connect(self._wish)
        self.choices.told.connect(self._enable)
        self.make.clicked.connect(self.make_files)
        self.cancel.clicked.connect(self.stop)
        self.files.told.connect(self.saying.say)

    def page_actions(self) -> tuple[Action, ...]:
        """What keys and menus do here."""
        return (
            Action("handouts_make", _("&Make the files"), ("Ctrl+Return",), N_("&Lesson"),
                   self.make_files, self._may_make, separated=True),
            Action("handouts_stop", _("Stop &making files"), ("Escape",), "", self.stop,
                   lambda: self._work is not None),
        )  # fmt: skip

    def _may_make(self) -> bool:
        refused = self.choices.is_refused
        return self.isVisible() and self._work is None and bool(self._outputs) and not refused

    def _enable(self) -> None:
        self.make.setEnabled(bool(self._outputs) and not self.choices.is_refused)

    # What will be made

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._plan()

    def _lesson_changed(self) -> None:
        self._stale = True
        if self.isVisible():
            self._plan()

    def _wish(self) -> None:
        error = self._wishes.update(lambda _before: self.choices.wishes)
        self._plan()
        if error is not None:
            words = _("What you chose holds until you quit, but could not be kept ({why}).")
            self.saying.say(words.format(why=error.strerror or error), True)

    def _plan(self) -> None:
        """Work out the files; while files are being made, their rows stay."""
        if self._work is not None:
            return
        self._stale = False
        document = self._document
        self.choices.show_lesson(document.lesson)
        folder = self._folder()
        self.choices.show_folder(folder)
        try:
            self._outputs = outputs(
                document.lesson,
                self._stem(),
                self.choices.wishes,
                self.choices.left,
                folder,
                document.path,
            )
        except FileTrouble as trouble:
            self._outputs = ()
            self.saying.say(" ".join(sentence(each) for each in trouble.faults), True)
        else:
            nothing = _("Choose what to make, and for whom: the files are listed here first.")
            self.saying.say("" if self._outputs else nothing)
        self.files.show_outputs(document.lesson, self._outputs)
        count = len(self._outputs)
        self.make.setText(
            ngettext("Make {count} file", "Make {count} files", count).format(count=count)
        )
        self._enable()

    def _stem(self) -> str:
        """What the files' names begin with: the lesson's file, or its title."""
        document = self._document
        if document.path is not None:
            return document.path.stem
        title = document.lesson.head.title[:_STEM_MOST]
        kept = "".join(letter if letter.isalnum() else "-" for letter in title)
        return "-".join(filter(None, kept.split("-"))) or "lesson"

    def _folder(self) -> Path:
        """Where the teacher said, else beside the lesson, else among the documents."""
        if self.choices.wishes.folder:
            return Path(self.choices.wishes.folder)
        if self._document.path is not None:
            return self._document.path.parent
        documents = QStandardPaths.StandardLocation.DocumentsLocation
        return Path(QStandardPaths.writableLocation(documents) or Path.home())

    # Making

    def make_files(self) -> None:
        """Make the listed files from the lesson as it is now."""
        if self._work is not None or self.choices.is_refused:
            return
        self._plan()
        if not self._outputs:
            return
        planned = self._outputs

        def task(progress: Progress) -> tuple[Result, ...]:
            return make_files(
                planned,
                lambda done, of, output: progress.report(done, of, str(output.path)),
                lambda: progress.cancelled,
            )

        work = self._work = Work(task)
        work.progressed.connect(self._show_step)
        work.finished.connect(self._show_results)
        work.failed.connect(self._show_failure)
        self.saying.say("")
        self._show_working(True)
        work.start()

    def stop(self) -> None:
        """Stop at once; the files that are made stay, and none is left half-made."""
        if self._work is not None:
            self._work.cancel()
            self.cancel.setEnabled(False)
            self.saying.say(_("Stopping …"))

    def _show_working(self, working: bool) -> None:
        self.bar.setVisible(working)
        self.cancel.setVisible(working)
        self.cancel.setEnabled(working)
        self.make.setVisible(not working)
        self.choices.setEnabled(not working)
        if working:
            self.bar.setRange(0, len(self._outputs))
            self.bar.setValue(0)
            self.cancel.setFocus(Qt.FocusReason.OtherFocusReason)

    def _show_step(self, done: int, of: int, path: str) -> None:
        name = Path(path).name
        if of == 1:  # nothing to count: the bar only says that it goes on
            self.bar.setRange(0, 0)
            self.saying.say(_("Making {file} …").format(file=name))
        else:
            self.bar.setRange(0, of)
            self.bar.setValue(done)
            words = _("{done} of {of}: {file}")
            self.bar.setFormat(words.format(done=done + 1, of=of, file=name))
        self.files.show_at_work(Path(path))

    def _show_results(self, results: Sequence[Result]) -> None:
        self._end_work()
        self.files.show_results(results)
        made = sum(not result.faults for result in results)
        words = ngettext("{count} file was made.", "{count} files were made.", made)
        text = words.format(count=made)
        wrong = len(results) - made
        left = len(self._outputs) - len(results)
        if wrong:
            more = ngettext("{count} could not be made.", "{count} could not be made.", wrong)
            text += " " + more.format(count=wrong)
        if left:
            more = ngettext("{count} was not made.", "{count} were not made.", left)
            text += " " + more.format(count=left)
        self.saying.say(text, wrong > 0)

    def _show_failure(self, _error: Exception) -> None:
        self._end_work()
        self.saying.say(_("No file could be made, by a fault of the program. Your lesson is as it "
                          "was; the menu Help says under “What went wrong” where the fault "
                          "lies."), True)  # fmt: skip

    def _end_work(self) -> None:
        self._work = None
        self._show_working(False)
        self.make.setFocus(Qt.FocusReason.OtherFocusReason)
