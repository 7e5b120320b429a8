"""What each guitar sounds in and is shaped as, and on demand the count of frets that proves it."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QSizePolicy, QToolButton, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import readable, small
from chalkfret.model import Lesson, Section, setup_in
from chalkfret.strings.retune import standard_of
from chalkfret.theory.shape_key import ShapeKey, shape_key
from chalkfret.theory.shapes import degrees_used
from chalkfret.words.names import proof_lines, shape_key_words, used_lines
from chalkfret.words.text import _


class ShapeLines(QObject):
    """A line a guitar, one for all where they say the same; a button shows the count.

    ``rows`` are its widgets, for the group that shows them.
    """

    def __init__(self, document: Document, look: Look, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._section: Section | None = None
        self.line = small(look)
        self.counted = readable(small(look))
        self.button = QToolButton()
        self.button.setProperty("quiet", True)
        self.button.setCheckable(True)
        self.button.setText(_("How it is counted"))
        self.button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.button.toggled.connect(self._opened)
        self.rows: tuple[QWidget, ...] = (self.line, self.button, self.counted)
        document.changed.connect(self._changed)

    def show_section(self, section: Section) -> None:
        """Show what holds for this section."""
        self._section = section
        lesson, found = self._document.lesson, self._found(section)
        self.line.setVisible(bool(found))
        self.button.setVisible(bool(found))
        self.counted.setVisible(bool(found) and self.button.isChecked())
        naming = lesson.head.note_naming
        words = {index: shape_key_words(one, naming) for index, one in found.items()}
        self.line.setText("\n".join(_named(lesson, words)))
        proof = {index: "\n".join(proof_lines(one, naming)) for index, one in found.items()}
        self.line.setToolTip("\n".join(_named(lesson, proof)))
        if self.button.isChecked():
            self._show_count(section, proof)

    def _found(self, section: Section) -> dict[int, ShapeKey]:
        parts = self._document.lesson.parts
        found = {
            index: shape_key(section, part, index, standard_of(setup_in(section, part)))
            for index, part in enumerate(parts)
        }
        return {index: one for index, one in found.items() if one is not None}

    def _show_count(self, section: Section, proof: dict[int, str]) -> None:
        lesson, key = self._document.lesson, section.head.key
        if key is None:
            return
        texts = {}
        for index, text in proof.items():
            used = degrees_used(section, lesson.parts[index], index)
            lines = used_lines(used, key, lesson.head.note_naming, lesson.head.simple_names)
            texts[index] = "\n".join((text, *lines))
        self.counted.setText("\n\n".join(_named(lesson, texts)))

    def _opened(self) -> None:
        if self._section is not None:
            self.show_section(self._section)

    def _changed(self, _before: Lesson, after: Lesson) -> None:
        """The panel shows a head that changes; here it is the notes that may."""
        section = after.sections[self._document.section]
        known = self._section
        if known is None or (section.head is known.head and section.bars is not known.bars):
            self.show_section(section)


def _named(lesson: Lesson, words: dict[int, str]) -> list[str]:
    """The words of each guitar under its name; without names where all say the same."""
    if len(set(words.values())) < 2:
        return list(words.values())[:1]
    return [
        _("{part}: {words}").format(part=lesson.parts[index].name, words=text)
        for index, text in words.items()
    ]
