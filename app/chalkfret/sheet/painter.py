"""Paints pages of the display list with a QPainter: on the screen and into a PDF alike.

A block is turned once into Qt's own values (lines by pen, glyph runs by font, one outline for all
music signs of an ink) and kept as long as the block lives; painting is then a few calls a block.
Units: the painter is scaled so that 1/1200 inch is one unit, in which fonts have whole sizes.
"""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from typing import Final
from weakref import WeakKeyDictionary

from msgspec import Struct
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QGlyphRun, QPainter, QPainterPath, QPen, QTransform

from chalkfret.sheet.display import Block, Box, Glyph, Ink, Line, Page, Shape, Text
from chalkfret.sheet.look import PRINT, Look
from chalkfret.sheet.paint_fonts import SHAPED, shape, sign, sized

UNITS: Final = 1200 / 25.4  # painter units a mm
_ORIGIN: Final = QPointF(0.0, 0.0)


class _Ready(Struct, frozen=True, eq=False):
    """A block in Qt's values; later lists lie over earlier ones."""

    boxes: tuple[tuple[Ink, float, list[QRectF]], ...]
    lines: tuple[tuple[Ink, float, list[QLineF]], ...]
    strokes: tuple[tuple[Ink, float, QPainterPath], ...]
    outlines: tuple[tuple[Ink, QPainterPath], ...]
    runs: tuple[tuple[Ink, QGlyphRun], ...]


_ready: WeakKeyDictionary[Block, _Ready] = WeakKeyDictionary()


def paint(page: Page, painter: QPainter, look: Look = PRINT, units_a_mm: float = UNITS) -> None:
    """Draw a page with its top left corner at the painter's origin.

    ``units_a_mm`` is how many of the painter's own units are one millimetre: pixels on a screen
    at 100 % and so on, 1200 / 25.4 on a QPdfWriter of 1200 dots an inch. The ground is not filled.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    scale = units_a_mm / UNITS
    painter.scale(scale, scale)
    for placed in page.placed:
        painter.translate(placed.x * UNITS, placed.y * UNITS)
        _paint_block(placed.block, painter, look)
        painter.translate(-placed.x * UNITS, -placed.y * UNITS)
    painter.restore()


def _paint_block(block: Block, painter: QPainter, look: Look) -> None:
    ready = _ready.get(block)
    if ready is None:
        ready = _ready[block] = _prepare(block)
    painter.setPen(Qt.PenStyle.NoPen)
    for ink, radius, boxes in ready.boxes:
        painter.setBrush(_brush(look.colour(ink)))
        if radius:
            for box in boxes:
                painter.drawRoundedRect(box, radius, radius)
        else:
            painter.drawRects(boxes)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for ink, width, lines in ready.lines:
        painter.setPen(_pen(look.colour(ink), width, False))
        painter.drawLines(lines)
    for ink, width, path in ready.strokes:
        painter.setPen(_pen(look.colour(ink), width, True))
        painter.drawPath(path)
    painter.setPen(Qt.PenStyle.NoPen)
    for ink, path in ready.outlines:
        painter.setBrush(_brush(look.colour(ink)))
        painter.drawPath(path)
    for ink, run in ready.runs:
        painter.setPen(_pen(look.colour(ink), 1.0, False))
        painter.drawGlyphRun(_ORIGIN, run)


@lru_cache(maxsize=256)
def _pen(colour: str, width: float, rounded: bool) -> QPen:
    cap = Qt.PenCapStyle.RoundCap if rounded else Qt.PenCapStyle.FlatCap
    join = Qt.PenJoinStyle.RoundJoin if rounded else Qt.PenJoinStyle.MiterJoin
    return QPen(QBrush(QColor(colour)), width, Qt.PenStyle.SolidLine, cap, join)


@lru_cache(maxsize=64)
def _brush(colour: str) -> QBrush:
    return QBrush(QColor(colour))


def _prepare(block: Block) -> _Ready:
    boxes: dict[tuple[Ink, float], list[QRectF]] = defaultdict(list)
    lines: dict[tuple[Ink, float], list[QLineF]] = defaultdict(list)
    strokes: dict[tuple[Ink, float], QPainterPath] = defaultdict(QPainterPath)
    outlines: dict[Ink, QPainterPath] = {}
    texts: list[Text] = []
    for item in block.items:
        if isinstance(item, Line):
            lines[item.ink, item.width].append(
                QLineF(item.x1 * UNITS, item.y1 * UNITS, item.x2 * UNITS, item.y2 * UNITS)
            )
        elif isinstance(item, Text):
            texts.append(item)
        elif isinstance(item, Box):
            boxes[item.ink, item.radius].append(
                QRectF(item.x * UNITS, item.y * UNITS, item.width * UNITS, item.height * UNITS)
            )
        elif isinstance(item, Glyph):
            _add_sign(_outline(outlines, item.ink), item)
        elif item.width:
            _add_curve(strokes[item.ink, item.width], item)
        else:
            path = _outline(outlines, item.ink)
            _add_curve(path, item)
            path.closeSubpath()
    return _Ready(
        tuple((ink, radius * UNITS, found) for (ink, radius), found in boxes.items()),
        tuple((ink, width * UNITS, found) for (ink, width), found in lines.items()),
        tuple((ink, width * UNITS, path) for (ink, width), path in strokes.items()),
        tuple(outlines.items()),
        _glyph_runs(texts),
    )


def _outline(outlines: dict[Ink, QPainterPath], ink: Ink) -> QPainterPath:
    path = outlines.get(ink)
    if path is None:
        path = outlines[ink] = QPainterPath()
        path.setFillRule(Qt.FillRule.WindingFill)
    return path


def _add_sign(path: QPainterPath, item: Glyph) -> None:
    scale = item.size * UNITS / SHAPED
    move = QTransform(scale, 0.0, 0.0, scale, item.x * UNITS, item.y * UNITS)
    path.addPath(move.map(sign(item.code)))


def _add_curve(path: QPainterPath, item: Shape) -> None:
    path.moveTo(item.start[0] * UNITS, item.start[1] * UNITS)
    for segment in item.segments:
        scaled = [number * UNITS for number in segment]
        if len(scaled) == 2:
            path.lineTo(*scaled)
        else:
            path.cubicTo(*scaled)


def _glyph_runs(texts: list[Text]) -> tuple[tuple[Ink, QGlyphRun], ...]:
    """The texts in their order, neighbours of one font, size and ink as one run of glyphs.

    The order is that in which a PDF is read aloud or copied, so it is never changed.
    """
    out: list[tuple[Ink, QGlyphRun]] = []
    last: tuple[Ink, int, int] | None = None
    indices: list[int] = []
    places: list[QPointF] = []
    for text in texts:
        size = text.size * UNITS
        x, y = text.x * UNITS, text.y * UNITS
        for run in shape(text.text, text.face).runs:
            key = (text.ink, round(size * run.em), run.font)
            if key != last:
                if last is not None:
                    out.append((last[0], _glyph_run(last, indices, places)))
                last, indices, places = key, [], []
            indices += run.indices
            places += [QPointF(x + one * size, y + two * size) for one, two in run.places]
    if last is not None:
        out.append((last[0], _glyph_run(last, indices, places)))
    return tuple(out)


def _glyph_run(key: tuple[Ink, int, int], indices: list[int], places: list[QPointF]) -> QGlyphRun:
    run = QGlyphRun()
    run.setRawFont(sized(key[2], key[1]))
    run.setGlyphIndexes(indices)
    run.setPositions(places)
    return run
