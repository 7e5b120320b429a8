"""The sheet's pages one below the other, at any size, as crisp as the screen is."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea

from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow
from chalkfret.desk.sheet_page.pictures import Pictures
from chalkfret.sheet.display import Page
from chalkfret.sheet.layout import Sheet
from chalkfret.sheet.look import PRINT
from chalkfret.sheet.look import Look as Inks
from chalkfret.sheet.painter import paint
from chalkfret.words.text import _

ZOOM_STEPS = (0.25, 0.33, 0.5, 0.67, 0.75, 0.9, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 4.0)
_INCH = 25.4  # mm
_DIRECT_PIXELS = 9_000_000  # larger pages are painted anew: only the part that is seen


class Fit(StrEnum):
    """What decides the size of the pages."""

    WIDTH = "width"
    PAGE = "page"
    FREE = "free"


class SheetView(QAbstractScrollArea):
    """Shows a ``Sheet``. Pages count from 0 here, in ``Sheet`` from 1."""

    page_changed = Signal(int)  # the page that is looked at
    zoom_changed = Signal()

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._sheet: Sheet | None = None
        self._inks = PRINT
        self._pictures = Pictures()
        self.fit = Fit.WIDTH
        self._zoom = 1.0
        self._current = 0
        self._wheel = 0
        self._came_by_keys = False  # a frame shows the focus to those who did not click
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFrameShape(QAbstractScrollArea.Shape.NoFrame)
        self.setAccessibleName(_("The sheet's pages"))
        self.setAccessibleDescription(_("The arrow keys scroll, Page Up and Page Down turn pages."))
        self.viewport().setMouseTracking(False)
        self.verticalScrollBar().valueChanged.connect(self._follow)
        follow(self, look, self._dress)

    # What is shown

    def show_sheet(self, sheet: Sheet, inks: Inks) -> None:
        """Show these pages from now on, and stay where one was looking."""
        self._sheet, self._inks = sheet, inks
        self._measure(keep_place=True)
        self.viewport().update()
        self._tell_page()

    @property
    def count(self) -> int:
        """How many pages there are."""
        return 0 if self._sheet is None else self._sheet.page_count

    @property
    def current(self) -> int:
        """The page that is looked at, from 0."""
        return min(self._current, max(0, self.count - 1))

    def place(self) -> tuple[int, float]:
        """What is looked at: the page from 0, and mm from its top."""
        step = self._page_size().height() + self._gap()
        seen = self.verticalScrollBar().value() + self.viewport().height() / 3 - self._gap()
        page = max(0, min(self.count - 1, int(seen // step)))
        return page, (seen - page * step) / self._scale()

    @property
    def zoom(self) -> float:
        """The size of the pages: 1 where a millimetre is as large as the system says it is."""
        return self._zoom

    def set_zoom(self, zoom: float) -> None:
        """Choose a size of one's own."""
        self.fit = Fit.FREE
        self._set_zoom(min(ZOOM_STEPS[-1], max(ZOOM_STEPS[0], zoom)))

    def set_fit(self, fit: Fit) -> None:
        """Let the window's width or height decide the size."""
        self.fit = fit
        self._measure(keep_place=True)
        self.zoom_changed.emit()

    def step_zoom(self, steps: int) -> None:
        """The next size up or down."""
        if steps > 0:
            larger = [step for step in ZOOM_STEPS if step > self._zoom * 1.01]
            self.set_zoom(larger[0] if larger else ZOOM_STEPS[-1])
        else:
            smaller = [step for step in ZOOM_STEPS if step < self._zoom * 0.99]
            self.set_zoom(smaller[-1] if smaller else ZOOM_STEPS[0])

    def go_to(self, page: int, y_mm: float = 0.0) -> None:
        """Bring a page to the top, or a place on it."""
        if not 0 <= page < self.count:
            return
        top = self._page_top(page)
        gap = self._gap() if y_mm == 0 else 0
        self.verticalScrollBar().setValue(round(top - gap + y_mm * self._scale()))
        self._current = page
        self._tell_page()

    # Measures, in pixels of the window

    def _gap(self) -> int:
        return self._look.unit(2)

    def _scale(self) -> float:
        """Pixels a millimetre."""
        return self._zoom * self.logicalDpiX() / _INCH

    def _page_size(self) -> QSize:
        sheet = self._sheet
        if sheet is None:
            return QSize(0, 0)
        width, height = sheet.page_size
        return QSize(round(width * self._scale()), round(height * self._scale()))

    def _page_top(self, page: int) -> float:
        return self._gap() + page * (self._page_size().height() + self._gap())

    def _fitting(self) -> float:
        sheet = self._sheet
        if sheet is None or self.fit is Fit.FREE:
            return self._zoom
        space = self.viewport().size()
        width, height = sheet.page_size
        across = (space.width() - 2 * self._gap()) / width
        down = (space.height() - 2 * self._gap()) / height
        pixels = across if self.fit is Fit.WIDTH else min(across, down)
        return max(0.05, pixels * _INCH / self.logicalDpiX())

    def _set_zoom(self, zoom: float) -> None:
        if abs(zoom - self._zoom) > 1e-6:
            self._zoom = zoom
            self._measure(keep_place=True)
        self.zoom_changed.emit()

    def _measure(self, keep_place: bool) -> None:
        """Set the scroll bars for the pages there are; stay at the same place of the sheet."""
        bar = self.verticalScrollBar()
        height = max(1, getattr(self, "_height", 0))
        place = bar.value() / height if keep_place else 0.0
        zoom = self._fitting()
        if abs(zoom - self._zoom) > 1e-6:
            self._zoom = zoom
            self.zoom_changed.emit()
        size = self._page_size()
        self._height = round(self._page_top(self.count))
        width = size.width() + 2 * self._gap()
        space = self.viewport().size()
        self.horizontalScrollBar().setRange(0, max(0, width - space.width()))
        self.horizontalScrollBar().setPageStep(space.width())
        bar.setRange(0, max(0, self._height - space.height()))
        bar.setPageStep(max(1, space.height() - self._gap()))
        bar.setSingleStep(self._look.unit(4))
        if keep_place:
            bar.setValue(round(place * self._height))
        self.viewport().update()

    def page_rect(self, page: int) -> QRect:
        """Where a page stands in the viewport."""
        size = self._page_size()
        left = (self.viewport().width() - size.width()) // 2
        if self.horizontalScrollBar().maximum() > 0:
            left = self._gap() - self.horizontalScrollBar().value()
        top = round(self._page_top(page)) - self.verticalScrollBar().value()
        return QRect(QPoint(left, top), size)

    def _visible_pages(self, area: QRect) -> range:
        step = self._page_size().height() + self._gap()
        if step <= self._gap():
            return range(0)
        scrolled = self.verticalScrollBar().value()
        first = (area.top() + scrolled - self._gap()) // step
        last = (area.bottom() + scrolled - self._gap()) // step
        return range(max(0, first), min(self.count, last + 1))

    # Qt's events

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        painter.fillRect(event.rect(), self._look.colour("panel"))
        for number in self._visible_pages(event.rect()):
            self._paint_page(painter, number, event.rect())
        if self._came_by_keys and self.hasFocus():
            # Two lines: one of them stands out from the panel, one from white paper.
            for inset, colour in ((1, "blue"), (3, "panel")):
                painter.setPen(QPen(self._look.colour(colour), 2))
                painter.drawRect(self.viewport().rect().adjusted(inset, inset, -inset, -inset))
        painter.end()

    def _paint_page(self, painter: QPainter, number: int, area: QRect) -> None:
        sheet = self._sheet
        if sheet is None:
            return
        page = sheet.page(number + 1)
        rect = self.page_rect(number)
        ratio = self.devicePixelRatioF()
        size = QSize(round(rect.width() * ratio), round(rect.height() * ratio))
        if size.width() * size.height() <= _DIRECT_PIXELS:
            picture = self._pictures.of(page, size, self._inks)
            painter.drawPixmap(QRectF(rect), picture, QRectF(picture.rect()))
        else:
            self._paint_directly(painter, page, rect, area)
        edge = QPen(self._look.colour("lines"), 0)
        painter.setPen(edge)
        painter.drawRect(QRectF(rect).adjusted(-0.5, -0.5, 0.5, 0.5))

    def _paint_directly(self, painter: QPainter, page: Page, rect: QRect, area: QRect) -> None:
        painter.save()
        painter.setClipRect(rect.intersected(area))
        painter.fillRect(rect, QColor(self._inks.paper))
        painter.translate(QPointF(rect.topLeft()))
        paint(page, painter, self._inks, self._scale())
        painter.restore()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._measure(keep_place=True)

    def _dress(self) -> None:
        self.viewport().update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._came_by_keys = event.reason() is not Qt.FocusReason.MouseFocusReason
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.viewport().update()

    def _follow(self) -> None:
        """Scrolled: the page in the upper part of the window is the one looked at."""
        self._current = self.place()[0]
        self.viewport().update()
        self._tell_page()

    def _tell_page(self) -> None:
        self.page_changed.emit(self.current)

    def wheelEvent(self, event: QWheelEvent) -> None:
        if not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().wheelEvent(event)
            return
        self._wheel += event.angleDelta().y()
        steps = int(self._wheel / 120)
        if steps:
            self._wheel -= steps * 120
            self.step_zoom(steps)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar, key = self.verticalScrollBar(), event.key()
        moves: dict[int, int] = {
            Qt.Key.Key_Down: bar.singleStep(),
            Qt.Key.Key_Up: -bar.singleStep(),
            Qt.Key.Key_Space: bar.pageStep(),
            Qt.Key.Key_Home: -bar.maximum(),
            Qt.Key.Key_End: bar.maximum(),
        }
        if event.modifiers() == Qt.KeyboardModifier.NoModifier and key in moves:
            bar.setValue(bar.value() + moves[key])
        else:
            super().keyPressEvent(event)
