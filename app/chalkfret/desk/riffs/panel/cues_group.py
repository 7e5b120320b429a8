"""The section's cues: where an effect goes on and off, for whom, and what it is called."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QPushButton

from chalkfret.desk.document import Document
from chalkfret.desk.keys.tips import does
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import small
from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.knobs import KnobRows, with_knob
from chalkfret.desk.riffs.panel.readers import place_reader, place_writer
from chalkfret.desk.riffs.words import CUE_KINDS
from chalkfret.edits import cues
from chalkfret.model import Bar, Cue, CueKind, Place, Section, Setting, limits
from chalkfret.model.knobs import Knob
from chalkfret.words.music import knob_words
from chalkfret.words.text import _, said


def _read_label(text: str) -> str:
    if not text.strip():
        raise Unreadable(_("A cue needs a few words."), unfinished=True)
    if len(text.strip()) > limits.NAME_MAX:
        raise Unreadable(_("At most {most} characters.").format(most=limits.NAME_MAX))
    return text.strip()


class CuesGroup(SectionGroup):
    """One cue at a time, chosen from the list of them all."""

    def __init__(
        self, document: Document, look: Look, cursor_place: Callable[[], tuple[Place, str]]
    ) -> None:
        super().__init__(document, look, _("Cues"))
        self._cursor_place = cursor_place
        self._cue_id = ""
        self.new = QPushButton(_("New cue"))
        self.new.setToolTip(_("Begin a cue at the cursor"))
        does(self.new, "cue_add")
        self.new.clicked.connect(self.add_cue)
        self.remove = QPushButton(_("Remove"))
        self.remove.clicked.connect(self._remove)
        self.list = Choice({}, _("Cues of this section"))
        self.list.chosen.connect(self._choose)
        self.label = self._field(
            _("Label"), _read_label, str, lambda text: self._change(label=text)
        )
        self.kind = Choice(said(CUE_KINDS), _("Kind"))
        self.kind.chosen.connect(lambda kind: self._change(kind=kind))
        self.part = Choice({None: _("all parts")}, _("For"))
        self.part.chosen.connect(lambda part: self._change(part=part))
        read, write = place_reader(self._bars), place_writer(self._bars)
        self.start = self._field(_("From bar:beat"), self._read_start(read), write, self._start)
        self.end = self._field(_("To bar:beat"), read, write, lambda place: self._change(end=place))
        self.end.setPlaceholderText(_("the end"))
        self.knobs = KnobRows(look, self._field, self._set_knob, self._set_free)
        self._shown: tuple[str, CueKind] | None = None
        self._none = small(look, _("None yet. A cue says where an effect goes on and off."))
        self.add_wide(self._none)
        self.add_wide(Beside(look, self.new, self.remove))
        self.add(_("Cue"), self.list)
        self.add(_("Label"), self.label)
        kinds, places = Beside(look, self.kind, self.part), Beside(look, self.start, self.end)
        self.add(_("Kind, for"), kinds)
        self.add(_("From, to"), places)
        self._form.setRowVisible(self._none, False)
        self._figures = (self.list, self.label, kinds, places)
        for row in self.knobs.rows:
            self.add(_("Knob"), row)
        self.add(_("Knobs"), self.knobs.free)

    @staticmethod
    def _read_start(read: Callable[[str], Place | None]) -> Callable[[str], Place]:
        return lambda text: read(text) or Place(0, 0)

    def _bars(self) -> list[Bar]:
        return list(self.section.bars)

    def _cue(self) -> Cue | None:
        return next((cue for cue in self.section.head.cues if cue.id == self._cue_id), None)

    def show_section(self, section: Section) -> None:
        known = section.head.cues
        if known and self._cue() is None:
            self._cue_id = known[0].id
        self.list.set_choices({cue.id: cue.label for cue in known})
        self.list.show_value(self._cue_id)
        parts = self._document.lesson.parts
        self.part.set_choices({None: _("all parts"), **{part.id: part.name for part in parts}})
        cue = self._cue()
        self._show_figures(cue is not None)
        if self._shown is not None and (cue is None or cue.id != self._shown[0]):
            for field in (self.label, self.start, self.end):
                field.show_anew(None)
        self.label.show_value("" if cue is None else cue.label)
        self.kind.show_value(None if cue is None else cue.kind)
        self.part.show_value(None if cue is None else cue.part)
        self.start.show_value(None if cue is None else cue.start)
        self.end.show_value(None if cue is None else cue.end)
        self._show_knobs(cue)

    def _show_figures(self, shown: bool) -> None:
        """Show the fields of a cue; without one there is only how to begin one."""
        if self._form.isRowVisible(self._none) is not shown:
            return
        self._form.setRowVisible(self._none, not shown)
        for widget in self._figures:
            self._form.setRowVisible(widget, shown)
        self.remove.setVisible(shown)
        # Who is led to the cues finds it. Qt takes None for none, which the types leave out.
        self.list.setFocusProxy(None if shown else self.new)  # type: ignore[arg-type]

    def _show_knobs(self, cue: Cue | None) -> None:
        now = None if cue is None else (cue.id, cue.kind)
        names = self.knobs.show(cue, anew=now != self._shown)
        if now == self._shown and self._shown is not None:
            return
        self._shown = now
        for index, row in enumerate(self.knobs.rows):
            self._form.setRowVisible(row, index < len(names))
            if index < len(names):
                label = self._form.labelForField(row)
                if isinstance(label, QLabel):
                    label.setText(names[index][:1].upper() + names[index][1:])
        self._form.setRowVisible(self.knobs.free, cue is not None and not names)

    def _choose(self, cue_id: str) -> None:
        self._cue_id = cue_id
        self.show_section(self.section)

    def add_cue(self) -> None:
        """Begin a cue at the cursor, and ask for its name."""
        place, _part = self._cursor_place()
        section = self._document.section
        before = {cue.id for cue in self.section.head.cues}
        label = _("Effect on")
        text = _("Add a cue to section {section}").format(section=self.section.head.letter)
        self._document.attempt(
            text, lambda lesson: cues.add(lesson, section, label, CueKind.FREE, place)
        )
        new = next((cue.id for cue in self.section.head.cues if cue.id not in before), None)
        if new is not None:
            self._choose(new)
            self.label.setFocus()
            self.label.selectAll()

    def _remove(self) -> None:
        cue_id = self._cue_id
        if self._attempt(_("a cue"), lambda lesson: cues.remove(lesson, cue_id)):
            self.new.setFocus()

    def _start(self, place: Place) -> None:
        cue = self._cue()
        if cue is not None:
            # Moving a start moves the cue, with its end, as dragging it would.
            self._attempt(
                _("a cue"), lambda lesson: cues.move(lesson, cue.id, place), (cue.id, "start")
            )

    def _set_knob(self, knob: Knob, value: float | None) -> None:
        cue = self._cue()
        if cue is not None:
            self._settle(_("{knob} of a cue").format(knob=knob_words(knob.name)), cue,
                         with_knob(cue, knob, value), knob.name)  # fmt: skip

    def _set_free(self, settings: tuple[Setting, ...]) -> None:
        cue = self._cue()
        if cue is not None:
            self._settle(_("the knobs of a cue"), cue, settings, "")

    def _settle(self, what: str, cue: Cue, settings: tuple[Setting, ...], knob: str) -> None:
        self._attempt(
            what,
            lambda lesson: cues.change(lesson, cue.id, settings=settings),
            (cue.id, "settings", knob),
        )

    def _change(self, **fields: object) -> None:
        cue_id = self._cue_id
        self._attempt(
            _("a cue"),
            lambda lesson: cues.change(lesson, cue_id, **fields),
            (cue_id, *fields),
        )
