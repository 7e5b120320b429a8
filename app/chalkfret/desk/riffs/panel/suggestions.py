"""Tonics and scales that the notes suggest: looked for when the teacher pauses, taken by a key.

The first one stands with its reasons, the others have theirs in the tooltip. Nothing is looked for
while a key is being pressed, nor while the panel cannot be seen.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.model import Key
from chalkfret.theory.mode_finding.candidates import Finding
from chalkfret.theory.mode_finding.section import as_chosen, found_in
from chalkfret.words.music import key_words
from chalkfret.words.reasons import reasons_words, tie_words
from chalkfret.words.text import _

_PAUSE_MS = 400
_SHOWN = 3


class Suggestions(QWidget):
    """A button for each of the first three candidates; ``take`` sets a key in the lesson."""

    def __init__(self, document: Document, look: Look, take: Callable[[Key], object]) -> None:
        super().__init__()
        self._document, self._look, self._take = document, look, take
        self._shown: object = None
        self.buttons = tuple(self._button(at) for at in range(_SHOWN))
        self.reasons = small(look)
        self.tie = small(look)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.buttons[0], self.reasons, *self.buttons[1:], self.tie):
            self._column.addWidget(widget)
        self._nothing = small(look, _("too few notes yet"))
        self._column.addWidget(self._nothing)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._timer.timeout.connect(self.look_now)
        document.changed.connect(self.look_later)
        document.replaced.connect(self._forget)
        document.section_changed.connect(self.look_later)
        follow(self, look, self._dress)
        self._show(Finding())

    def _button(self, at: int) -> QToolButton:
        button = QToolButton()
        button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        button.clicked.connect(partial(self._choose, at))
        return button

    # Finding

    def look_later(self) -> None:
        """Look again when nothing changed for a while."""
        if self.isVisible():
            self._timer.start()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._timer.start()

    def _forget(self) -> None:
        """Another lesson: what was found in the last one must not be taken for it."""
        self._shown = None
        self._show(Finding())
        self.look_later()

    def look_now(self) -> None:
        """Show what the notes of the section suggest now."""
        self._timer.stop()
        found = self._found()
        seen = (found, self._key, self._document.lesson.head.note_naming)
        if seen != self._shown:
            self._shown = seen
            self._show(found)

    def _found(self) -> Finding:
        lesson = self._document.lesson
        return found_in(lesson.sections[self._document.section], lesson.parts)

    @property
    def _key(self) -> Key | None:
        return self._document.lesson.sections[self._document.section].head.key

    def _keys(self, found: Finding) -> list[Key]:
        return [as_chosen(one.key, self._key) for one in found.candidates[:_SHOWN]]

    # Showing and taking

    def _show(self, found: Finding) -> None:
        naming, keys = self._document.lesson.head.note_naming, self._keys(found)
        for at, button in enumerate(self.buttons):
            button.setVisible(at < len(keys))
            if at < len(keys):
                words = key_words(keys[at], naming)
                why = "\n".join(reasons_words(found.candidates[at], naming))
                button.setText(words)
                button.setToolTip(why)
                button.setAccessibleName(_("Take {key}").format(key=words))
                button.setAccessibleDescription(why)
                button.setEnabled(keys[at] != self._key)
        first = found.candidates[:1]
        self.reasons.setText("\n".join(why for one in first for why in reasons_words(one, naming)))
        self.reasons.setVisible(bool(first))
        self.tie.setText(tie_words(found))
        self.tie.setVisible(bool(found.tied))
        self._nothing.setVisible(not first)

    def take_first(self) -> None:
        """Take what the notes of now suggest first."""
        self.look_now()
        keys = self._keys(self._found())
        if not keys:
            self._document.refused.emit(_("There are too few notes to find a tonic and scale."))
        elif keys[0] == self._key:
            self._document.said.emit(_("The section has the tonic and scale of its notes already."))
        else:
            self._take(keys[0])
            self.look_now()

    def _choose(self, at: int) -> None:
        keys = self._keys(self._found())
        if at < len(keys):
            self._take(keys[at])
            self.look_now()

    def _dress(self) -> None:
        self._column.setSpacing(self._look.unit(0.5))
        for button in self.buttons:
            button.setFont(self._look.font())
