"""The teacher's notes on the section, and what its sheet shows beside the tab."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtWidgets import QCheckBox

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.prose import Prose
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.model import Section, limits
from chalkfret.words.text import _


class NotesGroup(SectionGroup):
    """What the teacher wants to say about the section."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__(document, look, _("Teacher’s notes"))
        hint = _("What to watch, how to practise it. **Bold**, lists and links are printed so.")
        self.notes = Prose(look, _("Teacher’s notes"), hint, most=limits.TEXT_MAX)
        self.notes.typed.connect(lambda text: self._set(_("the notes"), notes=text))
        self.add_wide(self.notes)

    def show_section(self, section: Section) -> None:
        self.title.setText(
            _("Teacher’s notes, section {letter}").format(letter=section.head.letter)
        )
        self.notes.show_text(section.head.notes)


class ShowGroup(SectionGroup):
    """What the section's sheet shows."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__(document, look, _("On the sheet"))
        self.boxes: dict[str, QCheckBox] = {}
        for name, words in (("degrees", _("Degrees under the tab")),):
            box = QCheckBox(words)
            box.clicked.connect(lambda on, name=name: self._show(name, on))
            self.boxes[name] = box
            self.add_wide(box)

    def show_section(self, section: Section) -> None:
        for name, box in self.boxes.items():
            box.setChecked(getattr(section.head.show, name))

    def _show(self, name: str, on: bool) -> None:
        show = replace(self.section.head.show, **{name: on})
        self._set(_("what its sheet shows"), show=show)
