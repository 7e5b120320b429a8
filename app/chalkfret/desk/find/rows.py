"""The list of what was found: what it is, where, and its key at the right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from chalkfret.desk.find.entries import Entries, Entry
from chalkfret.desk.look import SMALL, Look

if TYPE_CHECKING:
    Index = QModelIndex | QPersistentModelIndex

ENTRY = Qt.ItemDataRole.UserRole


class FoundModel(QAbstractListModel):
    """What was found; each row is written out when it is looked at."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._entries: Entries | None = None
        self._found: Sequence[Entry | tuple[int, int]] = ()

    def show_found(self, entries: Entries, found: Sequence[Entry | tuple[int, int]]) -> None:
        """Show these, the best first."""
        self.beginResetModel()
        self._entries, self._found = entries, found
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - as Qt has it
        return 0 if parent.isValid() else len(self._found)

    def entry(self, row: int) -> Entry | None:
        """What stands in a row; None where there is none."""
        if self._entries is None or not 0 <= row < len(self._found):
            return None
        one = self._found[row]
        return one if isinstance(one, Entry) else self._entries.bar(*one)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        entry = self.entry(index.row())
        if entry is None:
            return None
        if role == ENTRY:
            return entry
        if role == Qt.ItemDataRole.DisplayRole:
            return entry.text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return spoken(entry)
        return None


def spoken(entry: Entry) -> str:
    """An entry as one sentence for the ear."""
    return ", ".join(filter(None, (entry.text, entry.keys, entry.kind, entry.why_not())))


class FoundPainter(QStyledItemDelegate):
    """Paints a row: the text, what is missing or what it is, and the key at the right."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._look.unit(40), self.height)

    @property
    def height(self) -> int:
        """Of a row, in pixels."""
        return self._look.unit(3.25)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        entry: Entry | None = index.data(ENTRY)
        if entry is None:  # a bar that is gone since it was found
            return
        look, unit, rect = self._look, self._look.unit, option.rect
        why = entry.why_not()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(rect, look.colour("panel"))
            painter.fillRect(
                QRect(rect.left(), rect.top(), unit(0.5), rect.height()), look.colour("ochre")
            )
        inner = rect.adjusted(unit(2), 0, -unit(2), 0)
        keys = self._write(painter, inner, entry.keys, "ink" if not why else "soft", right=True)
        inner.setRight(inner.right() - keys - (unit(2) if keys else 0))
        ink = "soft" if why else "blue" if chosen else "ink"
        text = self._write(painter, inner, entry.text, ink, most=0.75)
        inner.setLeft(inner.left() + text + unit(2))
        self._write(painter, inner, why or entry.kind, "soft", small=True)

    def _write(
        self,
        painter: QPainter,
        rect: QRect,
        text: str,
        ink: str,
        *,
        right: bool = False,
        small: bool = False,
        most: float = 1.0,
    ) -> int:
        """Write in a line, cut where there is no room; the width it took."""
        look = self._look
        painter.setFont(look.font(SMALL if small else 1.0))
        painter.setPen(look.colour(ink))
        metrics = painter.fontMetrics()
        cut = metrics.elidedText(text, Qt.TextElideMode.ElideRight, round(rect.width() * most))
        side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
        painter.drawText(rect, side | Qt.AlignmentFlag.AlignVCenter, cut)
        return metrics.horizontalAdvance(cut)
