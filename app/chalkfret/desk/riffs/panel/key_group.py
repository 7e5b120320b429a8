"""Tonic and scale of the section, and the scale's notes over their degrees."""

from __future__ import annotations

from enum import Enum

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.readers import read_degrees, read_tonic
from chalkfret.desk.riffs.panel.shape_lines import ShapeLines
from chalkfret.desk.riffs.panel.suggestions import Suggestions
from chalkfret.model import Key, Mode, NoteNaming, Section
from chalkfret.model.pitch import pitch_class
from chalkfret.theory.degrees import Role, role
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.scales import degrees_of, scale_notes
from chalkfret.words.music import mode_words, scale_steps
from chalkfret.words.text import _


class _Own(Enum):
    """The entry of the list for a scale of the teacher's own."""

    DEGREES = "degrees"


class ScaleRow(QWidget):
    """The scale: each note over its degree, tinted and hatched by its role as in the grid."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._key: Key | None = None
        self._steps: tuple = ()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.setVisible(False)
        follow(self, look, self._dress)

    def _dress(self) -> None:
        self._metrics = Metrics(self._look)
        self.updateGeometry()
        self.update()

    def show_key(self, key: Key | None, naming: NoteNaming, simple: bool) -> None:
        """Show this key's scale."""
        steps = () if key is None else scale_steps(key, naming, simple)
        if (key, steps) != (self._key, self._steps):
            self._key, self._steps = key, steps
            self.setAccessibleName(
                ", ".join(f"{step.note} {step.degree}" for step in steps) or _("no scale")
            )
            self.setVisible(bool(steps))
            self.update()

    def sizeHint(self) -> QSize:
        m = self._metrics
        return QSize(m.unit * 30, m.text_fm.height() * 2 + m.unit * 2)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._key is None or not self._steps:
            return
        m, painter = self._metrics, QPainter(self)
        width = min(m.unit * 6, self.width() / len(self._steps))
        line = m.text_fm.height()
        centre = Qt.AlignmentFlag.AlignCenter
        for index, (step, note) in enumerate(zip(self._steps, scale_notes(self._key), strict=True)):
            x = round(index * width)
            cell = round(width) - 2
            what = role(pitch_class(note), self._key)
            painter.fillRect(x, 0, cell, line + m.unit, m.tints[what])
            if what is not Role.PLAIN:
                painter.fillRect(x, line + m.unit // 2 + 1, cell, m.unit // 2, m.hatches[what])
            painter.setPen(m.ink)
            painter.setFont(m.strong_font if what is Role.HOME else m.text_font)
            painter.drawText(x, 0, cell, line + m.unit // 2, centre, step.note)
            painter.setPen(m.soft)
            painter.setFont(m.text_font)
            painter.drawText(x, line + m.unit, cell, line + m.unit, centre, step.degree)
        painter.end()


class KeyGroup(SectionGroup):
    """What the section sounds in."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__(document, look, _("Tonic and scale"))
        self.tonic = self._field(
            _("Tonic"),
            lambda text: read_tonic(self._naming)(text),
            lambda tonic: "" if tonic is None else shown(tonic, self._naming),
            self._set_tonic,
        )
        self.tonic.setPlaceholderText(_("none"))
        self.scale = Choice(
            {
                None: _("tonic alone"),
                **{mode: mode_words(mode) for mode in Mode},
                _Own.DEGREES: _("typed as degrees"),
            },
            _("Scale"),
        )
        self.scale.chosen.connect(self._set_scale)
        self.degrees = self._field(
            _("Degrees"), read_degrees, self._write_degrees, self._set_degrees
        )
        self.row = ScaleRow(look)
        self.add(_("Tonic, scale"), Beside(look, self.tonic, self.scale))
        self.add(_("Degrees"), self.degrees)
        self.add_wide(self.row)
        self.suggested = Suggestions(
            document, look, lambda key: self._set(_("the tonic and scale"), key=key)
        )
        self.add(_("From the notes"), self.suggested)
        self.shaped = self._field(
            _("Shaped as"),
            lambda text: read_tonic(self._naming)(text),
            lambda tonic: "" if tonic is None else shown(tonic, self._naming),
            lambda tonic: self._set(_("what the shapes are called"), shape_key=tonic),
        )
        self.shaped.setPlaceholderText(_("as counted"))
        self.add(_("Shaped as"), self.shaped)
        self.shape = ShapeLines(document, look, self)
        for row in self.shape.rows:
            self.add_wide(row)
        follow(self, look, lambda: self.tonic.setFixedWidth(look.unit(9)))

    @property
    def _naming(self) -> NoteNaming:
        return self._document.lesson.head.note_naming

    @staticmethod
    def _write_degrees(degrees: tuple[str, ...]) -> str:
        return " ".join(map(degree_shown, degrees))

    def show_section(self, section: Section) -> None:
        key, head = section.head.key, self._document.lesson.head
        self.tonic.show_value(None if key is None else key.tonic)
        self.scale.setEnabled(key is not None)
        self.degrees.setEnabled(key is not None)
        own = key is not None and bool(key.degrees)
        self.scale.show_value(_Own.DEGREES if own else None if key is None else key.mode)
        self.degrees.show_value(
            () if key is None or not (own or key.mode) else tuple(degrees_of(key))
        )
        self.row.show_key(key, head.note_naming, head.simple_names)
        self.shaped.setEnabled(key is not None)
        self.shaped.show_value(section.head.shape_key)
        self.shape.show_section(section)

    def _set_tonic(self, tonic: str | None) -> None:
        key = self.section.head.key
        wanted = None
        if tonic is not None:
            wanted = Key(tonic) if key is None else replace(key, tonic=tonic)
        self._set(_("the tonic"), key=wanted)

    def _set_scale(self, scale: object) -> None:
        key = self.section.head.key
        if key is None:
            return
        if scale is _Own.DEGREES:
            wanted = replace(key, mode=None, degrees=tuple(degrees_of(key)))
            self.degrees.setFocus()
            self.degrees.selectAll()
        else:
            wanted = replace(key, mode=scale, degrees=())
        self._set(_("the scale"), key=wanted)

    def _set_degrees(self, degrees: tuple[str, ...]) -> None:
        key = self.section.head.key
        if key is not None:
            self._set(_("the scale"), key=replace(key, mode=None, degrees=degrees))
