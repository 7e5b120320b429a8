"""Paints pages of the display list with a QPainter: on the screen and into a PDF alike.

A block is turned once into Qt's own values (lines by pen, glyph runs by font, one outline for all
music signs of an ink) and kept as long as the block lives; painting is then a few calls a block.
Units: the painter is scaled so that 1/1200 inch is one unit, in which fonts have whole sizes and
strokes and letters whole places (0.02 mm, which keeps a PDF short).
"""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from math import inf
from threading import local
from typing import Final
from weakref import WeakKeyDictionary

from msgspec import Struct
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QGlyphRun,
    QPaintEngine,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)

from chalkfret.sheet.display import Block, Box, Face, Glyph, Ink, Line, Page, Shape, Text
from chalkfret.sheet.look import PRINT, Look
from chalkfret.sheet.paint_fonts import SHAPED, shape, sign, sized

UNITS: Final = 1200 / 25.4  # painter units a mm
_ORIGIN: Final = QPointF(0.0, 0.0)
_GLYPH_MOST: Final = 60  # device pixels: from 64 on Qt paints no glyphs of fonts like ours at all


_Run = tuple[Ink, int, QGlyphRun]  # with the pixels of its font


class _Ready(Struct, frozen=True, eq=False):
    """A block in Qt's values; later lists lie over earlier ones."""

    boxes: tuple[tuple[Ink, float, list[QRectF]], ...]
    lines: tuple[tuple[Ink, float, list[QLineF]], ...]
    strokes: tuple[tuple[Ink, float, QPainterPath], ...]
    outlines: tuple[tuple[Ink, QPainterPath], ...]
    runs: tuple[_Run, ...]


_Key = tuple[Ink, int, int]  # ink, pixels, and the font's number
_Scaled = tuple[tuple[_Key, tuple[int, ...], tuple[tuple[int, int], ...]], ...]


class _Kept(local):
    """What one thread keeps, since Qt's fonts belong to the thread that made them.

    ``texts`` are the texts met in a face, size and ink: one look-up each where many follow.
    """

    def __init__(self) -> None:
        self.ready: WeakKeyDictionary[Block, _Ready] = WeakKeyDictionary()
        self.texts: dict[tuple[Face, float, Ink], dict[str, _Scaled]] = {}


_kept: Final = _Kept()


def paint(page: Page, painter: QPainter, look: Look = PRINT, units_a_mm: float = UNITS) -> None:
    """Draw a page with its top left corner at the painter's origin.

    ``units_a_mm`` is how many of the painter's own units are one millimetre: pixels on a screen
    at 100 % and so on, 1200 / 25.4 on a QPdfWriter of 1200 dots an inch. The ground is not filled.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    scale = units_a_mm / UNITS
    painter.scale(scale, scale)
    most = _largest_font(painter)
    for placed in page.placed:
        x, y = round(placed.x * UNITS), round(placed.y * UNITS)
        painter.translate(x, y)
        _paint_block(placed.block, painter, look, most)
        painter.translate(-x, -y)
    painter.restore()


def _largest_font(painter: QPainter) -> float:
    """The largest size, in our units, whose letters Qt paints: larger ones are outlines."""
    if painter.paintEngine().type() is not QPaintEngine.Type.Raster:
        return inf  # a PDF keeps its letters
    return _GLYPH_MOST / max(painter.deviceTransform().m11(), 1e-9)


def _paint_block(block: Block, painter: QPainter, look: Look, most: float) -> None:
    ready = _kept.ready.get(block)
    if ready is None:
        ready = _kept.ready[block] = _prepare(block)
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
    for ink, pixels, run in ready.runs:
        if pixels > most:
            painter.fillPath(_run_outline(run), _brush(look.colour(ink)))
            continue
        painter.setPen(_pen(look.colour(ink), 1.0, False))
        painter.drawGlyphRun(_ORIGIN, run)


def _run_outline(run: QGlyphRun) -> QPainterPath:
    path, font = QPainterPath(), run.rawFont()
    path.setFillRule(Qt.FillRule.WindingFill)
    for index, place in zip(run.glyphIndexes(), run.positions(), strict=True):
        path.addPath(font.pathForGlyph(index).translated(place))
    return path


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
    pen: tuple[Ink, float] | None = None
    strokes_now: list[QLineF] = []
    for item in block.items:
        if isinstance(item, Line):
            if (item.ink, item.width) != pen:
                pen = item.ink, item.width
                strokes_now = lines[pen]
            x1, y1, x2, y2 = item.x1 * UNITS, item.y1 * UNITS, item.x2 * UNITS, item.y2 * UNITS
            strokes_now.append(QLineF(round(x1), round(y1), round(x2), round(y2)))
        elif isinstance(item, Text):
            texts.append(item)
        elif isinstance(item, Box):
            x, y, width, height = (
                item.x * UNITS, item.y * UNITS, item.width * UNITS, item.height * UNITS,
            )  # fmt: skip
            boxes[item.ink, item.radius].append(
                QRectF(round(x), round(y), round(width), round(height))
            )
        elif isinstance(item, Glyph):
            outline = _sized_sign(item.code, item.size)
            x, y = round(item.x * UNITS), round(item.y * UNITS)
            _outline(outlines, item.ink).addPath(outline.translated(x, y))
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


@lru_cache(maxsize=1024)
def _sized_sign(code: int, size: float) -> QPainterPath:
    """A music sign's outline in whole painter units."""
    scale = size * UNITS / SHAPED
    path = QTransform.fromScale(scale, scale).map(sign(code))
    for index in range(path.elementCount()):
        point = path.elementAt(index)
        path.setElementPositionAt(index, round(point.x), round(point.y))
    return path


def _add_curve(path: QPainterPath, item: Shape) -> None:
    path.moveTo(round(item.start[0] * UNITS), round(item.start[1] * UNITS))
    for segment in item.segments:
        if len(segment) == 2:
            path.lineTo(round(segment[0] * UNITS), round(segment[1] * UNITS))
        else:
            x1, y1, x2, y2, x3, y3 = segment
            path.cubicTo(
                round(x1 * UNITS), round(y1 * UNITS), round(x2 * UNITS), round(y2 * UNITS),
                round(x3 * UNITS), round(y3 * UNITS),
            )  # fmt: skip


_TEXTS_KEPT: Final = 20_000


def _scaled(text: Text, known: dict[str, _Scaled]) -> _Scaled:
    """A text's runs in painter units: key, glyph indices, and whole offsets of the glyphs."""
    units = text.size * UNITS
    if len(known) >= _TEXTS_KEPT:
        known.clear()
    made = known[text.text] = tuple(
        (
            (text.ink, round(units * run.em), run.font),
            run.indices,
            tuple((round(x * units), round(y * units)) for x, y in run.places),
        )
        for run in shape(text.text, text.face).runs
    )
    return made


def _glyph_runs(texts: list[Text]) -> tuple[_Run, ...]:
    """The texts in their order, neighbours of one font, size and ink as one run of glyphs.

    The order is that in which a PDF is read aloud or copied, so it is never changed.
    """
    out: list[_Run] = []
    last: _Key | None = None
    indices: list[int] = []
    places: list[QPointF] = []
    setting: tuple[Face, float, Ink] | None = None
    known: dict[str, _Scaled] = {}
    for text in texts:
        if (text.face, text.size, text.ink) != setting:
            setting = (text.face, text.size, text.ink)
            known = _kept.texts.setdefault(setting, {})
        x, y = round(text.x * UNITS), round(text.y * UNITS)
        for key, glyphs, offsets in known.get(text.text) or _scaled(text, known):
            if key != last:
                if last is not None:
                    out.append((last[0], last[1], _glyph_run(last, indices, places)))
                last, indices, places = key, [], []
            indices += glyphs
            for dx, dy in offsets:
                places.append(QPointF(x + dx, y + dy))
    if last is not None:
        out.append((last[0], last[1], _glyph_run(last, indices, places)))
    return tuple(out)


def _glyph_run(key: _Key, indices: list[int], places: list[QPointF]) -> QGlyphRun:
    run = QGlyphRun()
    run.setRawFont(sized(key[2], key[1]))
    run.setGlyphIndexes(indices)
    run.setPositions(places)
    return run
