"""The list of all keys on paper: in columns under headings, on two pages at most.

Measures are of the device (dots); sizes of type are points.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, Qt
from PySide6.QtGui import (
    QFont,
    QFontMetricsF,
    QPagedPaintDevice,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QPen,
)
from PySide6.QtWidgets import QApplication

from chalkfret.desk.actions import Registry
from chalkfret.desk.keys_sheet import full_name
from chalkfret.words.text import _

MARGIN_MM = 14.0
COLUMNS = 3
PAGES_MOST = 2
_SIZES = (9.0, 8.5, 8.0, 7.5, 7.0, 6.5, 6.0)  # points, the first that fits is taken
_KEYS_SHARE = 0.43  # of a column's width
_LONG = 30  # rows
_DOTS = 1200  # a PDF's resolution, dots to an inch

Group = tuple[str, list[tuple[str, str]]]
"""A heading, and under it keys and what they do."""


def key_groups(registry: Registry) -> list[Group]:
    """Everything with a key, by the place where it works; a long place by its menus as well."""
    listed = [(action, where) for action, where in registry.entries() if action.keys_text()]
    sizes = Counter(where for _action, where in listed)
    found: dict[str, list[tuple[str, str]]] = {}
    for action, where in listed:
        names, text = [where or _("Everywhere")], full_name(action)
        if sizes[where] > _LONG and action.menu:
            names.append(_(action.menu).replace("&", ""))
            text = action.plain  # the heading says of what
        found.setdefault(" · ".join(names), []).append((action.keys_text(), text))
    return list(found.items())


@dataclass(frozen=True)
class _Piece:
    """A heading (no keys) or a row with its height, in a column counted from 0 over all pages."""

    keys: str
    text: str
    column: int
    top: float
    height: float


class _Setter:
    """Sets the groups into columns of one size of type."""

    def __init__(self, device: QPagedPaintDevice, area: QRectF, points: float) -> None:
        self.body = _font(points)
        self.strong = _font(points, strong=True)
        self.heading = _font(points * 1.15, strong=True)
        self.title = _font(points * 1.8, strong=True)
        self.gap = QFontMetricsF(self.body, device).height()
        self.area = area
        self.width = (area.width() - (COLUMNS - 1) * 2 * self.gap) / COLUMNS
        self._head = 3 * self.gap  # above the columns: the title, or the page's number
        self._device = device

    def top(self) -> float:
        return self.area.top() + self._head

    def keys_rect(self, piece: _Piece) -> QRectF:
        left = self.area.left() + (piece.column % COLUMNS) * (self.width + 2 * self.gap)
        return QRectF(left, piece.top, self.width * _KEYS_SHARE - self.gap / 2, piece.height)

    def text_rect(self, piece: _Piece) -> QRectF:
        rect = self.keys_rect(piece)
        share = _KEYS_SHARE if piece.keys else 0.0
        rect.setLeft(rect.left() + self.width * share)
        rect.setWidth(self.width * (1 - share))
        return rect

    def _height(self, text: str, font: QFont, width: float) -> float:
        room = QRectF(0, 0, width, 1e6)
        metrics = QFontMetricsF(font, self._device)
        return metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, text).height()

    def set(self, groups: Iterable[Group]) -> list[_Piece]:
        """Every heading and row at its place; a heading stays with its first row."""
        pieces: list[_Piece] = []
        column, y, bottom = 0, self.top(), self.area.bottom()
        for heading, rows in groups:
            high = self._height(heading, self.heading, self.width) + self.gap * 0.3
            for number, (whole, text) in enumerate(rows):
                keys = whole.replace("+", "+\u200b")  # where a line may end
                height = max(
                    self._height(keys, self.strong, self.width * _KEYS_SHARE - self.gap / 2),
                    self._height(text, self.body, self.width * (1 - _KEYS_SHARE)),
                )
                above = 0.0 if number else high + (self.gap if y > self.top() else 0.0)
                if y + above + height > bottom:
                    column, y = column + 1, self.top()
                    above = high if not number else 0.0
                if not number:
                    pieces.append(_Piece("", heading, column, y + above - high, high))
                    y += above
                pieces.append(_Piece(keys, text, column, y, height))
                y += height + self.gap * 0.12
        return pieces


def _font(points: float, strong: bool = False) -> QFont:
    font = QFont(QApplication.font())
    font.setPointSizeF(points)
    if strong:
        font.setWeight(QFont.Weight.DemiBold)
    return font


def paint_keys(device: QPagedPaintDevice, registry: Registry) -> int:
    """Paint the list on the device's pages; how many they are, 0 where it cannot be painted on."""
    painter = QPainter()
    if not painter.begin(device):
        return 0
    groups = key_groups(registry)
    area = QRectF(0, 0, painter.viewport().width(), painter.viewport().height())
    for points in _SIZES:
        setter = _Setter(device, area, points)
        pieces = setter.set(groups)
        pages = pieces[-1].column // COLUMNS + 1
        if pages <= PAGES_MOST:
            break
    for page in range(pages):
        if page:
            device.newPage()
        _paint_page(painter, setter, [one for one in pieces if one.column // COLUMNS == page],
                    page + 1, pages)  # fmt: skip
    painter.end()
    return pages


def _paint_page(
    painter: QPainter, setter: _Setter, pieces: list[_Piece], page: int, pages: int
) -> None:
    head = QRectF(setter.area.topLeft(), setter.area.topRight())
    head.setHeight(setter.gap * 2.2)
    centre = Qt.AlignmentFlag.AlignVCenter
    painter.setFont(setter.title)
    painter.drawText(head, centre | Qt.AlignmentFlag.AlignLeft, _("Chalkfret: all keys"))
    painter.setFont(setter.body)
    words = _("page {page} of {count}").format(page=page, count=pages)
    painter.drawText(head, centre | Qt.AlignmentFlag.AlignRight, words)
    painter.setPen(QPen(Qt.GlobalColor.black, setter.gap * 0.06))
    painter.drawLine(head.bottomLeft(), head.bottomRight())
    wrap = Qt.TextFlag.TextWordWrap
    for piece in pieces:
        painter.setFont(setter.body if piece.keys else setter.heading)
        painter.drawText(setter.text_rect(piece), wrap, piece.text)
        if piece.keys:
            painter.setFont(setter.strong)
            painter.drawText(setter.keys_rect(piece), wrap, piece.keys)


def page_layout(size: QPageSize) -> QPageLayout:
    """The page of the list: upright, with our margins."""
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    return QPageLayout(size, QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter)


def keys_pdf(registry: Registry, size: QPageSize) -> bytes:
    """The list as a PDF file."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_DOTS)
    writer.setTitle(_("Chalkfret: all keys"))
    writer.setPageLayout(page_layout(size))
    paint_keys(writer, registry)
    del writer  # which ends the file
    return bytes(buffer.data().data())
