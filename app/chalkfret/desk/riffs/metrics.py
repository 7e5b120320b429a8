"""The sizes of the grid in pixels, and the pens, brushes and fonts it is painted with."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QFontMetrics, QPen, QStaticText, QTransform

from chalkfret.desk.look import SMALL, Look, mixed
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.theory.degrees import Role

_EDGE_MOST = 1.5  # zoom of the headers

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
    ``zoom`` 1.0 is as large as the rest of the window; ``edge`` are the metrics of what stands in
    the headers, which leave the room to the notes when these are very large.
    """

    def __init__(self, look: Look, spare: int = 0, zoom: float = 1.0) -> None:
        self.zoom = zoom
        self._px: dict[float, int] = {}
        self.fret_font = look.font(zoom, strong=True)
        self.sign_font = look.font(SMALL * zoom)
        self.text_font = look.font(zoom)
        self.strong_font = look.font(zoom, strong=True)
        self.fret_fm = QFontMetrics(self.fret_font)
        self.sign_fm = QFontMetrics(self.sign_font)
        self.text_fm = QFontMetrics(self.text_font)
        self.strong_fm = QFontMetrics(self.strong_font)

        def unit(count: float = 1) -> int:
            return look.unit(count * zoom)

        self.unit = max(2, unit())
        # Two digits and a bracket on either side must fit into one step.
        self.step = max(unit(3.25), self.fret_fm.horizontalAdvance("(22)") + unit(0.5))
        self.spare = spare
        self.sign_height = self.sign_fm.ascent() + 1 + spare // 2
        self.pill = self.fret_fm.ascent() + unit(0.75)
        self.string = self.sign_height + self.pill + unit(0.25) + spare - spare // 2
        self.lane = unit(3.5)
        self.band = self.sign_fm.height() + unit(0.5)  # where differences are marked
        self.degrees = self.text_fm.height() + unit(0.75)
        self.fret_drop = (self.pill - self.fret_fm.height()) / 2 - 1
        self._edge = None if zoom <= _EDGE_MOST else Metrics(look, zoom=_EDGE_MOST)
        edge = self.edge
        self.names_width = (
            edge.text_fm.horizontalAdvance("12")
            + edge.text_fm.horizontalAdvance("A♭2 +50")
            + edge.unit * 3
        )
        self.ruler_top = edge.text_fm.height() + edge.unit * 3 // 4
        self.ruler = self.ruler_top + edge.text_fm.height() + edge.unit // 2
        self._frets: dict[str, tuple[QStaticText, float]] = {}
        self._colour(look)

    @property
    def edge(self) -> Metrics:
        """The metrics of the headers."""
        return self if self._edge is None else self._edge

    def px(self, count: float) -> int:
        """So many pixels of 100 % at this zoom, at least one."""
        found = self._px.get(count)
        if found is None:
            found = self._px[count] = max(1, round(count * self.zoom))
        return found

    def _colour(self, look: Look) -> None:
        colour, px = look.colour, self.px
        self.surface, self.panel = colour("surface"), colour("panel")
        self.ink, self.soft = colour("ink"), colour("soft")
        self.ochre, self.lines = colour("ochre"), colour("lines")
        self.blue, self.warning = colour("blue"), colour("warning")
        faint = mixed(self.lines, self.surface, 0.45)
        self.faint_pen = QPen(faint, px(1))
        self.string_pen = QPen(colour("edge"), px(1))
        self.bar_pen = QPen(colour("edge"), px(1))
        self.section_pen = QPen(self.soft, px(2))
        self.ink_pen, self.soft_pen = QPen(self.ink, px(1)), QPen(self.soft, px(1))
        self.pressed_pen = QPen(colour("blue"), max(1.0, 1.5 * self.zoom))
        self.stroke_pen = QPen(self.ink, max(1.0, 1.5 * self.zoom))
        self.cursor_pen = QPen(self.ochre, px(2))
        self.away_pen = QPen(self.ochre, px(1), Qt.PenStyle.DashLine)
        self.cursor_fill = QColor(self.ochre)
        self.cursor_fill.setAlphaF(0.16)
        self.selection_fill = QColor(self.ochre)
        self.selection_fill.setAlphaF(0.22)
        self.tints = {role: colour(role.value) for role in _HATCHES}
        self.tints[Role.PLAIN] = mixed(self.lines, self.surface, 0.4)
        self.hatch = hatch = mixed(self.ink, self.surface, 0.63)
        self.hatches = {role: self._hatch(hatch, style) for role, style in _HATCHES.items()}
        self.band_fill = mixed(self.lines, self.surface, 0.3)
        self.difference_hatch = self._hatch(
            mixed(self.soft, self.surface, 0.6), Qt.BrushStyle.FDiagPattern
        )
        self.silent_hatch = self._hatch(
            mixed(self.lines, self.surface, 0.6), Qt.BrushStyle.FDiagPattern
        )
        self.difference_pen = QPen(self.ink, px(2), Qt.PenStyle.DotLine)
        self.edge_pens = {
            role: QPen(mixed(self.ink, tint, 0.43), px(1)) for role, tint in self.tints.items()
        }

    def _hatch(self, colour: QColor, style: Qt.BrushStyle) -> QBrush:
        """A hatch whose strokes are as heavy as the others: whole pixels, so that it stays even."""
        brush = QBrush(colour, style)
        scale = max(1, round(self.zoom))
        brush.setTransform(QTransform.fromScale(scale, scale))
        return brush

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
        return self.degrees if kind is RowKind.DEGREES else self.lane
