"""The four pages of the desk: what they are called, how they are reached, where they are made.

A page is a widget made of ``(document, look)``. What it can do beside being looked at, it says:

- ``page_actions()``: its actions; their keys work while the focus is in the page's ``key_home()``
  where it has one, else anywhere in the page;
- ``window_actions()``: actions whose keys work anywhere in the page;
- ``take_settings(kept)``: what it remembers of its user lies there;
- ``place_changed``: a signal with a few words on where the teacher is, for the window's foot.

A page is made when it is first shown, or when the window has nothing else to do.
"""

from __future__ import annotations

from importlib import import_module
from typing import NamedTuple

from PySide6.QtWidgets import QWidget

from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.words.text import N_


class PageEntry(NamedTuple):
    """A page: ``made_by`` is the module and the class."""

    id: str
    title: str
    key: str
    made_by: tuple[str, str]

    def make(self, document: Document, look: Look) -> QWidget:
        """The page's widget."""
        module, name = self.made_by
        page: QWidget = getattr(import_module(module), name)(document, look)
        page.setObjectName(self.id)
        return page


PAGES = (
    PageEntry("riffs", N_("Riffs"), "Alt+1", ("chalkfret.desk.riffs.page", "RiffsPage")),
    PageEntry("strings", N_("Strings"), "Alt+2", ("chalkfret.desk.strings_page", "StringsPage")),
    PageEntry("sheet", N_("Sheet"), "Alt+3", ("chalkfret.desk.sheet_page", "SheetPage")),
    PageEntry(
        "handouts", N_("Hand-outs"), "Alt+4", ("chalkfret.desk.handouts_page", "HandoutsPage")
    ),
)
