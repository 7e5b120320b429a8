"""The pages of one lesson behind one another, or the empty state where no lesson is open."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from chalkfret.desk.actions import Registry
from chalkfret.desk.document import Document
from chalkfret.desk.empty import EmptyState, Line
from chalkfret.desk.keys.tips import show_tips
from chalkfret.desk.look import Look
from chalkfret.desk.pages import PAGES
from chalkfret.words.text import _


class PageStack(QStackedWidget):
    """Pages are made when they are first shown, or when there is nothing else to do."""

    brought = Signal(str)  # the id of the page that is at the front now
    placed = Signal(str)  # where the teacher is, in the words of the page at the front
    made = Signal(QWidget)  # a page, before its actions are asked for
    all_made = Signal()

    def __init__(self, document: Document, look: Look, registry: Registry) -> None:
        super().__init__()
        self._document, self._look, self._registry = document, look, registry
        self._pages: dict[str, QWidget] = {}
        self._empty: EmptyState | None = None
        self.page_id = ""  # of the page at the front
        self.wished = "riffs"  # shown as soon as there is a lesson
        self.addWidget(QWidget())  # nothing yet
        registry.changed.connect(self._show_keys)

    @property
    def has_lesson(self) -> bool:
        """Whether a page of the lesson is shown."""
        return self.currentWidget() in self._pages.values()

    @property
    def is_empty(self) -> bool:
        """Whether the empty state is shown."""
        return self._empty is not None and self.currentWidget() is self._empty

    def show_empty(self, lines: Sequence[Line], recent: Sequence[Line]) -> None:
        """Say what to do first."""
        if self._empty is not None:
            self.removeWidget(self._empty)
            self._empty.deleteLater()
        self._empty = EmptyState(self._look, lines, recent)  # anew: its keys may be others
        self.addWidget(self._empty)
        self.page_id = ""
        self._let_go()
        self.setCurrentWidget(self._empty)

    def page(self, page_id: str) -> QWidget:
        """The page with this id, made now if it was not yet."""
        page = self._pages.get(page_id)
        if page is None:
            entry = next(entry for entry in PAGES if entry.id == page_id)
            page = self._pages[page_id] = entry.make(self._document, self._look)
            self.addWidget(page)
            self.made.emit(page)
            if hasattr(page, "page_actions"):
                home = page.key_home() if hasattr(page, "key_home") else page
                self._registry.add(home, page.page_actions(), where=_(entry.title))
            if hasattr(page, "window_actions"):
                self._registry.add(page, page.window_actions(), where=_(entry.title))
            if hasattr(page, "place_changed"):
                page.place_changed.connect(partial(self._tell_place, page_id))
            show_tips(page, self._registry)
        return page

    def _show_keys(self) -> None:
        for page in self._pages.values():
            show_tips(page, self._registry)

    def bring(self, page_id: str) -> None:
        """Bring a page to the front, with the keys in it."""
        page = self.page(page_id)
        if page_id != self.page_id:
            self.placed.emit("")  # the page says its own when it is shown
        self.page_id = page_id
        self._let_go()
        self.setCurrentWidget(page)
        self.brought.emit(page_id)
        self.focus_page()

    def _let_go(self) -> None:
        """Take the keys from the page that goes: Qt would give them to the row of pages first, and
        who listens would hear that.
        """
        focus = self.window().focusWidget()
        if focus is not None and self.isAncestorOf(focus):
            focus.clearFocus()

    def _tell_place(self, page_id: str, place: str) -> None:
        """Say where the teacher is, unless it is said by a page that is not shown."""
        if page_id == self.page_id:
            self.placed.emit(place)

    def focus_page(self) -> None:
        """Give the keys to what is shown."""
        page = self._pages.get(self.page_id)
        if page is not None:
            (page.key_home() if hasattr(page, "key_home") else page).setFocus()
        elif self._empty is not None:
            self._empty.setFocus()

    def make_all(self) -> None:
        """Make every page that is not made yet."""
        for entry in PAGES:
            self.page(entry.id)

    def make_next(self) -> None:
        """Make the other pages one by one while the teacher looks at the first."""
        for entry in PAGES:
            if entry.id not in self._pages:
                self.page(entry.id)
                QTimer.singleShot(0, self, self.make_next)
                return
        self.all_made.emit()

    # Where everything stands, for a window that takes the place of this one

    def standing(self) -> dict[str, object]:
        """Where each page stands that can say so."""
        return {
            page_id: page.standing()
            for page_id, page in self._pages.items()
            if hasattr(page, "standing")
        }

    def stand(self, standing: dict[str, object]) -> None:
        """Let each page stand as one did before it."""
        for page_id, kept in standing.items():
            page = self.page(page_id)
            if hasattr(page, "stand"):
                page.stand(kept)
