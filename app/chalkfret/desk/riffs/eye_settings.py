"""How large the notes are, and whether the cursor is followed, in the settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from chalkfret.desk.pieces.numbers import whole, within
from chalkfret.desk.riffs.sight import LEAST, MOST
from chalkfret.desk.settings_window.rows import GRID, Number, Row, Switch, kept_row
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

_LOW, _HIGH = round(LEAST * 100), round(MOST * 100)


def settings_rows(window: Window) -> list[Row]:
    """The grid's two settings; the grid follows them by itself."""
    sentence = _("The size is a number from {low} to {high}.").format(low=_LOW, high=_HIGH)
    return [
        kept_row(
            window.settings,
            "grid_zoom",
            group=GRID,
            name=_("Size of the notes, %"),
            about=_("100 is as large as the rest of the window."),
            kind=Number(
                whole(_LOW, _HIGH, sentence),
                str,
                lambda percent, steps: round(within(percent + 10 * steps, _LOW, _HIGH)),
                str(_HIGH),
            ),
            words=_("zoom, larger, smaller"),
        ),
        kept_row(
            window.settings,
            "follow_cursor",
            group=GRID,
            name=_("Keep the cursor near the middle"),
            about=_("Else the view turns by most of a page when the cursor leaves it."),
            kind=Switch(),
            words=_("follow, scroll"),
        ),
    ]
