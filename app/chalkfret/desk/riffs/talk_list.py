"""Talking points as a list under the grid, each to be said in the teacher's own words."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.lines_list import LinesList
from chalkfret.desk.pieces.prose import Prose
from chalkfret.desk.pieces.tools import tool
from chalkfret.edits.talking import set_talking_point
from chalkfret.model import TalkingPoint, limits
from chalkfret.words.talk.points import Point, State, points_of
from chalkfret.words.talk.text import marked_text, section_title, talk_text, video_text
from chalkfret.words.text import _, spoken

_PAUSE_MS = 500
_SHARE = 0.2  # of the window's height, for the list
_LINES_TYPED = 3  # of the box beside it


class TalkList(QWidget):
    """``open`` shows the points of the section one is in, Escape puts them away.

    They follow the lesson when the teacher pauses, never while a key is being pressed.
    """

    closed = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.found: tuple[Point, ...] = ()
        self.which = Choice(name=_("What the talking points are about"))
        self.which.chosen.connect(lambda _section: self.look_now())
        self.list = LinesList(look, _("Talking points"), most_share=_SHARE)
        self.list.currentRowChanged.connect(self._show_words)
        self.words = Prose(
            look,
            _("The talking point in your own words"),
            _("Empty: the program’s words."),
            most=limits.TEXT_MAX,
            most_lines=_LINES_TYPED,
        )
        self.list.itemActivated.connect(lambda _item: self.words.setFocus())
        self.words.typed.connect(self._write)
        self.keep = self._button(_("Still true"), self._keep)
        self.back = self._button(_("Program’s words"), lambda: self._write(""))
        self._arrange()
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(self.look_now)
        document.changed.connect(self._look_later)
        document.replaced.connect(self._look_later)
        document.section_changed.connect(self._follow_section)
        follow(self, look, self._dress)
        self.hide()

    def _button(self, text: str, run: Callable[[], object]) -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.clicked.connect(lambda: run())
        return button

    def _arrange(self) -> None:
        close = tool(self._look, "less", _("Close the talking points"), quiet=True)
        close.clicked.connect(self.put_away)
        copies = (
            self._button(_("Copy"), self.copy),
            self._button(_("Copy for the video"), self.copy_video),
        )
        self._top = QHBoxLayout()
        self._top.addWidget(FlowRow(self.which, *copies), 1)
        self._top.addWidget(close, 0, Qt.AlignmentFlag.AlignTop)
        buttons = FlowRow(self.keep, self.back, gap=8)
        self._right = QVBoxLayout()
        self._right.addWidget(self.words)
        self._right.addWidget(buttons)
        self._right.addStretch(1)
        self._row = QHBoxLayout()
        self._row.addWidget(self.list, 3, Qt.AlignmentFlag.AlignTop)
        self._row.addLayout(self._right, 2)
        self._column = QVBoxLayout(self)
        self._column.addLayout(self._top)
        self._column.addLayout(self._row)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(), unit(2), unit())
        for layout in (self._column, self._right):
            layout.setSpacing(unit(0.5))
        for row in (self._top, self._row):
            row.setSpacing(unit())
        self.list.fit()

    # Showing

    def open(self) -> None:
        """Show the points of the section one is in, with the focus in the list."""
        self.show()
        self._offer()
        self.which.show_value(self._document.lesson.sections[self._document.section].id)
        self.look_now()
        self.list.setFocus()

    def put_away(self) -> None:
        """Hide the list."""
        self._timer.stop()
        self.hide()
        self.closed.emit()

    def _offer(self) -> None:
        lesson = self._document.lesson
        ids = ["", *(section.id for section in lesson.sections)]
        self.which.set_choices(
            {
                one: _("Talking points: {title}").format(title=section_title(lesson, one or None))
                for one in ids
            }
        )
        if self.which.value not in ids:
            self.which.show_value(ids[0])

    def _follow_section(self, index: int) -> None:
        if self.isVisible() and self.which.value:  # who reads of the whole lesson stays there
            self._offer()
            self.which.show_value(self._document.lesson.sections[index].id)
            self._look_later()

    def _look_later(self) -> None:
        if self.isVisible():
            self._timer.start()

    def look_now(self) -> None:
        """List the points of the lesson as it is now."""
        self._timer.stop()
        self._offer()
        section = self.which.value or None
        self.found = points_of(self._document.lesson, section)
        self.list.show_lines(
            [
                _("{heading}: {sentences}").format(heading=one.heading, sentences=marked_text(one))
                for one in self.found
            ]
        )
        self._show_words()

    @property
    def _point(self) -> Point | None:
        row = self.list.currentRow()
        return self.found[row] if 0 <= row < len(self.found) else None

    def _show_words(self, _row: int = 0) -> None:
        point = self._point
        self.words.setEnabled(point is not None)
        self.words.show_text("" if point is None else point.text)
        self.keep.setVisible(point is not None and point.state is State.OUTDATED)
        self.back.setVisible(point is not None and point.state is not State.COMPUTED)

    # The teacher's own words

    def _write(self, text: str) -> None:
        point = self._point
        if point is None:
            return
        own = "" if text == point.computed else text
        said = TalkingPoint(
            kind=point.kind,
            language=spoken(),
            text=own,
            fingerprint="" if point.fact is None else point.fact.fingerprint,
            section=point.section,
        )
        self._document.attempt(
            _("Edit a talking point"),
            lambda lesson: set_talking_point(lesson, said),
            ("talking point", point.section, point.kind),
        )

    def _keep(self) -> None:
        if self._point is not None:
            self._write(self._point.text)

    # Copying

    def copy(self) -> None:
        """Copy what the list shows, as plain text."""
        if not self.isVisible():
            self._offer()
            self.which.show_value(self._document.lesson.sections[self._document.section].id)
        section = self.which.value or None
        QGuiApplication.clipboard().setText(talk_text(self._document.lesson, (section,)))
        self._document.said.emit(_("The talking points are copied."))

    def copy_video(self) -> None:
        """Copy the text to post under the video."""
        QGuiApplication.clipboard().setText(video_text(self._document.lesson))
        self._document.said.emit(_("The text under the video is copied."))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.put_away()
        else:
            super().keyPressEvent(event)
