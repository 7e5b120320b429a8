"""What the teacher writes once for the whole sheet, and the paper it is printed on."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QScrollArea, QVBoxLayout, QWidget

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Field, Unreadable
from chalkfret.desk.pieces.form import Group
from chalkfret.desk.pieces.saying import Saying
from chalkfret.model import LessonHead, NoteNaming, Paper, SheetOptions, limits
from chalkfret.words.text import N_, _, said

PAPERS = {Paper.A4: N_("A4, 210 × 297 mm"), Paper.LETTER: N_("Letter, 8½ × 11 in")}
NAMINGS = {
    NoteNaming.ENGLISH: N_("C D E F G A B"),
    NoteNaming.GERMAN: N_("C D E F G A H (B is B flat)"),
    NoteNaming.SOLFEGE: N_("Do Re Mi Fa Sol La Si"),
}

# The fields of the lesson's head that are words of one line, where they are printed, and a hint.
_FIRST_PAGE = (
    ("title", N_("Title"), N_("The lesson's name")),
    ("subtitle", N_("Subtitle"), N_("Tuning, level, or what it teaches")),
    ("credit", N_("Credit"), N_("Who wrote and who arranged it")),
)
_EVERY_PAGE = (
    ("supporter_line", N_("Supporter line"), N_("A word to those who pay for it")),
    ("licence", N_("Licence line"), N_("What may be done with this sheet")),
)


class WordsPanel(QScrollArea):
    """Sends fields of the lesson's head that change."""

    edited = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._options = SheetOptions()
        self.fields: dict[str, Field] = {}
        self.saying = Saying(look)
        self.paper = Choice(said(PAPERS), _("Paper"))
        self.landscape = QCheckBox(_("Landscape"))
        self.large_print = QCheckBox(_("Large print"))
        self.black_ink = QCheckBox(_("Black ink only"))
        self.naming = Choice(said(NAMINGS), _("Names of notes"))
        self.simple_names = QCheckBox(_("No double sharps or flats"))
        body = QWidget()
        body.setProperty("ground", "panel")
        self._column = QVBoxLayout(body)
        for title, entries in (
            (_("On the first page"), _FIRST_PAGE),
            (_("At the foot of every page"), _EVERY_PAGE),
        ):
            group = Group(look, title, names_above=True)
            for key, name, hint in entries:
                group.add(_(name), self._line(key, _(name), _(hint)))
            self._column.addWidget(group)
        self._column.addWidget(self.saying)
        self._column.addWidget(self._paper_group())
        self._column.addWidget(self._names_group())
        self._column.addStretch(1)
        self.setWidget(body)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # its fields are the stops of Tab
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        follow(self, look, self._dress)

    def show_head(self, head: LessonHead) -> None:
        """Show what is said of the lesson as a whole."""
        for key, field in self.fields.items():
            field.show_value(getattr(head, key))
        self._options = head.sheet
        self.paper.show_value(head.sheet.paper)
        for key, box in self._boxes().items():
            box.setChecked(getattr(head.sheet, key))
        self.naming.show_value(head.note_naming)
        self.simple_names.setChecked(head.simple_names)

    def _line(self, key: str, name: str, hint: str) -> Field:
        field = self.fields[key] = Field(_read_line, str)
        field.setAccessibleName(name)
        field.setPlaceholderText(hint)
        field.typed.connect(lambda text: self.edited.emit({key: text}))
        field.told.connect(self.saying.say)
        return field

    def _boxes(self) -> dict[str, QCheckBox]:
        return {
            "landscape": self.landscape,
            "large_print": self.large_print,
            "black_ink": self.black_ink,
        }

    def _paper_group(self) -> Group:
        group = Group(self._look, _("Paper"))
        group.add_wide(self.paper)
        self.paper.chosen.connect(lambda paper: self._send(paper=paper))
        for key, box in self._boxes().items():
            group.add_wide(box)
            box.clicked.connect(lambda on, key=key: self._send(**{key: on}))
        return group

    def _names_group(self) -> Group:
        group = Group(self._look, _("Names of notes"))
        group.add_wide(self.naming)
        group.add_wide(self.simple_names)
        self.naming.chosen.connect(lambda naming: self.edited.emit({"note_naming": naming}))
        self.simple_names.clicked.connect(lambda on: self.edited.emit({"simple_names": on}))
        return group

    def _send(self, **options: Any) -> None:
        self.edited.emit({"sheet": replace(self._options, **options)})

    def _dress(self) -> None:
        unit = self._look.unit
        self._column.setContentsMargins(unit(2), unit(2), unit(2), unit(2))
        self._column.setSpacing(unit(3))
        needed = self._column.minimumSize().width() + self.verticalScrollBar().sizeHint().width()
        self.setFixedWidth(max(unit(42), needed))


def _read_line(text: str) -> str:
    most = limits.NAME_MAX * 4
    if len(text) > most:
        raise Unreadable(_("At most {most} letters go on one line.").format(most=most))
    return text
