"""Pictures of pages, painted when they are first seen and kept while the page stays the same."""

from __future__ import annotations

from collections import OrderedDict

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPixmap

from chalkfret.sheet.display import Page, Placed
from chalkfret.sheet.look import Look as Inks
from chalkfret.sheet.painter import paint

_KEPT_PIXELS = 40_000_000  # of all pictures together: 160 MB


class Pictures:
    """Pictures by what is on the page, size and inks.

    Every edit makes new pages, but blocks that did not change are the same objects: a page with
    the same blocks at the same places is the same picture.
    """

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[tuple[Placed, ...], int, Inks], QPixmap] = OrderedDict()

    def of(self, page: Page, size: QSize, inks: Inks) -> QPixmap:
        """The page as a picture of ``size`` device pixels."""
        key = (page.placed, size.width(), inks)
        found = self._kept.get(key)
        if found is not None:
            self._kept.move_to_end(key)
            return found
        picture = QPixmap(size)
        picture.fill(QColor(inks.paper))
        painter = QPainter(picture)
        paint(page, painter, inks, size.width() / page.width)
        painter.end()
        self._kept[key] = picture
        self._drop_oldest()
        return picture

    def _drop_oldest(self) -> None:
        pixels = sum(picture.width() * picture.height() for picture in self._kept.values())
        while pixels > _KEPT_PIXELS and len(self._kept) > 1:
            _key, picture = self._kept.popitem(last=False)
            pixels -= picture.width() * picture.height()
