"""Which guitar the page shows, and whether its strings are for all sections or for one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QVBoxLayout, QWidget

from chalkfret.desk.frame import PageWord
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.pieces.fields import Field, Unreadable, set_room
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.strings_page.words import section_words
from chalkfret.model import Lesson, Part, limits
from chalkfret.words.text import _


class PartsRow(QWidget):
    """The guitars as a row of words; the chosen one can be renamed here."""

    part_chosen = Signal(int)
    section_chosen = Signal(object)  # a section's id, None for all sections
    added = Signal()
    removed = Signal()
    renamed = Signal(object)
    retuning_dropped = Signal()
    told = Signal(str, bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._names: list[str] = []
        self._group = QButtonGroup(self)
        self._group.idClicked.connect(self.part_chosen)
        words = FlowRow(gap=0)
        self._words = words.flow
        self.add_part = tool(look, "add", _("Add a guitar"), _("Add a guitar"), quiet=True)
        self.add_part.setParent(words)  # it is placed when the page is first shown
        self.add_part.clicked.connect(self.added)
        self.name = Field(self._read_name, str)
        self.name.setAccessibleName(_("Name of this guitar"))
        self.name.typed.connect(self.renamed)
        self.name.told.connect(self.told)
        self.remove = tool(look, "remove", _("Remove this guitar and its notes"), quiet=True)
        self.remove.clicked.connect(self.removed)
        name_word = small(look, _("Name"))
        name_word.setWordWrap(False)
        name_of = FlowRow(name_word, self.name, self.remove)
        self.scope = Choice(name=_("Sections that these strings are for"))
        self.scope.chosen.connect(self.section_chosen)
        self.drop = tool(look, "remove", _("Back to this guitar's own strings in this section"))
        self.drop.clicked.connect(self.retuning_dropped)
        scope_name = small(look, _("Strung this way in"))
        scope_name.setWordWrap(False)
        self._scope = FlowRow(scope_name, self.scope, self.drop)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addWidget(words)
        self._column.addWidget(FlowRow(name_of, self._scope, gap=24))
        follow(self, look, self._dress)

    def show_lesson(self, lesson: Lesson, part: int, section: str | None) -> None:
        """Show the lesson's guitars with this one chosen, strung as in this section."""
        names = [one.name for one in lesson.parts]
        if names != self._names:
            self._names = names
            self._make_words(names)
        self._group.button(part).setChecked(True)
        here = lesson.parts[part]
        self.name.show_value(here.name)
        self.remove.setEnabled(len(lesson.parts) > 1)
        self.add_part.setEnabled(len(lesson.parts) < limits.PARTS_MAX)
        self.scope.set_choices(_scopes(lesson, here))
        self.scope.show_value(section)
        retuned = any(
            retune.part == here.id
            for one in lesson.sections
            if one.id == section
            for retune in one.head.retunes
        )
        self.drop.setVisible(retuned)

    def _make_words(self, names: Sequence[str]) -> None:
        for button in self._group.buttons():
            self._group.removeButton(button)
            button.hide()
            button.deleteLater()
        for index, name in enumerate(names):
            word = PageWord(self._look, name)
            word.setToolTip(_("Show the strings of {part}").format(part=name))
            self._group.addButton(word, index)
            self._words.addWidget(word)
        self._words.removeWidget(self.add_part)
        self._words.addWidget(self.add_part)
        before: QWidget = self.add_part
        for button in self._group.buttons():
            QWidget.setTabOrder(before, button)
            before = button
        QWidget.setTabOrder(before, self.add_part)

    def _read_name(self, text: str) -> str:
        name = text.strip()
        if not name:
            raise Unreadable(_("A guitar needs a name."), unfinished=True)
        if len(name) > limits.NAME_MAX:
            raise Unreadable(_("At most {most} letters.").format(most=limits.NAME_MAX))
        if name != self.name.value and name in self._names:
            raise Unreadable(_("Another guitar of the lesson has this name."))
        return name

    def _dress(self) -> None:
        set_room(self.name, "Rhythm guitar, low one")
        self._column.setSpacing(self._look.unit())


def _scopes(lesson: Lesson, part: Part) -> dict[str | None, str]:
    """All sections, and each section, marked where it has strings of its own for this part."""
    scopes: dict[str | None, str] = {None: _("all sections")}
    for section in lesson.sections:
        own = any(retune.part == part.id for retune in section.head.retunes)
        words = _("section {section} only").format(section=section_words(section))
        scopes[section.id] = words + (" · " + _("retuned") if own else "")
    return scopes
