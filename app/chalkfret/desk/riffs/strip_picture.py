"""The painting of the section strip: blocks as high as their tempo, and every bar in small.

Along the foot of each block run its bars as the bird sees them: a stroke at each onset, from the
lowest to the highest note that sounds there; where the bars are narrower than that, one hairline a
bar, the darker the more notes it has. The frame is the part that the grid shows.

Conventions
-----------
- In the picture of a section a bar is as wide as it is long in written time, however often it is
  played; the block as a whole is as wide as the time it takes.
- A picture is made once for each section as it is, and again only when that very section differs.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import lru_cache
from itertools import accumulate, groupby
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from chalkfret.desk.look import Look, mixed
from chalkfret.desk.riffs.strip_words import clock_text
from chalkfret.model import Bar, Bars, Part, Section, Setup, setup_in
from chalkfret.theory.sounding import named_pitch

if TYPE_CHECKING:
    from chalkfret.desk.riffs.strip import SectionStrip

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_BAND_UNITS = 2.0  # height of the bars in small
_LOWEST, _HIGHEST = 28, 84  # MIDI numbers at the band's lower and upper edge
_HAIRLINE = 6  # a bar narrower than so many pixels is a single stroke
_DENSE = 16  # notes of a bar that is as dark as can be


class Stroke(NamedTuple):
    """What is struck together: its share of the bar's length, lowest and highest MIDI number."""

    at: float
    low: int
    high: int


class ViewEdge(NamedTuple):
    """Where an edge of the grid's view lies: section and bar from 0, and tick of the bar."""

    section: int
    bar: int
    tick: int


@lru_cache(maxsize=256)
def strokes_of(bar: Bar, setups: tuple[Setup, ...]) -> tuple[Stroke, ...]:
    """The strokes of a bar, all parts in one, each on its setup."""
    found = sorted(
        (note.onset, named_pitch(setup, note))
        for notes, setup in zip(bar.notes, setups, strict=True)
        for note in notes
    )
    length = bar.head.ticks
    out = []
    for onset, group in groupby(found, key=lambda one: one[0]):
        pitches = [pitch for _onset, pitch in group]
        out.append(Stroke(onset / length, min(pitches), max(pitches)))
    return tuple(out)


@lru_cache(maxsize=64)
def bar_ends(bars: Bars) -> tuple[float, ...]:
    """The share of a section's written time at which each bar begins, and 1 for the end."""
    ends = [0, *accumulate(bar.head.ticks for bar in bars)]
    return tuple(end / ends[-1] for end in ends)


class _Kept(NamedTuple):
    made_for: tuple[object, ...]
    section: Section
    pixmap: QPixmap


class StripPicture:
    """Paints a strip, and knows what lies where in the bars that it shows in small."""

    def __init__(self, look: Look) -> None:
        self._look = look
        self._kept: dict[str, _Kept] = {}  # by the section's id
        self.view: tuple[ViewEdge, ViewEdge] | None = None

    # Where things are

    def band(self, rect: QRect) -> QRect:
        """Where a block has its bars in small."""
        unit = self._look.unit
        height = unit(_BAND_UNITS)
        return QRect(rect.left() + 1, rect.bottom() - height - unit(0.5), rect.width() - 2, height)

    def x_of(self, strip: SectionStrip, edge: ViewEdge) -> float:
        """The x of a place of the lesson; of one that is gone the nearest there is."""
        sections, rects = strip.sections, strip.rects()
        index = min(edge.section, len(sections) - 1)
        bars, band = sections[index].bars, self.band(rects[index])
        bar = min(edge.bar, len(bars) - 1)
        ends = bar_ends(bars)
        share = min(1.0, edge.tick / bars[bar].head.ticks)
        return band.left() + band.width() * (ends[bar] + (ends[bar + 1] - ends[bar]) * share)

    def place_at(self, strip: SectionStrip, where: QPoint) -> tuple[int, int] | None:
        """Section and bar, from 0, of a point among the bars in small; None beside them."""
        for index, rect in enumerate(strip.rects()):
            band = self.band(rect)
            if band.contains(where):
                share = (where.x() - band.left()) / max(1, band.width())
                bars = strip.sections[index].bars
                return index, min(bisect_right(bar_ends(bars), share), len(bars)) - 1
        return None

    def frame(self, strip: SectionStrip) -> QRect:
        """The frame around what the grid shows, and what is painted of it beyond."""
        if self.view is None:
            return QRect()
        left, right = (round(self.x_of(strip, edge)) for edge in self.view)
        band = self.band(strip.rects()[0])
        return QRect(left, band.top(), max(3, right - left), band.height()).adjusted(-3, -3, 3, 3)

    # Painting

    def paint(self, painter: QPainter, strip: SectionStrip, area: QRect) -> None:
        """Paint all blocks that reach into ``area``, and the frame."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, (rect, edge) in enumerate(zip(strip.rects(), strip.tempo_lines(), strict=True)):
            if rect.adjusted(-2, -rect.top(), 2, 2).intersects(area):
                self._block(painter, strip, index, rect, edge)
        frame = self.frame(strip)
        if frame.isValid():
            m = strip.metrics
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # crisp, or it is faint
            painter.setBrush(m.cursor_fill)
            painter.setPen(QPen(m.ochre, max(1, m.unit // 6)))
            painter.drawRect(frame.adjusted(2, 2, -3, -3))

    def _block(
        self,
        painter: QPainter,
        strip: SectionStrip,
        index: int,
        rect: QRect,
        edge: tuple[QPointF, QPointF],
    ) -> None:
        m, look, here = strip.metrics, self._look, index == strip.here
        start, end = edge
        left, right, bottom = start.x(), end.x(), float(rect.bottom())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(mixed(m.lines, m.surface, 0.35) if not here else m.surface)
        painter.drawPolygon(QPolygonF([start, end, QPointF(right, bottom), QPointF(left, bottom)]))
        band = self.band(rect)
        painter.drawPixmap(band.topLeft(), self._bars(strip, index, band))
        painter.setPen(m.cursor_pen if here else m.soft_pen)
        painter.drawLine(start, end)
        if here:
            painter.fillRect(QRect(round(left), rect.bottom() - 2, round(right - left), 3), m.ochre)
        for share in strip.blocks[index].flags:
            self._flag(painter, strip, start + (end - start) * min(1.0, share))
        box = QRect(rect.left() + m.unit, 0, rect.width() - m.unit - 4, 0)
        box.setTop(round(max(start.y(), end.y())) + 2)
        box.setBottom(band.top() - 1)
        self._text(painter, strip, index, box)
        if here and strip.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)  # crisp, or it is faint
            painter.setPen(QPen(look.colour("blue"), 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -4))  # above the ochre line
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _flag(self, painter: QPainter, strip: SectionStrip, foot: QPointF) -> None:
        unit, m = self._look.unit, strip.metrics
        up = QPointF(0, unit(0.75))
        painter.setPen(m.soft_pen)
        painter.drawLine(foot - up, foot + QPointF(0, unit(1)))
        flag = [QPointF(0, 0), QPointF(unit(0.75), unit(0.3)), QPointF(0, unit(0.6))]
        painter.setBrush(m.soft)
        painter.drawPolygon(QPolygonF(flag).translated(foot - up))

    def _text(self, painter: QPainter, strip: SectionStrip, index: int, box: QRect) -> None:
        m, head = strip.metrics, strip.sections[index].head
        unit = m.unit
        painter.setPen(m.ochre if index == strip.here else m.ink)
        painter.setFont(m.strong_font)
        painter.drawText(box, _LEFT, head.letter)
        taken = m.strong_fm.horizontalAdvance(head.letter) + unit
        room = box.width() - taken
        if room < unit * 3:
            return
        words = head.name if head.times == 1 else f"{head.name}  ×{head.times}".strip()
        painter.setPen(m.ink_pen)
        painter.setFont(m.text_font)
        text = m.text_fm.elidedText(words, Qt.TextElideMode.ElideRight, room)
        line = QRect(box.left() + taken, box.top(), room, box.height())
        painter.drawText(line, _LEFT, text)
        needed = m.text_fm.horizontalAdvance(text) + unit * 2
        time = clock_text(strip.blocks[index].seconds)
        if room - needed > m.sign_fm.horizontalAdvance(time):
            painter.setPen(m.soft_pen)
            painter.setFont(m.sign_font)
            painter.drawText(
                line, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, time
            )

    # The bars in small

    def _bars(self, strip: SectionStrip, index: int, band: QRect) -> QPixmap:
        """The picture of a section's bars, made now if it is not the one that is kept."""
        section, parts = strip.sections[index], strip.parts
        ratio, ink = strip.devicePixelRatioF(), strip.metrics.soft
        made_for = (band.width(), band.height(), ratio, ink.rgb(), parts)
        kept = self._kept.get(section.id)
        if kept is not None and kept.section is section and kept.made_for == made_for:
            return kept.pixmap
        pixmap = QPixmap(round(band.width() * ratio), round(band.height() * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        paint_bars(painter, section, parts, band.width(), band.height(), ink)
        painter.end()
        self._kept[section.id] = _Kept(made_for, section, pixmap)
        return pixmap

    def forget_all_but(self, sections: list[Section]) -> None:
        """Keep no pictures of sections that are gone."""
        ids = {section.id for section in sections}
        self._kept = {each: kept for each, kept in self._kept.items() if each in ids}


def paint_bars(
    painter: QPainter,
    section: Section,
    parts: tuple[Part, ...],
    width: int,
    height: int,
    ink: QColor,
) -> None:
    """Paint the bars of a section into so many pixels."""
    setups = tuple(setup_in(section, part) for part in parts)
    ends = bar_ends(section.bars)

    def y(pitch: int) -> float:
        share = (min(_HIGHEST, max(_LOWEST, pitch)) - _LOWEST) / (_HIGHEST - _LOWEST)
        return (height - 2) * (1 - share)

    for index, bar in enumerate(section.bars):
        strokes = strokes_of(bar, setups)
        if not strokes:
            continue
        left, right = width * ends[index], width * ends[index + 1]
        if right - left < _HAIRLINE:
            colour = QColor(ink)
            colour.setAlphaF(0.3 + 0.7 * min(1.0, sum(map(len, bar.notes)) / _DENSE))
            top, foot = y(max(one.high for one in strokes)), y(min(one.low for one in strokes))
            painter.fillRect(QRectF(left, top, max(1.0, right - left - 1), foot - top + 2), colour)
            continue
        for one in strokes:
            x, top = left + (right - left) * one.at, y(one.high)
            painter.fillRect(QRectF(x + 1, top, 2, y(one.low) - top + 2), ink)
