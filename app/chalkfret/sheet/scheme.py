"""How the systems of a section are set: which staves, how large, and what is written under them."""

from __future__ import annotations

from msgspec import Struct

from chalkfret.model import Key, NoteNaming, Setup
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.style import Style


class Staff(Struct, frozen=True, cache_hash=True):
    """One part's tab staff in a section: ``part`` is its index in the lesson."""

    part: int
    id: str
    name: str
    setup: Setup

    @property
    def courses(self) -> int:
        """Number of lines."""
        return len(self.setup.courses)


class Scheme(Struct, frozen=True, cache_hash=True):
    """Everything besides the bars that a section's systems depend on."""

    style: Style
    measurer: Measurer
    staves: tuple[Staff, ...]
    naming: NoteNaming
    degrees: Key | None = None  # the key of the degree row, None where it is not shown

    def height(self, staff: Staff) -> float:
        """From the staff's top line to its bottom line."""
        return (staff.courses - 1) * self.style.gap
