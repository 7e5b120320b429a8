"""The sizes of the grid in pixels, and the pens, brushes and fonts it is painted with."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics, QPen, QStaticText

from chalkfret.desk.look import SMALL, Look, mixed
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.theory.degrees import Role

# Each role has a hatch of its own beside its tint.
_HATCHES = {
    Role.HOME: Qt.BrushStyle.Dense4Pattern,
    Role.FRAME: Qt.BrushStyle.VerPattern,
    Role.COLOUR: Qt.BrushStyle.BDiagPattern,
    Role.OUTSIDE: Qt.BrushStyle.DiagCrossPattern,
}


class Metrics:
    """Sizes and colours for one look; made anew when the look changes.

    ``spare`` pixels are added to the height of each string, where there is room to breathe.
    """

    def __init__(self, look: Look, spare: int = 0) -> None:
        self.fret_font = look.font(strong=True)
        self.sign_font = look.font(SMALL)
        self.text_font = look.font()
        self.strong_font = look.font(strong=True)
        self.fret_fm = QFontMetrics(self.fret_font)
        self.sign_fm = QFontMetrics(self.sign_font)
        self.text_fm = QFontMetrics(self.text_font)
        self.strong_fm = QFontMetrics(self.strong_font)
        unit = look.unit
        self.unit = unit()
        # Two digits and a bracket on either side must fit into one step.
        self.step = max(unit(3.25), self.fret_fm.horizontalAdvance("(22)") + unit(0.5))
        self.spare = spare
        self.sign_height = self.sign_fm.ascent() + 1 + spare // 2
        self.pill = self.fret_fm.ascent() + unit(0.75)
        self.string = self.sign_height + self.pill + unit(0.25) + spare - spare // 2
        self.lane = unit(3.5)
        self.degrees = self.text_fm.height() + unit(0.75)
        self.names_width = (
            self.text_fm.horizontalAdvance("12")
            + self.text_fm.horizontalAdvance("A♭2 +50")
            + unit(3)
        )
        self.ruler_top = self.text_fm.height() + unit(0.75)
        self.ruler = self.ruler_top + self.text_fm.height() + unit(0.5)
        self.fret_drop = (self.pill - self.fret_fm.height()) / 2 - 1
        self._frets: dict[str, tuple[QStaticText, float]] = {}
        self._colour(look)

    def _colour(self, look: Look) -> None:
        colour = look.colour
        self.surface, self.panel = colour("surface"), colour("panel")
        self.ink, self.soft = colour("ink"), colour("soft")
        self.ochre, self.lines = colour("ochre"), colour("lines")
        faint = mixed(self.lines, self.surface, 0.45)
        self.faint_pen = QPen(faint, 1)
        self.string_pen = QPen(mixed(self.lines, self.surface, 0.8), 1)
        self.bar_pen = QPen(self.lines, 1)
        self.section_pen = QPen(self.soft, 2)
        self.ink_pen, self.soft_pen = QPen(self.ink, 1), QPen(self.soft, 1)
        self.stroke_pen = QPen(self.ink, 1.5)
        self.cursor_pen = QPen(self.ochre, 2)
        self.away_pen = QPen(self.ochre, 1, Qt.PenStyle.DashLine)
        self.cursor_fill = QColor(self.ochre)
        self.cursor_fill.setAlphaF(0.16)
        self.selection_fill = QColor(self.ochre)
        self.selection_fill.setAlphaF(0.22)
        self.tints = {role: colour(role.value) for role in _HATCHES}
        self.tints[Role.PLAIN] = mixed(self.lines, self.surface, 0.4)
        hatch = mixed(self.ink, self.surface, 0.55)
        self.hatches = {role: QBrush(hatch, style) for role, style in _HATCHES.items()}
        self.edge_pens = {
            role: QPen(mixed(self.ink, tint, 0.35), 1) for role, tint in self.tints.items()
        }

    def fret_text(self, text: str) -> tuple[QStaticText, float]:
        """A fret laid out once for all its paintings, and half its width."""
        found = self._frets.get(text)
        if found is None:
            laid = QStaticText(text)
            laid.setTextFormat(Qt.TextFormat.PlainText)
            laid.prepare(font=self.fret_font)
            found = self._frets[text] = (laid, laid.size().width() / 2)
        return found

    def height(self, kind: RowKind) -> int:
        """The height of a row."""
        if kind is RowKind.STRING:
            return self.string
        return self.lane if kind is RowKind.LANE else self.degrees
