"""How a drag is painted: ochre where it would go, a dashed line where it came from."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from chalkfret.desk.riffs.metrics import Metrics


def outline(painter: QPainter, m: Metrics, rect: QRect, *, refused: bool = False) -> None:
    """Where it would go; in the colour of warnings, crossed out, where it cannot."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(m.warning if refused else m.ochre, m.px(2)))
    inner = rect.adjusted(m.px(1), 0, -m.px(2), -m.px(1))
    painter.drawRoundedRect(inner, m.px(3), m.px(3))
    if refused:
        painter.drawLine(inner.bottomLeft(), inner.topRight())


def trace(painter: QPainter, m: Metrics, rect: QRect) -> None:
    """Where it was."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(m.soft, m.px(1), Qt.PenStyle.DashLine))
    painter.drawRoundedRect(rect.adjusted(m.px(1), 0, -m.px(2), -m.px(1)), m.px(3), m.px(3))


def tag(
    painter: QPainter, m: Metrics, at: QPoint, text: str, room: QRect, *, refused: bool = False
) -> None:
    """A short word beside the pointer: on the surface's colour, kept within ``room``."""
    pad = m.unit // 2
    wide = m.strong_fm.horizontalAdvance(text) + 2 * pad
    box = QRect(at.x() + m.unit, at.y() - m.text_fm.height() - m.unit, wide, m.text_fm.height())
    box.moveLeft(max(room.left(), min(box.left(), room.right() - wide)))
    box.moveTop(max(room.top(), min(box.top(), room.bottom() - box.height())))
    ground = QColor(m.surface)
    painter.setPen(QPen(m.warning if refused else m.ochre, m.px(1)))
    painter.setBrush(ground)
    painter.drawRoundedRect(box, m.px(3), m.px(3))
    painter.setFont(m.strong_font)
    painter.setPen(m.warning if refused else m.ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
