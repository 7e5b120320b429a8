"""What the mouse of the Riffs page needs of the page: who writes, who says, who names."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from chalkfret.desk.actions import Action
from chalkfret.desk.riffs.mouse.gestures import mouse_gestures
from chalkfret.desk.riffs.mouse.naming import Naming

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.page import RiffsPage


class PageMouse(QObject):
    """Connects grid and strip to the page."""

    def __init__(self, document: Document, page: RiffsPage, say: Callable[[str], object]) -> None:
        """``say`` shows at the window's foot what a drag would do, and "" when it is over."""
        super().__init__(page)
        grid, strip = page.grid.mouse, page.strip.mouse
        self.naming = Naming(page, document, page.grid)
        grid.fret_chosen.connect(page.typist.fret)
        grid.beat_cut.connect(page.typist.steps)
        for mouse in (grid, strip):
            mouse.hinted.connect(say)
            mouse.name_wanted.connect(self.naming.open)

    def actions(self) -> list[Action]:
        """What the mouse does, for the list of keys."""
        return mouse_gestures()
