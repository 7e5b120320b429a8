"""Names that are edited where they stand: the line over one, and the edit that keeps it."""

from __future__ import annotations

from PySide6.QtCore import QObject, QRect
from PySide6.QtWidgets import QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.riffs.mouse.rename import Named, NameEdit
from chalkfret.desk.riffs.panel.readers import read_letter, read_line
from chalkfret.edits import parts, sections
from chalkfret.words.text import _


def _read_part_name(text: str) -> str:
    typed = read_line()(text)
    if not typed:
        raise Unreadable(_("A guitar keeps a name: type one."))
    return typed


_READERS = {
    Named.LETTER: read_letter,
    Named.SECTION: read_line(),
    Named.PART: _read_part_name,
}


class Naming(QObject):
    """Opens the line over a name, one at a time, and keeps what is typed."""

    def __init__(self, home: QWidget, document: Document, back: QWidget) -> None:
        """``home`` holds the line; ``back`` has the keys again when it is closed."""
        super().__init__(home)
        self._home, self._document, self._back = home, document, back
        self.edit: NameEdit | None = None
        document.replaced.connect(self.close_now)

    def open(self, what: Named, index: int, over: QWidget, place: QRect) -> None:
        """Edit a name that stands in a place of a widget."""
        self.close_now()
        lesson = self._document.lesson
        if what is Named.PART:
            spoken, name = _("Name of the guitar"), lesson.parts[index].name
        else:
            head = lesson.sections[index].head
            spoken, name = _("Name of the section"), head.name
            if what is Named.LETTER:
                spoken, name = _("Letter of the section"), head.letter
        owner = lesson.parts[index].id if what is Named.PART else lesson.sections[index].id
        edit = NameEdit(self._home, over, place, name, lambda text: self._keep(what, owner, text))
        edit.closed.connect(self._closed)
        self.edit = edit
        edit.begin(spoken)

    def close_now(self) -> None:
        """Abandon the line that is open."""
        if self.edit is not None:
            self.edit.close_now()

    def _closed(self, had_keys: bool) -> None:
        self.edit = None
        if had_keys:
            self._back.setFocus()

    def _keep(self, what: Named, owner: str, name: str) -> bool:
        """Give the name to whose it is; whether it could be given."""
        try:
            read = _READERS[what](name)
        except Unreadable as trouble:
            self._document.refused.emit(trouble.sentence)
            return False
        if what is Named.PART:
            return self._keep_part(owner, read)
        return self._keep_section(owner, "letter" if what is Named.LETTER else "name", read)

    def _keep_part(self, owner: str, name: str) -> bool:
        document = self._document
        lesson = document.lesson
        index = next((i for i, one in enumerate(lesson.parts) if one.id == owner), None)
        if index is None:
            return True  # it went meanwhile
        text = _("Rename {part}").replace("{part}", lesson.parts[index].name)
        document.attempt(text, lambda one: parts.rename(one, index, name))
        return document.lesson.parts[index].name == name

    def _keep_section(self, owner: str, field: str, name: str) -> bool:
        document = self._document
        lesson = document.lesson
        index = next((i for i, one in enumerate(lesson.sections) if one.id == owner), None)
        if index is None:
            return True
        text = _("Rename section {section}").replace(
            "{section}", lesson.sections[index].head.letter
        )
        document.attempt(text, lambda one: sections.set_head(one, index, **{field: name}))
        return getattr(document.lesson.sections[index].head, field) == name
