"""Pictures of pages, painted when they are first seen and kept while the page stays the same."""

from __future__ import annotations

from collections import OrderedDict
from math import ceil, floor

from msgspec.structs import replace
from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QColor, QPainter, QPixmap, QRegion

from chalkfret.sheet.display import Page, Placed
from chalkfret.sheet.look import Look as Inks
from chalkfret.sheet.painter import paint

_KEPT_PIXELS = 40_000_000  # of all pictures together: 160 MB
_OVER = 3.0  # mm that ink may stand out of its block

_Key = tuple[tuple[Placed, ...], int, Inks]


class Pictures:
    """Pictures by what is on the page, size and inks.

    Every edit makes new pages, but blocks that did not change are the same objects. A page with
    the same blocks at the same places is the same picture; one that differs from the page before
    in some of them takes over its picture and is painted where they stand.
    """

    def __init__(self) -> None:
        self._kept: OrderedDict[_Key, QPixmap] = OrderedDict()
        self._latest: dict[tuple[int, int, Inks], _Key] = {}  # by the page's number

    def of(self, page: Page, size: QSize, inks: Inks) -> QPixmap:
        """The page as a picture of ``size`` device pixels."""
        key = (page.placed, size.width(), inks)
        place = (page.number, size.width(), inks)
        found = self._kept.get(key)
        if found is None:
            found = self._mended(page, size, inks, self._latest.get(place))
            self._kept[key] = found
            self._drop_oldest()
        self._kept.move_to_end(key)
        self._latest[place] = key
        return found

    def _mended(self, page: Page, size: QSize, inks: Inks, before: _Key | None) -> QPixmap:
        picture = None if before is None else self._kept.get(before)
        if before is None or picture is None or picture.size() != size:
            picture = QPixmap(size)
            changed = QRegion(picture.rect())
        else:
            # One rectangle: edges cut by several come out a shade different.
            changed = QRegion(_changed(before[0], page, size).boundingRect())
            if 2 * changed.boundingRect().height() > size.height():
                picture, changed = QPixmap(size), QRegion(QRect(0, 0, size.width(), size.height()))
            else:
                del self._kept[before]
        _paint(picture, page, inks, changed)
        return picture

    def _drop_oldest(self) -> None:
        pixels = sum(picture.width() * picture.height() for picture in self._kept.values())
        while pixels > _KEPT_PIXELS and len(self._kept) > 1:
            _key, picture = self._kept.popitem(last=False)
            pixels -= picture.width() * picture.height()


def _changed(before: tuple[Placed, ...], page: Page, size: QSize) -> QRegion:
    """Where blocks went, came or moved, across the whole page, in pixels."""
    region = QRegion()
    for placed in set(before).symmetric_difference(page.placed):
        region = region.united(_rect(placed, page, size))
    return region


def _rect(placed: Placed, page: Page, size: QSize) -> QRect:
    scale = size.width() / page.width
    top = max(0, floor((placed.y - _OVER) * scale))
    bottom = min(size.height(), ceil((placed.y + placed.block.height + _OVER) * scale))
    return QRect(0, top, size.width(), max(0, bottom - top))


def _paint(picture: QPixmap, page: Page, inks: Inks, region: QRegion) -> None:
    """Paint the part of a page that lies in ``region``."""
    touched = tuple(
        one for one in page.placed if region.intersects(_rect(one, page, picture.size()))
    )
    painter = QPainter(picture)
    painter.setClipRegion(region)
    painter.fillRect(picture.rect(), QColor(inks.paper))
    paint(replace(page, placed=touched), painter, inks, picture.width() / page.width)
    painter.end()
