"""The choices of the Hand-outs page: what, for whom, how fast, where."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from msgspec.structs import replace
from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from chalkfret.desk.handouts_page.readers import read_folder, read_speeds, write_speeds
from chalkfret.desk.handouts_page.wishes import Left, Wishes
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.form import Group
from chalkfret.desk.pieces.numbers import stepper_within, whole
from chalkfret.desk.pieces.stepper import Stepper
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.sheet_page.words_panel import PAPERS
from chalkfret.files.export import COUNT_IN_MAX, Click
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _, said

_CLICKS = {
    Click.WITH: N_("Preview with click (MIDI)"),
    Click.WITHOUT: N_("Preview without click (MIDI)"),
    Click.ONLY: N_("Click alone (MIDI)"),
}
_DIVISIONS = {
    "whole": N_("The whole lesson"),
    "each_section": N_("Each section"),
    "each_part": N_("Each part"),
    "each_both": N_("Each part of each section"),
}


class Picks(FlowRow):
    """A row of boxes to tick, one for each of some things of the lesson."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__(gap=12)
        self._boxes: dict[str, QCheckBox] = {}

    def show_things(self, things: Sequence[tuple[str, str]]) -> None:
        """Offer these (id and name), ticked unless they were unticked before."""
        if [(key, box.text()) for key, box in self._boxes.items()] == list(things):
            return
        left = self.left
        for box in self._boxes.values():
            box.hide()
            box.deleteLater()
        self._boxes = {}
        for key, name in things:
            box = self._boxes[key] = QCheckBox(name.replace("&", "&&"))
            box.setChecked(key not in left)
            box.clicked.connect(self.changed)
            self.flow.addWidget(box)

    @property
    def left(self) -> frozenset[str]:
        """The ids of those that are not ticked."""
        return frozenset(key for key, box in self._boxes.items() if not box.isChecked())


class Choices(QWidget):
    """Sends ``changed`` whenever ``wishes`` or ``left`` are others, ``told`` with its fields."""

    changed = Signal()
    told = Signal()  # a field has something to say, or no more

    def __init__(self, look: Look, wishes: Wishes) -> None:
        super().__init__()
        self._look = look
        self.wishes = wishes
        self.setProperty("ground", "panel")
        self._column = QVBoxLayout(self)
        for group in (self._what(), self._for_whom(), self._playing(), self._where()):
            self._column.addWidget(group)
        self._column.addStretch(1)
        self._enable()
        follow(self, look, self._dress)

    @property
    def left(self) -> Left:
        """What is left out of the files for each section and part."""
        return Left(self.sections.left, self.parts.left)

    @property
    def is_refused(self) -> bool:
        """Whether something is typed that is not taken: then the files are not what it says."""
        return any(one.is_refused for one in (self.speeds, self.count_in.field, self.folder))

    def show_lesson(self, lesson: Lesson) -> None:
        """Offer this lesson's sections and parts."""
        self.sections.show_things(
            [(one.id, f"{one.head.letter}  {one.head.name}".rstrip()) for one in lesson.sections]
        )
        self.parts.show_things([(one.id, one.name) for one in lesson.parts])

    def show_folder(self, folder: Path) -> None:
        """Show where the files go."""
        self.folder.show_value(folder)

    def _what(self) -> Group:
        group = Group(self._look, _("What"))
        self.sheet = self._box(_("Sheet (PDF)"), "sheet")
        group.add_wide(self.sheet)
        self.text = self._box(_("Tab as plain text"), "text")
        group.add_wide(self.text)
        self.talk = self._box(_("Talking points"), "talk")
        group.add_wide(self.talk)
        self.post = self._box(_("Text under the video"), "post")
        group.add_wide(self.post)
        self.clicks: dict[Click, QCheckBox] = {}
        for click, words in said(_CLICKS).items():
            box = self.clicks[click] = QCheckBox(words)
            box.setChecked(click in self.wishes.clicks)
            box.clicked.connect(self._take_clicks)
            group.add_wide(box)
        self.paper = Choice(
            {None: _("as the lesson says"), **said(PAPERS)}, _("Paper of the sheets")
        )
        self.paper.show_value(self.wishes.paper)
        self.paper.chosen.connect(lambda paper: self._wish(paper=paper))
        group.add(_("Paper"), self.paper)
        return group

    def _for_whom(self) -> Group:
        group = Group(self._look, _("A file for"))
        self.divisions = {key: self._box(words, key) for key, words in said(_DIVISIONS).items()}
        for box in self.divisions.values():
            group.add_wide(box)
        self.sections, self.parts = Picks(), Picks()
        self.sections_group = Group(self._look, _("Sections"))
        self.parts_group = Group(self._look, _("Parts"))
        for picks, inner in ((self.sections, self.sections_group), (self.parts, self.parts_group)):
            picks.changed.connect(self.changed)
            inner.add_wide(picks)
            group.add_wide(inner)
        return group

    def _playing(self) -> Group:
        group = self._previews = Group(self._look, _("Previews"))
        self.speeds = Field(read_speeds, write_speeds)
        self.speeds.setAccessibleName(_("Speeds in percent"))
        self.speeds.show_value(self.wishes.speeds)
        self.speeds.typed.connect(lambda speeds: self._wish(speeds=speeds))
        self.count_in = Stepper(
            self._look,
            _("Count-in, bars"),
            whole(0, COUNT_IN_MAX, _("A count-in has 0 to 8 bars.")),
            str,
            stepper_within(0, COUNT_IN_MAX),
            "8",
        )
        self.count_in.show_value(self.wishes.count_in)
        self.count_in.typed.connect(lambda bars: self._wish(count_in=bars))
        for field in (self.speeds, self.count_in.field):
            group.hear(field)
            field.told.connect(lambda *_told: self.told.emit())
        group.add(_("Speeds, %"), self.speeds)
        group.add(_("Count-in, bars"), self.count_in)
        return group

    def _where(self) -> Group:
        group = Group(self._look, _("Where"))
        self.folder = Field(read_folder, str)
        self.folder.setAccessibleName(_("Folder of the files"))
        self.folder.typed.connect(lambda folder: self._wish(folder=str(folder)))
        group.hear(self.folder)
        self.folder.told.connect(lambda *_told: self.told.emit())
        self.choose = tool(self._look, "folder", _("Choose a folder"))
        self.choose.clicked.connect(self._choose_folder)
        row = QWidget()
        layout = QHBoxLayout(row)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.folder, 1)
        layout.addWidget(self.choose)
        group.add_wide(row)
        return group

    def _box(self, words: str, key: str) -> QCheckBox:
        box = QCheckBox(words)
        box.setChecked(getattr(self.wishes, key))
        box.clicked.connect(lambda on: self._wish(**{key: on}))
        return box

    def _take_clicks(self) -> None:
        ticked = tuple(click for click, box in self.clicks.items() if box.isChecked())
        self._wish(clicks=ticked)

    def _choose_folder(self) -> None:
        chosen = QFileDialog.getExistingDirectory(
            self, _("Folder of the files"), str(self.folder.value)
        )
        if chosen:
            self.folder.show_value(Path(chosen))
            self._wish(folder=chosen)

    def _wish(self, **fields: Any) -> None:
        self.wishes = replace(self.wishes, **fields)
        self._enable()
        self.changed.emit()

    def _enable(self) -> None:
        """Only what matters for the wishes can be chosen."""
        wishes = self.wishes
        self.sections_group.setVisible(wishes.each_section or wishes.each_both)
        self.parts_group.setVisible(wishes.each_part or wishes.each_both)
        self._previews.setVisible(bool(wishes.clicks))
        self.paper.setEnabled(wishes.sheet)

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(2), unit(2), unit(2))
        self._column.setSpacing(unit(3))
