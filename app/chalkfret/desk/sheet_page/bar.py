"""The row above the pages: where one is, how large the pages are, and the panel's button."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from chalkfret.desk.keys.tips import does
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.choice import Choice
from chalkfret.desk.pieces.dress import follow, small
from chalkfret.desk.pieces.flow import Flow
from chalkfret.desk.pieces.tools import tool
from chalkfret.desk.sheet_page.view import Fit
from chalkfret.model import Lesson
from chalkfret.words.text import _


class SheetBar(QWidget):
    """Buttons that send what they are pressed for."""

    turned = Signal(int)  # so many pages on
    section_chosen = Signal(object)  # a section's id
    zoomed = Signal(int)  # so many sizes larger
    fitted = Signal(object)  # a Fit
    panel_wished = Signal(bool)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setProperty("ground", "panel")
        self.back = does(tool(look, "back", _("Page before"), quiet=True), "sheet_back")
        self.next = does(tool(look, "next", _("Next page"), quiet=True), "sheet_next")
        self.page = QLabel()
        self.sections = Choice(name=_("Go to a section"))
        self.sections.setPlaceholderText(_("first page"))
        self.smaller = does(tool(look, "smaller", _("Smaller"), quiet=True), "sheet_smaller")
        self.larger = does(tool(look, "larger", _("Larger"), quiet=True), "sheet_larger")
        self.zoom = QLabel()
        self.width_fit = does(
            tool(look, "fit-width", _("As wide as the window"), quiet=True), "sheet_width"
        )
        self.page_fit = does(tool(look, "fit-page", _("The whole page"), quiet=True), "sheet_page")
        self.panel = tool(look, "words", _("Words and paper"), _("Words and paper"), quiet=True)
        for button in (self.width_fit, self.page_fit, self.panel):
            button.setCheckable(True)
        groups = (
            (self.back, self.page, self.next),
            (small(look, _("Section")), self.sections),
            (self.smaller, self.zoom, self.larger, self.width_fit, self.page_fit),
            (self.panel,),
        )
        self._flow = Flow()
        for group in groups:
            self._flow.addWidget(_row(*group))
        self._frame = QVBoxLayout(self)
        self._frame.addLayout(self._flow)
        self._connect()
        follow(self, look, self._dress)

    def _connect(self) -> None:
        self.back.clicked.connect(lambda: self.turned.emit(-1))
        self.next.clicked.connect(lambda: self.turned.emit(1))
        self.sections.chosen.connect(self.section_chosen)
        self.smaller.clicked.connect(lambda: self.zoomed.emit(-1))
        self.larger.clicked.connect(lambda: self.zoomed.emit(1))
        self.width_fit.clicked.connect(lambda: self.fitted.emit(Fit.WIDTH))
        self.page_fit.clicked.connect(lambda: self.fitted.emit(Fit.PAGE))
        self.panel.toggled.connect(self.panel_wished)

    def show_page(self, page: int, count: int) -> None:
        """Say which page is looked at, from 0, and how many there are."""
        words = _("Page {page} of {count}").format(page=page + 1, count=count)
        if words != self.page.text():
            self.page.setText(words)
            self.page.setAccessibleName(words)
        self.back.setEnabled(page > 0)
        self.next.setEnabled(page + 1 < count)

    def show_sections(self, lesson: Lesson, here: str | None) -> None:
        """Offer the lesson's sections, with the one that is looked at."""
        self.sections.set_choices(
            {one.id: f"{one.head.letter}  {one.head.name}".rstrip() for one in lesson.sections}
        )
        self.sections.show_value(here)

    def show_zoom(self, zoom: float, fit: Fit) -> None:
        """Say how large the pages are and what decides it."""
        self.zoom.setText(_("{percent} %").format(percent=round(zoom * 100)))
        self.width_fit.setChecked(fit is Fit.WIDTH)
        self.page_fit.setChecked(fit is Fit.PAGE)

    def _dress(self) -> None:
        unit = self._look.unit
        self._frame.setContentsMargins(unit(2), unit(0.5), unit(2), unit(0.5))
        self._flow.setSpacing(unit(2))
        self.page.setMinimumWidth(self.fontMetrics().horizontalAdvance(_("Page 00 of 00")))
        self.zoom.setMinimumWidth(self.fontMetrics().horizontalAdvance("400 %"))


def _row(*widgets: QWidget) -> QWidget:
    row = QWidget()
    layout = QHBoxLayout(row)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(4)
    for widget in widgets:
        if isinstance(widget, QLabel):
            widget.setWordWrap(False)
        layout.addWidget(widget)
    return row
