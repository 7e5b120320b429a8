"""Fields that read what is typed into a value, and never throw typed text away.

A field shows a value. As one types, text that can be read becomes a new value at once; text that
cannot stays as it was typed, the field says why, and what held before the typing holds again.
Enter and leaving write the value as it is usually written, and that is the end of the typing;
Escape goes back to what held before it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ClassVar, cast

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QLineEdit

from chalkfret.desk.writing import Writing


class Unreadable(ValueError):
    """What a reader raises for text it cannot read: a sentence that says why.

    ``unfinished`` where more typing may mend it, so that nobody is told off in mid-word.
    """

    def __init__(self, sentence: str, unfinished: bool = False) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.unfinished = unfinished


class Field(QLineEdit):
    """A line that is read by ``read`` and written by ``write``.

    ``step`` gives the value so many steps up or down for the Up and Down keys.
    """

    typed = Signal(object)  # a new value that was read
    told = Signal(str, bool)  # why the text is not taken ("": it is); True: read this
    _speaking: ClassVar[Field | None] = None

    def __init__(
        self,
        read: Callable[[str], Any],
        write: Callable[[Any], str],
        step: Callable[[Any, int], Any] | None = None,
    ) -> None:
        super().__init__()
        self._read = read
        self._write = write
        self._step = step
        self._value: Any = None
        self._before: Any = None
        self._origin: Any = None  # what held when the typing began
        self._writing: Writing | None = None  # while it lasts
        self._trouble: Unreadable | None = None
        self.textEdited.connect(self._take)
        self.editingFinished.connect(self._finish)

    def setPlaceholderText(self, text: str) -> None:
        """Show a hint while the field is empty; where it is cut, it can be read as a tip."""
        super().setPlaceholderText(text)
        self.setToolTip(text)

    @property
    def value(self) -> Any:
        """The value that holds."""
        return self._value

    @property
    def is_refused(self) -> bool:
        """Whether the text in the field could not be read."""
        return self._trouble is not None

    def show_value(self, value: Any) -> None:
        """Show the value that holds now, but leave alone what is being typed, or was refused."""
        came_from_here = value == self._value
        self._value = value
        if came_from_here and (self.hasFocus() or self.is_refused):
            return
        self._settle()

    def show_anew(self, value: Any) -> None:
        """Show the value of another thing: what was typed, or refused, was for the last one."""
        self._value = value
        self._settle()

    @staticmethod
    def speaking() -> Field | None:
        """The field whose ``typed`` is being heard, to ``refuse`` it where it was typed."""
        return Field._speaking

    def refuse(self, sentence: str) -> None:
        """Say why the value that was typed is not taken, and keep the text."""
        self._value = self._before
        self._set_trouble(Unreadable(sentence))
        self._take_back()

    def _take_back(self) -> None:
        """Let hold again what held before the typing began."""
        if self._writing is None or self._value == self._origin:
            return
        self._before, self._value = self._value, self._origin
        if not self._writing.take_back():
            self._send()

    def _settle(self) -> None:
        self._writing = None
        text = self._write(self._value)
        if text != self.text():
            self.setText(text)
            if not self.hasFocus():
                self.setCursorPosition(0)  # of a long text the beginning is seen
        self._set_trouble(None)

    def _take(self, text: str) -> None:
        if self._writing is None:
            self._writing, self._origin = Writing(), self._value
        try:
            value = self._read(text)
        except Unreadable as trouble:
            self._set_trouble(trouble)
            self._take_back()
            return
        self._set_trouble(None)
        with self._writing.at_work():
            self._change(value)

    def _change(self, value: Any) -> None:
        if value == self._value:
            return
        self._before, self._value = self._value, value
        self._send()

    def _send(self) -> None:
        Field._speaking = self
        try:
            self.typed.emit(self._value)
        finally:
            Field._speaking = None

    def _finish(self) -> None:
        if self._trouble is None:
            self._settle()
        else:
            self._set_trouble(Unreadable(self._trouble.sentence))

    def _set_trouble(self, trouble: Unreadable | None) -> None:
        had = self._trouble
        self._trouble = trouble
        loud = trouble is not None and not trouble.unfinished
        if bool(self.property("refused")) != loud:
            self.setProperty("refused", loud)
            self.style().unpolish(self)
            self.style().polish(self)
        if trouble is not None or had is not None:
            self.told.emit("" if trouble is None else trouble.sentence, loud)
            self.setAccessibleDescription("" if trouble is None else trouble.sentence)

    def event(self, event: QEvent) -> bool:
        # Undo is the lesson's, from wherever it is pressed; only text that was not taken, and so
        # is no step of the lesson's, is undone in the field.
        if event.type() == QEvent.Type.ShortcutOverride:
            key_event = cast(QKeyEvent, event)
            if self._takes_back(key_event):
                event.accept()
                return True
            if self._trouble is not None:
                return super().event(event)
            for key in (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo):
                if key_event.matches(key):
                    event.ignore()
                    return True
        return super().event(event)

    def _takes_back(self, event: QKeyEvent) -> bool:
        """Whether this is the Escape that belongs to the field, and to no action of the page."""
        return event.key() == Qt.Key.Key_Escape and self._is_other()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if self._takes_back(event):
            self._take_back()
            self._settle()
            return
        if self._step is not None and key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self.nudge(1 if key == Qt.Key.Key_Up else -1)
            return
        super().keyPressEvent(event)

    def _is_other(self) -> bool:
        """Whether what was typed differs from what held before."""
        typing = self._writing is not None and self._value != self._origin
        return typing or self.text() != self._write(self._value)

    def nudge(self, steps: int) -> None:
        """Go so many steps up (or down), as the Up key does."""
        if self._step is None:
            return
        self._set_trouble(None)
        self._writing = None
        self._change(self._step(self._value, steps))
        if not self.is_refused:
            self._settle()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()


def set_room(field: QLineEdit, widest: str) -> None:
    """Make the field just wide enough for this text, and for its hint, in the font of now."""
    metrics = field.fontMetrics()
    margins = field.sizeHint().width() - metrics.horizontalAdvance("x") * 17  # Qt's hint is 17 x
    room = max(map(metrics.horizontalAdvance, (widest, field.placeholderText())))
    field.setFixedWidth(room + max(margins, metrics.height()))
