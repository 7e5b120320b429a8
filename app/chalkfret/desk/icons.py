"""Our own line icons: one stroke width, drawn in whatever colour the palette gives.

The files in ``resources/icons`` are 24 x 24 paths that say ``currentColor`` (but the ticks, which
the style sheet shows as they are).
"""

from __future__ import annotations

from functools import lru_cache
from math import ceil

from PySide6.QtCore import QByteArray, QRectF, Qt
from PySide6.QtGui import QColor, QGuiApplication, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from chalkfret.places import RESOURCES


def icon(name: str, side: int, colour: QColor, off: QColor | None = None) -> QIcon:
    """The icon for ``side`` logical pixels; in ``off`` where what it stands on cannot be used.

    It is drawn for the screens there are and, for one that comes later, at twice the size.
    """
    made = QIcon()
    ratios = {screen.devicePixelRatio() for screen in QGuiApplication.screens()}
    for size in sorted({ceil(side * ratio) for ratio in (1, 2, *ratios)}):
        made.addPixmap(pixmap(name, colour, size), QIcon.Mode.Normal)
        if off is not None:
            made.addPixmap(pixmap(name, off, size), QIcon.Mode.Disabled)
    return made


def pixmap(name: str, colour: QColor, size: int) -> QPixmap:
    """The icon as a picture of ``size`` x ``size`` device pixels."""
    picture = QPixmap(size, size)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _renderer(name, colour.name()).render(painter, QRectF(0, 0, size, size))
    painter.end()
    return picture


@lru_cache(maxsize=8)
def _renderer(name: str, colour: str) -> QSvgRenderer:
    source = (RESOURCES / "icons" / f"{name}.svg").read_text(encoding="utf-8")
    return QSvgRenderer(QByteArray(source.replace("currentColor", colour).encode()))
