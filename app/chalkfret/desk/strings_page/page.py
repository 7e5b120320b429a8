"""The Strings page: one guitar of the lesson, its strings, and what follows from them."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QScrollArea, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.pieces.form import reveal
from chalkfret.desk.pieces.saying import Saying
from chalkfret.desk.shelf import open_shelf
from chalkfret.desk.strings_page import setups
from chalkfret.desk.strings_page.beneath import Beneath
from chalkfret.desk.strings_page.cautions import Cautions
from chalkfret.desk.strings_page.details import Details
from chalkfret.desk.strings_page.instrument import Instrument
from chalkfret.desk.strings_page.parts_row import PartsRow
from chalkfret.desk.strings_page.shelf_view import ShelfView
from chalkfret.desk.strings_page.table import SetTable
from chalkfret.desk.strings_page.tone import Tone
from chalkfret.desk.strings_page.tuning import TuningLine
from chalkfret.desk.strings_page.words import UNDO, section_words, string_words
from chalkfret.edits import CannotEdit, names, parts
from chalkfret.model import Lesson, Part, Section, Setup, Voice, setup_in
from chalkfret.strings.tunings import Tuning
from chalkfret.words.sentences import sentence
from chalkfret.words.text import N_, _

_SIDE_UNITS = 42  # width of the side panel
_WIDE_UNITS = 118  # from here on the panel stands beside the strings


class StringsPage(QScrollArea):
    """Shows the setup of ``part``, in one section or in all, and changes it."""

    place_changed = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._part = 0
        self._section: str | None = None
        self._stale = True
        self.parts_row = PartsRow(look)
        self.tuning = TuningLine(look)
        self.saying = Saying(look)
        self.table_saying = Saying(look)  # below the table, so that no row moves from under the eye
        self.table = SetTable(look)
        self.cautions = Cautions(look)
        self.instrument = Instrument(look)
        self.details = Details(look)
        shelf = open_shelf()
        self.shelf, self.beneath = ShelfView(look, shelf), Beneath(look, shelf)
        self.tone = Tone(look)
        self.table.stand_between(self.tuning.strings.field, self.instrument.name)
        self._arrange()
        self._connect()
        follow(self, look, self._dress)

    # Frame

    def _arrange(self) -> None:
        self._main, self._side = QWidget(), QWidget()
        self._main.setProperty("ground", "surface")
        self._side.setProperty("ground", "panel")
        main = self._main_column = QVBoxLayout(self._main)
        for widget in (self.parts_row, self.tuning, self.saying, self.table,
                       self.table_saying, self.cautions, self.beneath):  # fmt: skip
            main.addWidget(widget)
        main.addStretch(1)
        side = self._side_column = QVBoxLayout(self._side)
        for group in (self.instrument, self.details, self.tone, self.shelf):
            side.addWidget(group)
        side.addStretch(1)
        body = QWidget()
        self._columns = QBoxLayout(QBoxLayout.Direction.LeftToRight, body)
        self._columns.addWidget(self._main, 1)
        self._columns.addWidget(self._side)
        self.setWidget(body)
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def _dress(self) -> None:
        unit = self._look.unit
        for column, gap in ((self._main_column, 2), (self._side_column, 3)):
            column.setContentsMargins(unit(2), unit(2), unit(2), unit(2))
            column.setSpacing(unit(gap))
        self._columns.setContentsMargins(0, 0, 0, 0)
        self._columns.setSpacing(0)
        self._turn()

    def _turn(self) -> None:
        """Side by side where there is room, else the panel below the strings."""
        wide = self.width() >= self._look.unit(_WIDE_UNITS)
        way = QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        self._columns.setDirection(way)
        side = max(self._look.unit(_SIDE_UNITS), self._side.minimumSizeHint().width())
        self._side.setMaximumWidth(side if wide else 16_777_215)
        self._side.setMinimumWidth(side if wide else 0)

    def focusInEvent(self, event: QFocusEvent) -> None:
        # The page itself is no stop of Tab; who brings it to the front gets to its first task.
        super().focusInEvent(event)
        self.tuning.field.setFocus(event.reason())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()

    def _connect(self) -> None:
        document = self._document
        document.changed.connect(self._lesson_changed)
        document.replaced.connect(self._lesson_replaced)
        document.section_changed.connect(self._tell_place)
        row = self.parts_row
        row.part_chosen.connect(self.show_part)
        row.section_chosen.connect(self.show_section)
        row.added.connect(self._add_part)
        row.removed.connect(self._remove_part)
        row.renamed.connect(self._rename_part)
        row.retuning_dropped.connect(self._drop_retuning)
        self.tuning.tuned.connect(self._tune)
        self.tuning.chosen.connect(self._choose_tuning)
        self.tuning.counted.connect(self._count)
        for part in (self.table, self.details):
            part.edited.connect(self._change_string)
        self.table.current_changed.connect(lambda *_at: self._show_details())
        self.details.strings_in.connect(self._fill_course)
        self.instrument.edited.connect(
            lambda what, setup: self._set_setup(_(UNDO[what]), lambda _old: setup, what)
        )
        self.tone.written.connect(self._write_tone)
        self.tone.voiced.connect(self._set_voice)
        self.shelf.taken.connect(self._take)
        self.beneath.strung.connect(
            lambda setup: self._set_setup(_("gauges"), lambda _old: setup, None)
        )
        for teller in (row, self.tuning, self.shelf):
            teller.told.connect(self.saying.say)
        self.table.told.connect(self._say_of_table)

    def page_actions(self) -> tuple[Action, ...]:
        """What keys and menus do here."""
        shown = self.isVisible
        return (
            Action("strings_tuning", _("Type the &tuning"), ("Ctrl+T",), N_("&Part"),
                   lambda: self._focus(self.tuning.field), shown),
            Action("strings_next_part", _("&Next guitar"), ("Ctrl+PgDown",), N_("&Part"),
                   lambda: self._go_part(1), shown),
            Action("strings_back_part", _("&Guitar before"), ("Ctrl+PgUp",), N_("&Part"),
                   lambda: self._go_part(-1), shown),
            Action("strings_add_part", _("New guitar, tuned alike"), ("Ctrl+Shift+G",), "",
                   self._add_part, shown),
            *self.beneath.page_actions(shown),
            Action("strings_down", _("The same field of the next string"), shown=_("Enter")),
            Action("strings_up", _("The same field of the string before"), shown=_("Shift+Enter")),
            Action("strings_step", _("A step up or down: note, cents, gauge, number"),
                   shown=_("Up, Down")),
            Action("strings_back", _("Back to what holds, after typing something refused"),
                   shown=_("Escape")),
            Action("strings_shelf_rename", _("Rename a setup on the shelf"), shown=_("F2")),
            Action("strings_shelf_remove", _("Take a setup off the shelf"), shown=_("Del")),
        )  # fmt: skip

    def key_home(self) -> QWidget:
        """Where the keys of the page work."""
        return self

    @staticmethod
    def _focus(field: Field) -> None:
        field.setFocus()
        field.selectAll()

    def _say_of_table(self, text: str, loud: bool) -> None:
        self.table_saying.say(text, loud)
        field = self.focusWidget()
        if text and field is not None:
            QTimer.singleShot(0, self, lambda: reveal(field, self.table_saying))

    # What is shown

    @property
    def part(self) -> Part:
        """The guitar that is shown."""
        return self._document.lesson.parts[self._part]

    @property
    def section(self) -> Section | None:
        """The section for which the strings are shown; None: for all of them."""
        wished = (one for one in self._document.lesson.sections if one.id == self._section)
        return next(wished, None)

    @property
    def setup(self) -> Setup:
        """The setup that is shown."""
        section = self.section
        return self.part.setup if section is None else setup_in(section, self.part)

    def show_part(self, index: int) -> None:
        """Show another guitar of the lesson."""
        self._part = index
        self.saying.say("")
        self._show()

    def show_section(self, section: str | None) -> None:
        """Show the strings that hold in this section, or (None) in all that have no own."""
        self._section = section
        self._show()
        self._tell_section()

    def standing(self) -> tuple[int, str | None]:
        """The guitar and the section that are shown, for a page that takes this one's place."""
        return self._part, self._section

    def stand(self, standing: tuple[int, str | None]) -> None:
        """Show what was shown."""
        self._part, self._section = standing
        self._stale = True  # shown when it is looked at

    def _go_part(self, steps: int) -> None:
        self.show_part((self._part + steps) % len(self._document.lesson.parts))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._show()
        self._tell_place()

    def _lesson_replaced(self) -> None:
        self._part, self._section = 0, None
        self.saying.say("")
        self._lesson_changed(None, self._document.lesson)

    def _lesson_changed(self, before: Lesson | None, after: Lesson) -> None:
        if before is not None and not _concerns_strings(before, after):
            return
        self._part = min(self._part, len(after.parts) - 1)
        if self.section is None:
            self._section = None
        if self.isVisible():
            self._show()
        else:
            self._stale = True

    def _show(self) -> None:
        self._stale = False
        lesson, setup = self._document.lesson, self.setup
        naming = lesson.head.note_naming
        for_all = self.section is None
        self.parts_row.show_lesson(lesson, self._part, self._section)
        self.tuning.show_setup(setup, naming, may_count=for_all)
        self.table.show_setup(setup, naming)
        self.cautions.show_setup(setup)
        self.beneath.show_setup(lesson, self._part, setup)
        self.instrument.show_setup(setup)
        self._show_details()
        self.shelf.show_setup(setup, naming)
        self.tone.show_part(self.part)
        self._tell_place()

    def _show_details(self) -> None:
        self.details.show_string(self.setup, *self.table.current)

    def _tell_place(self) -> None:
        if self.isVisible():
            self.place_changed.emit(self.part.name)

    def _tell_section(self) -> None:
        section = self.section
        if section is None:
            self.saying.say("")
            return
        words = _("What you change here retunes {part} in section {section} only.")
        self.saying.say(words.format(part=self.part.name, section=section_words(section)), False)

    # Changes

    def _change(self, text: str, edit: Callable[[Lesson], Lesson], merge: Hashable = None) -> bool:
        """Do an edit; where it cannot be done, say why beside what was typed."""
        try:
            lesson = edit(self._document.lesson)
        except CannotEdit as refused:
            words = sentence(refused.fault)
            field = Field.speaking()
            if field is not None:
                field.refuse(words)
            self._show()
            if field is None:
                self.saying.say(words, True)
            return False
        self._document.apply(text, lesson, merge)
        return True

    def _set_setup(self, text: str, change: Callable[[Setup], Setup], key: Hashable) -> None:
        """Change the setup that is shown; steps of the same ``key`` in a row are one."""
        setup = change(self.setup)
        if setup == self.setup:
            return
        part, section = self._part, self._section_index()
        words = _("{what} of {part}").format(what=text, part=self.part.name)
        self._change(
            words,
            lambda lesson: (
                parts.set_setup(lesson, part, setup)
                if section is None
                else parts.retune(lesson, section, part, setup)
            ),
            ("strings", self.part.id, self._section, key),
        )

    def _section_index(self) -> int | None:
        section = self.section
        return None if section is None else self._document.lesson.sections.index(section)

    def _tune(self, pitches: tuple[str, ...]) -> None:
        self._set_setup(_("tuning"), lambda setup: setups.with_pitches(setup, pitches), "tuning")

    def _choose_tuning(self, tuning: Tuning) -> None:
        self._set_setup(_("tuning"), lambda setup: setups.with_courses(setup, tuning.courses), None)

    def _count(self, count: int) -> None:
        self._set_setup(
            _("number of strings"), lambda setup: setups.with_count(setup, count), "count"
        )

    def _fill_course(self, course: int, count: int) -> None:
        self._set_setup(
            string_words(course, 0, 1),
            lambda setup: setups.with_strings_in(setup, course, count),
            ("strings in", course),
        )

    def _change_string(self, course: int, string: int, name: str, fields: dict) -> None:
        strings = len(self.setup.course(course).strings)
        what = _("{field} of {string}").format(
            field=_(UNDO[name]), string=string_words(course, string, strings)
        )
        self._set_setup(
            what,
            lambda setup: setups.with_string(setup, course, string, **fields),
            (name, course, string),
        )

    def _take(self, setup: Setup) -> None:
        have, need = len(setup.courses), len(self.setup.courses)
        if self.section is not None and have != need:
            words = _("In one section a guitar cannot have another number of strings: choose "
                      "“all sections” first.")  # fmt: skip
            self.saying.say(words, True)
            return
        self._set_setup(_("strings from the shelf"), lambda _old: setup, None)

    def _drop_retuning(self) -> None:
        section, part = self._section_index(), self._part
        if section is not None:
            text = _("own strings of {part} again").format(part=self.part.name)
            self._change(text, lambda lesson: parts.retune(lesson, section, part, None))

    def _write_tone(self, tone: str) -> None:
        part = self._part
        text, key = _("tone notes of {part}").format(part=self.part.name), ("tone", self.part.id)
        self._change(text, lambda lesson: parts.set_tone(lesson, part, tone), key)

    def _set_voice(self, voice: Voice) -> None:
        part = self._part
        text = _("sound of {part}").format(part=self.part.name)
        self._change(text, lambda lesson: parts.set_voice(lesson, part, voice))

    def _rename_part(self, name: str) -> None:
        part = self._part
        text = _("name of a guitar")
        self._change(text, lambda lesson: parts.rename(lesson, part, name), ("name", part))

    def _add_part(self) -> None:
        lesson, setup = self._document.lesson, self.part.setup
        name = names.part_name(lesson, _("Guitar {number}").format(number=len(lesson.parts) + 1))
        if self._change(_("new guitar"), lambda lesson: parts.add(lesson, name, setup)):
            self.show_part(len(self._document.lesson.parts) - 1)
            self._focus(self.parts_row.name)

    def _remove_part(self) -> None:
        part = self._part
        text = _("{part} removed").format(part=self.part.name)
        gone = self.part.name
        if self._change(text, lambda lesson: parts.remove(lesson, part)):
            words = _("{part} and its notes are removed; undo brings them back.")
            self.saying.say(words.format(part=gone))


def _concerns_strings(before: Lesson, after: Lesson) -> bool:
    """Whether anything that this page shows is not the same object any more."""
    if before.parts is not after.parts or before.head is not after.head:
        return True
    if before.sections is after.sections:
        return False
    return [one.head for one in before.sections] != [one.head for one in after.sections]
