"""Going to a bar or a section by what the teacher calls it: "12", "B", "B 12", "Chorus", "chor 3".

Read in this order: a section's letter; a bar of the section in which the cursor is; a letter or
a name with a bar. A name may be begun, or be any piece of one; the first that fits counts.
"""

from __future__ import annotations

import re

from msgspec import Struct
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.pieces.saying import Saying
from chalkfret.desk.riffs.strip_words import section_text
from chalkfret.model import Lesson
from chalkfret.words.text import _, ngettext

_WITH_BAR = re.compile(r"(.*?)[\s,.:]*(\d+)")


class Target(Struct, frozen=True):
    """Where to go: a section and a bar of it, both from 0."""

    section: int
    bar: int


def target_of(lesson: Lesson, text: str, here: int) -> Target:
    """The place that a text names; ``here`` is the section of the cursor.

    Raises Unreadable, with a sentence, where there is no such place.
    """
    text = " ".join(text.split())
    if not text:
        raise Unreadable(_("Type a bar, a section, or both: 12, B, B 12."), unfinished=True)
    section = _letter(lesson, text)
    if section is not None:
        return Target(section, 0)
    match = _WITH_BAR.fullmatch(text)
    if match is not None:
        name, bar = match[1], int(match[2])
        section = here if not name else _section(lesson, name)
        if section is not None:
            return _bar(lesson, section, bar)
    section = _name(lesson, text)
    if section is None:
        raise Unreadable(_("There is no section “{text}”.").format(text=text))
    return Target(section, 0)


def _section(lesson: Lesson, text: str) -> int | None:
    found = _letter(lesson, text)
    return _name(lesson, text) if found is None else found


def _letter(lesson: Lesson, text: str) -> int | None:
    letters = [section.head.letter for section in lesson.sections]
    if text in letters:
        return letters.index(text)
    folded = [letter.casefold() for letter in letters]
    return folded.index(text.casefold()) if text.casefold() in folded else None


def _name(lesson: Lesson, text: str) -> int | None:
    wanted = text.casefold()
    names = [section.head.name.casefold() for section in lesson.sections]
    for fits in (str.__eq__, str.startswith, str.__contains__):
        for index, name in enumerate(names):
            if name and fits(name, wanted):
                return index
    return None


def _bar(lesson: Lesson, section: int, bar: int) -> Target:
    head, count = lesson.sections[section].head, len(lesson.sections[section].bars)
    if 1 <= bar <= count:
        return Target(section, bar - 1)
    words = ngettext(
        "Section {letter} has {count} bar.", "Section {letter} has {count} bars.", count
    )
    raise Unreadable(words.format(letter=head.letter, count=count))


def target_words(lesson: Lesson, target: Target) -> str:
    """The place in words: ``B Attic, bar 12``."""
    section = section_text(lesson.sections[target.section])
    return _("{section}, bar {bar}").format(section=section, bar=target.bar + 1)


class GoToLine(QWidget):
    """The line in which the place is typed; Enter goes there, Escape goes back."""

    chosen = Signal(object)  # a Target
    left = Signal()

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self.line = QLineEdit()
        self.line.setAccessibleName(_("Go to a bar or section"))
        self.line.setPlaceholderText(_("12, B, B 12 or a name"))
        self.line.textEdited.connect(self._tell)
        self.line.returnPressed.connect(self._go)
        label = QLabel(_("&Go to"))
        label.setBuddy(self.line)
        self.saying = Saying(look, keeps_room=True)
        self._row = QHBoxLayout(self)
        self._row.addWidget(label)
        self._row.addWidget(self.line)
        self._row.addWidget(self.saying, 1)
        self.hide()
        follow(self, look, self._dress)

    def _dress(self) -> None:
        unit = self._look.unit
        self._row.setContentsMargins(unit(2), unit(0.5), unit(2), unit(0.5))
        self._row.setSpacing(unit())
        hint = self.line.fontMetrics().horizontalAdvance(self.line.placeholderText())
        self.line.setFixedWidth(max(unit(28), hint + unit(4)))

    def open(self) -> None:
        """Show the line, empty, with the focus in it."""
        self.line.clear()
        self.saying.say("")
        self.show()
        self.line.setFocus()

    def _target(self) -> Target:
        return target_of(self._document.lesson, self.line.text(), self._document.section)

    def _tell(self) -> None:
        """Say where Enter would lead, or quietly why it leads nowhere yet."""
        try:
            self.saying.say(target_words(self._document.lesson, self._target()))
        except Unreadable as trouble:
            self.saying.say(trouble.sentence)

    def _go(self) -> None:
        try:
            target = self._target()
        except Unreadable as trouble:
            self.saying.say(trouble.sentence, loud=True)
            self.line.selectAll()
            return
        self._put_away()
        self.chosen.emit(target)

    def _put_away(self) -> None:
        self.hide()
        self.left.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self._put_away()
        else:
            super().keyPressEvent(event)
