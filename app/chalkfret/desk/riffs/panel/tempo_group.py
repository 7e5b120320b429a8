"""Tempo, gradual change, tap and swing of the section."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

from msgspec.structs import replace
from PySide6.QtWidgets import QPushButton

from chalkfret.desk.document import Document
from chalkfret.desk.keys.tips import does
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.beside import Beside
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.riffs.panel.group import SectionGroup
from chalkfret.desk.riffs.panel.readers import (
    number_reader,
    read_tempo,
    read_tempo_end,
    stepped,
    write_optional,
)
from chalkfret.desk.riffs.words import BEAT_UNITS, SWING_UNITS, TEMPO_SHAPES
from chalkfret.model import Section, Swing, limits
from chalkfret.words.figures import number_words
from chalkfret.words.text import _, said

_TAPS_KEPT = 8
_TAP_GAP_S = 2.5  # a longer silence begins the count anew


class Taps:
    """Beats a minute from taps: the mean of the last few gaps. ``now`` gives seconds."""

    def __init__(self, now: Callable[[], float] = perf_counter) -> None:
        self._now = now
        self._times: list[float] = []

    def tap(self) -> float | None:
        """One more tap; the tempo from the second one on."""
        time = self._now()
        if self._times and time - self._times[-1] > _TAP_GAP_S:
            self._times.clear()
        self._times = [*self._times, time][-_TAPS_KEPT:]
        if len(self._times) < 2:
            return None
        gap = (self._times[-1] - self._times[0]) / (len(self._times) - 1)
        return min(limits.TEMPO_MAX, max(limits.TEMPO_MIN, round(60 / max(gap, 0.01))))


class TempoGroup(SectionGroup):
    """How fast, how that changes, and whether pairs swing."""

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__(document, look, _("Tempo"))
        self.taps = Taps()
        steps = stepped(limits.TEMPO_MIN, limits.TEMPO_MAX)
        self.start = self._field(
            _("Beats a minute"),
            read_tempo,
            number_words,
            lambda start: self._tempo(start=start),
            steps,
        )
        self.tap = QPushButton(_("Tap"))
        self.tap.setToolTip(_("Press in time: the tempo follows"))
        does(self.tap, "tap")
        self.tap.clicked.connect(self.tap_once)
        self.unit = Choice(said(BEAT_UNITS), _("Beat"))
        self.unit.chosen.connect(lambda unit: self._tempo(unit=unit))
        self.end = self._field(
            _("Changing to"),
            read_tempo_end,
            write_optional,
            lambda end: self._tempo(end=end),
            lambda end, count: steps(self.section.head.tempo.start if end is None else end, count),
        )
        self.end.setPlaceholderText(_("steady"))
        self.shape = Choice(said(TEMPO_SHAPES), _("Shape of the change"))
        self.shape.chosen.connect(lambda shape: self._tempo(shape=shape))
        self.swing = Choice({None: _("straight"), **said(SWING_UNITS)}, _("Swing"))
        self.swing.chosen.connect(self._swing_unit)
        self.ratio = self._field(
            _("Swing ratio"),
            number_reader(1, 4, _("A swing ratio is a number from 1 to 4; 2 is the triplet feel.")),
            number_words,
            self._swing_ratio,
            lambda ratio, count: stepped(1, 4)(ratio, count),
        )
        self.add(_("Beats a minute"), Beside(look, self.start, self.tap))
        self.add(_("Beat"), self.unit)
        self.add(_("Changing to"), Beside(look, self.end, self.shape))
        self.add(_("Swing, ratio"), Beside(look, self.swing, self.ratio))

    def show_section(self, section: Section) -> None:
        tempo, swing = section.head.tempo, section.head.swing
        self.start.show_value(tempo.start)
        self.unit.show_value(tempo.unit)
        self.end.show_value(tempo.end)
        self.shape.show_value(tempo.shape)
        self.shape.setEnabled(tempo.end is not None)
        self.swing.show_value(None if swing is None else swing.unit)
        self.ratio.setEnabled(swing is not None)
        self.ratio.show_value(2.0 if swing is None else swing.ratio)

    def tap_once(self) -> None:
        """One tap; from the second one on it sets the tempo."""
        tempo = self.taps.tap()
        if tempo is not None:
            self._tempo(start=tempo)

    def _tempo(self, **fields: object) -> None:
        tempo = self.section.head.tempo
        wanted = replace(tempo, **fields)
        if wanted != tempo:
            self._set(_("the tempo"), tempo=wanted)

    def _swing_unit(self, unit: object) -> None:
        swing = self.section.head.swing or Swing()
        self._set(_("the swing"), swing=None if unit is None else replace(swing, unit=unit))

    def _swing_ratio(self, ratio: float) -> None:
        swing = self.section.head.swing
        if swing is not None:
            self._set(_("the swing"), swing=replace(swing, ratio=ratio))
