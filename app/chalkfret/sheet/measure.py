"""How wide words are: given to the layout from outside, so that it runs without a screen."""

from __future__ import annotations

from typing import Protocol

from chalkfret.sheet.display import Face


class Measurer(Protocol):
    """Measures text. Equal texts must always measure the same: layout caches by its object."""

    def width(self, text: str, face: Face, size: float) -> float:
        """Width in mm of one line of text set in ``face`` with an em of ``size`` mm."""
        ...

    def __hash__(self) -> int:
        """Measurers key caches."""
        ...
