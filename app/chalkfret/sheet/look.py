"""How the sheet's inks are coloured: an argument of the painter, never the screen's palette."""

from __future__ import annotations

from typing import Final

from msgspec import Struct

from chalkfret.sheet.display import Ink


class Look(Struct, frozen=True, cache_hash=True):
    """A colour ``#rrggbb`` for each ink; ``paper`` is also the page's ground."""

    ink: str
    soft: str
    rule: str
    tint: str
    paper: str

    def colour(self, ink: Ink) -> str:
        """The colour of an ink."""
        return str(getattr(self, ink.value))


# Ink on paper: the paper itself stays white in print.
PRINT: Final = Look(ink="#22282B", soft="#5A6266", rule="#8C9296", tint="#F1EDE4", paper="#FFFFFF")
# Pure black ink: nothing a black-and-white printer would have to screen but the tint, left out.
BLACK: Final = Look(ink="#000000", soft="#000000", rule="#000000", tint="#FFFFFF", paper="#FFFFFF")
