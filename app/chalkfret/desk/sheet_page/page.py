"""The Sheet page: the lesson's sheet as it will print."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.fields import Field
from chalkfret.desk.sheet_page.bar import SheetBar
from chalkfret.desk.sheet_page.view import Fit, SheetView
from chalkfret.desk.sheet_page.words_panel import WordsPanel
from chalkfret.edits import CannotEdit, texts
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _

_ABOVE_BANNER = 4.0  # mm that stay to be seen above a banner that was jumped to
_PANEL_FROM = 110  # units of width from which the panel is shown unasked

# What an undo step calls a change of the lesson's head.
_UNDO = {
    "title": N_("title"),
    "subtitle": N_("subtitle"),
    "credit": N_("credit"),
    "supporter_line": N_("supporter line"),
    "licence": N_("licence line"),
    "sheet": N_("paper"),
    "note_naming": N_("names of notes"),
    "simple_names": N_("names of notes"),
}


class SheetPage(QWidget):
    """Lays the lesson out as it changes, and shows the page that is looked at first."""

    place_changed = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._stale = True
        self._shown_section = 0  # a sheet opens at its first page
        self._panel_wish: bool | None = None
        self.bar = SheetBar(look)
        self.view = SheetView(look)
        self.panel = WordsPanel(look)
        across = QHBoxLayout()
        across.setSpacing(0)
        across.addWidget(self.view, 1)
        across.addWidget(self.panel)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.bar)
        column.addLayout(across, 1)
        self._connect()

    def _connect(self) -> None:
        document, bar, view = self._document, self.bar, self.view
        document.changed.connect(self._lesson_changed)
        document.replaced.connect(self._lesson_replaced)
        bar.turned.connect(self._turn)
        bar.section_chosen.connect(self.go_to_section)
        bar.zoomed.connect(view.step_zoom)
        bar.fitted.connect(view.set_fit)
        bar.panel_wished.connect(self._wish_panel)
        view.page_changed.connect(self._tell_page)
        view.zoom_changed.connect(lambda: bar.show_zoom(view.zoom, view.fit))
        self.panel.edited.connect(self._change_head)

    def page_actions(self) -> tuple[Action, ...]:
        """What keys and menus do here."""
        menu, view, shown = N_("S&heet"), self.view, self.isVisible
        return (
            Action("sheet_next", _("&Next page"), ("PgDown",), menu, lambda: self._turn(1), shown),
            Action("sheet_back", _("Page &before"), ("PgUp",), menu, lambda: self._turn(-1), shown),
            Action("sheet_next_section", _("Next &section"), ("Ctrl+PgDown",), menu,
                   lambda: self._turn_section(1), shown),
            Action("sheet_back_section", _("Section be&fore"), ("Ctrl+PgUp",), menu,
                   lambda: self._turn_section(-1), shown),
            Action("sheet_larger", _("&Larger"), ("Ctrl++", "Ctrl+="), menu,
                   lambda: view.step_zoom(1), shown, separated=True),
            Action("sheet_smaller", _("S&maller"), ("Ctrl+-",), menu,
                   lambda: view.step_zoom(-1), shown),
            Action("sheet_width", _("As &wide as the window"), ("Ctrl+0",), menu,
                   lambda: view.set_fit(Fit.WIDTH), shown, lambda: view.fit is Fit.WIDTH),
            Action("sheet_page", _("The whole &page"), ("Ctrl+9",), menu,
                   lambda: view.set_fit(Fit.PAGE), shown, lambda: view.fit is Fit.PAGE),
            Action("sheet_words", _("Words and p&aper"), ("Ctrl+E",), menu, self._write_words,
                   shown, separated=True),
        )  # fmt: skip

    # What is shown

    def focusInEvent(self, event: QFocusEvent) -> None:
        # The page itself is no stop of Tab; who brings it to the front gets to its first task.
        super().focusInEvent(event)
        self.view.setFocus(event.reason())

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self._show()
        if self._document.section != self._shown_section:
            self._shown_section = self._document.section
            self.go_to_section(self._document.lesson.sections[self._document.section].id)
        self._tell_page(self.view.current)

    def _lesson_replaced(self) -> None:
        self._shown_section = 0
        if self.isVisible():
            self._show()
            self.view.go_to(0)
        else:
            self._stale = True

    def _lesson_changed(self, _before: Lesson, _after: Lesson) -> None:
        if self.isVisible():
            self._show()
        else:
            self._stale = True

    def _show(self) -> None:
        from chalkfret.sheet.layout import SheetRequest, sheet
        from chalkfret.sheet.look import BLACK, PRINT
        from chalkfret.sheet.paint_fonts import measurer

        self._stale = False
        lesson = self._document.lesson
        self._sheet = sheet(lesson, SheetRequest(), measurer())
        self.view.show_sheet(self._sheet, BLACK if lesson.head.sheet.black_ink else PRINT)
        self.panel.show_head(lesson.head)

    def go_to_section(self, section: str) -> None:
        """Bring a section's banner to the top."""
        for place in self._sheet.sections:
            if place.id == section:
                self.view.go_to(place.page - 1, place.y - _ABOVE_BANNER)

    def _turn(self, pages: int) -> None:
        self.view.go_to(self.view.current + pages)

    def _turn_section(self, steps: int) -> None:
        sections = [one.id for one in self._document.lesson.sections]
        here = self._section_here()
        at = (sections.index(here) if here in sections else -1) + steps
        if 0 <= at < len(sections):
            self.go_to_section(sections[at])

    def _section_here(self) -> str | None:
        """The last section that begins before the end of what is looked at."""
        place = self.view.place()
        begun = [one.id for one in self._sheet.sections if (one.page - 1, one.y) <= place]
        return begun[-1] if begun else None

    def _tell_page(self, page: int) -> None:
        self.bar.show_page(page, self.view.count)
        self.bar.show_sections(self._document.lesson, self._section_here())
        if self.isVisible():
            words = _("page {page} of {count}").format(page=page + 1, count=self.view.count)
            self.place_changed.emit(words)
            self._tell_reader(page + 1)

    def _tell_reader(self, number: int) -> None:
        """The page for those who do not see it: its number, and the sections on it."""
        sections = [
            f"{one.letter} {one.name}".strip()
            for one in self._sheet.sections
            if one.page <= number <= one.last_page
        ]
        words = _("Sheet, page {page} of {count}: {sections}") if sections else _(
            "Sheet, page {page} of {count}"
        )  # fmt: skip
        spoken = words.format(page=number, count=self.view.count, sections=", ".join(sections))
        if spoken != self.view.accessibleName():
            self.view.setAccessibleName(spoken)
            if self.view.hasFocus():
                announce(self.view, spoken)

    # The panel

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_panel()

    def _wish_panel(self, wished: bool) -> None:
        self._panel_wish = wished
        self._place_panel()

    def _place_panel(self) -> None:
        wide = self.width() >= self._look.unit(_PANEL_FROM)
        shown = wide if self._panel_wish is None else self._panel_wish
        self.panel.setVisible(shown)
        self.bar.panel.blockSignals(True)
        self.bar.panel.setChecked(shown)
        self.bar.panel.blockSignals(False)

    def _write_words(self) -> None:
        self._wish_panel(True)
        field = self.panel.fields["title"]
        field.setFocus()
        field.selectAll()

    def _change_head(self, fields: dict[str, Any]) -> None:
        key = next(iter(fields))
        try:
            lesson = texts.set_head(self._document.lesson, **fields)
        except CannotEdit as refused:
            from chalkfret.words.sentences import sentence

            words, field = sentence(refused.fault), Field.speaking()
            if field is not None:
                field.refuse(words)
            self.panel.saying.say(words, True)
            return
        merge = ("head", key) if key in self.panel.fields else None
        self._document.apply(_(_UNDO[key]), lesson, merge)
