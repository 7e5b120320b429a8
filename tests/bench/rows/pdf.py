"""A PDF of 50 pages against a plain program with QPdfWriter drawing as many lines and texts.

No two bars of the lesson are alike, so nothing of the layout is remembered from one to the next.
"""

import itertools
import time

from PySide6.QtCore import QBuffer, QIODevice, QLineF, QPointF
from PySide6.QtGui import QFont, QPainter, QPdfWriter, QPen

from chalkfret.files.pdf import pdf_bytes
from chalkfret.sheet.display import Item, Line, Text
from chalkfret.sheet.layout import Sheet, SheetRequest, sheet
from chalkfret.sheet.paint_app import ensure_app
from chalkfret.sheet.paint_fonts import measurer
from tests.bench.lessons import long_lesson

NAME = "PDF of 50 pages / QPdfWriter drawing as many lines and texts"
BUDGET = 2.0
PAGES = 50
DOTS_A_MM = 1200 / 25.4

_seeds = itertools.count(2)
_bars = 0


def prepare() -> None:
    global _bars
    ensure_app()
    pdf_bytes(long_lesson(20))
    few = 200
    _bars = few * PAGES // sheet(long_lesson(few), SheetRequest(), measurer()).page_count


def measure() -> tuple[float, float]:
    lesson = long_lesson(_bars, next(_seeds))
    began = time.perf_counter()
    pdf_bytes(lesson)
    ours = time.perf_counter() - began
    made = sheet(lesson, SheetRequest(), measurer())
    assert abs(made.page_count - PAGES) <= PAGES / 5, made.page_count
    return ours, _raw(made)


def _raw(made: Sheet) -> float:
    """Seconds of the plain program: a text for a text, a line for anything else, as it comes."""
    pages = [
        [(x * DOTS_A_MM, y * DOTS_A_MM, item) for x, y, item in made.page(number).items()]
        for number in range(1, made.page_count + 1)
    ]
    fonts: dict[float, QFont] = {}
    pens: dict[float, QPen] = {}
    began = time.perf_counter()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(1200)
    painter = QPainter(writer)
    for page in pages:
        for x, y, item in page:
            _draw(painter, x, y, item, fonts, pens)
        writer.newPage()
    painter.end()
    return time.perf_counter() - began


def _draw(
    painter: QPainter,
    x: float,
    y: float,
    item: Item,
    fonts: dict[float, QFont],
    pens: dict[float, QPen],
) -> None:
    if isinstance(item, Text):
        if item.size not in fonts:
            font = fonts[item.size] = QFont("sans-serif")
            font.setPixelSize(round(item.size * DOTS_A_MM))
        painter.setFont(fonts[item.size])
        painter.drawText(QPointF(x + item.x * DOTS_A_MM, y + item.y * DOTS_A_MM), item.text)
        return
    ends, width = (0.0, 0.0, 2.0, 2.0), 0.2
    if isinstance(item, Line):
        ends, width = (item.x1, item.y1, item.x2, item.y2), item.width
    if width not in pens:
        pens[width] = QPen()
        pens[width].setWidthF(width * DOTS_A_MM)
    painter.setPen(pens[width])
    x1, y1, x2, y2 = ends
    painter.drawLine(
        QLineF(x + x1 * DOTS_A_MM, y + y1 * DOTS_A_MM, x + x2 * DOTS_A_MM, y + y2 * DOTS_A_MM)
    )
