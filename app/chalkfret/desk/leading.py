"""Leading the teacher to a place in the lesson, or doing what is done on some page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from chalkfret.desk.pages import PAGES
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.edits.place import Spot
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.riffs.grid import Grid
    from chalkfret.desk.window import Window


def _grid(window: Window) -> Grid:
    """The grid, with its page at the front."""
    from chalkfret.desk.riffs.page import RiffsPage

    window.show_page("riffs")
    page = window.page("riffs")
    assert isinstance(page, RiffsPage)
    return page.grid


def to_spot(window: Window, spot: Spot) -> None:
    """Show a cell of the grid."""
    grid = _grid(window)
    cursor = Cursor(spot.section, spot.bar, spot.onset, spot.part, spot.course)
    grid.move_to(moves.kept(window.document.lesson, cursor))


def to_bar(window: Window, section: int, bar: int) -> None:
    """Show a bar, on the string and in the part where the cursor is."""
    grid = _grid(window)
    grid.move_to(moves.at(window.document.lesson, grid.here, section, bar))


def to_part(window: Window, part: int) -> None:
    """Show a part, in the bar where the cursor is."""
    grid = _grid(window)
    there = replace(grid.here, part=part, course=1)
    grid.move_to(moves.kept(window.document.lesson, there))


def page_of(window: Window, action_id: str) -> str | None:
    """The page on which an action works; None for the whole window."""
    where = window.registry.where(action_id)
    return next((entry.id for entry in PAGES if _(entry.title) == where), None)


def do(window: Window, action_id: str) -> None:
    """Do what an action does, on the page where it works; where it cannot be done say why."""
    page = page_of(window, action_id)
    if page is not None and not window.is_shown(page):
        window.show_page(page)
    action = window.registry.action(action_id)
    if action.enabled():
        window.registry.run(action_id)
    else:
        window.document.refused.emit(action.why or _("This cannot be done now."))
