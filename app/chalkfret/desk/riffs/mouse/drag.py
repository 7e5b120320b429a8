"""A drag: from the press to the release, or to Escape; it ends in one edit or in none.

Conventions
-----------
- A drag is made when the button goes down, with all that it must know of the place; it is under
  way once the pointer has moved far enough that a shaking hand is not taken for one.
- ``move`` reckons what letting go would do, from the lesson of the press: nothing adds up on the
  way. The lesson is edited once, by ``end``, as one undo step.
- Where it cannot be done, ``refusal`` says why, nothing is shown but that, and ``end`` says it.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QPoint, QTimer, Signal
from PySide6.QtCore import Qt as _Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QApplication

from chalkfret.desk.document import Document
from chalkfret.edits import CannotEdit
from chalkfret.model import Lesson

Held = _Qt.KeyboardModifier
CTRL = _Qt.KeyboardModifier.ControlModifier
SHIFT = _Qt.KeyboardModifier.ShiftModifier
_SCROLL_MS = 30


class Drag:
    """What is dragged. Points are in the coordinates of what is painted, scrolling included."""

    shape = _Qt.CursorShape.ClosedHandCursor  # of the pointer, while it is under way
    scrolls_down = True  # whether the view goes along up and down too, not only across
    reach = 0  # pixels from which on it is one; 0: as far as the system asks for

    def __init__(self, document: Document) -> None:
        self._document = document
        self.lesson = document.lesson  # of the press
        self.preview: Lesson | None = None  # what letting go would make of it
        self.words = ""  # what letting go would do
        self.refusal = ""  # why it would do nothing
        self._text = ""

    def move(self, where: QPoint, held: Held) -> None:
        """The pointer is there now, with these keys held beside it."""
        raise NotImplementedError

    def propose(self, text: str, words: str, edit: Callable[[Lesson], Lesson]) -> None:
        """Letting go now would do this edit: ``text`` for the undo step, ``words`` for the foot."""
        self._text, self.words, self.refusal = text, words, ""
        try:
            self.preview = edit(self.lesson)
        except CannotEdit as cannot:
            from chalkfret.words.sentences import sentence

            self.refuse(sentence(cannot.fault))

    def refuse(self, why: str) -> None:
        """Letting go now would do nothing, and why."""
        self.preview, self.words, self.refusal = None, "", why

    def end(self) -> bool:
        """Let go; whether the lesson changed."""
        if self.refusal:
            self._document.refused.emit(self.refusal)
        if self.preview is None or self._document.lesson is not self.lesson:
            return False
        return self._document.apply(self._text, self.preview)

    def abandon(self) -> None:
        """Leave everything as it was before the press."""

    def paint(self, painter: QPainter) -> None:
        """Paint over everything what is dragged, and where it would go."""


class Hand(QObject):
    """The hand on the mouse over one widget: a press that becomes a click, a drag, or nothing."""

    changed = Signal()  # what is to be painted, or the pointer's shape
    hinted = Signal(str)  # what letting go would do; "" when it is over

    def __init__(self, parent: QObject, document: Document) -> None:
        super().__init__(parent)
        self.drag: Drag | None = None  # under way
        self._armed: Drag | None = None  # the button is down, and has not moved yet
        self._click: Callable[[], object] | None = None
        self._press = QPoint()
        self._scroll: Callable[[], object] | None = None
        self._scroller = QTimer(self)
        self._scroller.setInterval(_SCROLL_MS)
        self._scroller.timeout.connect(self._scroll_on)
        document.changed.connect(self._let_go)  # whoever changed the lesson, this is over
        document.replaced.connect(self._let_go)

    @property
    def is_down(self) -> bool:
        """Whether a press waits for its release."""
        return self.drag is not None or self._armed is not None or self._click is not None

    def press(
        self, where: QPoint, drag: Drag | None, click: Callable[[], object] | None = None
    ) -> None:
        """The button went down; ``click`` is done where it comes up without a drag."""
        self.abandon()
        self._press, self._armed, self._click = where, drag, click

    def move(self, where: QPoint, held: Held) -> None:
        """The pointer moved with the button down."""
        if self.drag is None:
            if self._armed is None:
                return
            reach = self._armed.reach or QApplication.startDragDistance()
            if (where - self._press).manhattanLength() < reach:
                return
            self.drag, self._armed, self._click = self._armed, None, None
        self.drag.move(where, held)
        self._tell()

    def hold(self, held: Held, where: QPoint) -> None:
        """Keys beside the button went down or up."""
        if self.drag is not None:
            self.drag.move(where, held)
            self._tell()

    def release(self) -> bool:
        """The button came up; whether the lesson changed."""
        drag, click = self.drag, self._click
        self._rest()
        done = False
        if drag is not None:
            done = drag.end()
            self._over()
        elif click is not None:
            click()
        return done

    def abandon(self) -> bool:
        """Escape, or the focus is lost: nothing happens. Whether there was anything to abandon."""
        was_down, drag = self.is_down, self.drag
        self._rest()
        if drag is not None:
            drag.abandon()
            self._over()
        return was_down

    def _let_go(self) -> None:
        """The lesson is another: nothing is to be given back, and the page says where it is."""
        was_under_way = self.drag is not None
        self._rest()
        if was_under_way:
            self.changed.emit()

    def scroll_by(self, scroll: Callable[[], object] | None) -> None:
        """Go on scrolling while the pointer stands still outside; None: it came back."""
        self._scroll = scroll
        if scroll is None or self.drag is None:
            self._scroller.stop()
        elif not self._scroller.isActive():
            self._scroller.start()

    def paint(self, painter: QPainter) -> None:
        """Paint the drag that is under way."""
        if self.drag is not None:
            self.drag.paint(painter)

    def _scroll_on(self) -> None:
        if self._scroll is not None:
            self._scroll()

    def _rest(self) -> None:
        self.drag = self._armed = self._click = None
        self.scroll_by(None)

    def _tell(self) -> None:
        if self.drag is not None:
            self.hinted.emit(self.drag.refusal or self.drag.words)
            self.changed.emit()

    def _over(self) -> None:
        self.hinted.emit("")
        self.changed.emit()
