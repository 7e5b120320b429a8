"""The sheet's measures: paper, margins, staff, text sizes and weights of lines.

All lengths in mm, text sizes in mm of the em. Line weights follow the reference font's engraving
defaults (SMuFL 1.40, engravingDefaults) with the distance of tab lines for 1.5 staff spaces.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model import Paper, SheetOptions
from chalkfret.sheet.display import POINT

PAPERS: Final = {Paper.A4: (210.0, 297.0), Paper.LETTER: (215.9, 279.4)}
SMALLEST_TEXT: Final = 6.0 * POINT  # nothing is printed smaller
LARGE: Final = 1.56  # tab digits of large print: 14 pt


class Style(Struct, frozen=True, cache_hash=True):
    """One paper and one size of print."""

    page_width: float
    page_height: float
    margin: float  # left, right
    top: float
    foot_margin: float  # below the foot line
    scale: float  # of everything musical
    words: float  # of running text

    @property
    def text_width(self) -> float:
        """Width of the type area."""
        return self.page_width - 2 * self.margin

    # The staff.
    @property
    def gap(self) -> float:
        """Distance of tab lines."""
        return 2.55 * self.scale

    @property
    def space(self) -> float:
        """A staff space of the music font beside the tab."""
        return 1.75 * self.scale

    @property
    def digits(self) -> float:
        """Em of the fret numbers."""
        return max(SMALLEST_TEXT, 9.0 * POINT * self.scale)

    @property
    def letters(self) -> float:
        """Em of the letters above and below the staff."""
        return max(SMALLEST_TEXT, 7.2 * POINT * self.scale)

    @property
    def small(self) -> float:
        """Em of the smallest words: bar numbers, degrees, tuplets."""
        return max(SMALLEST_TEXT, 6.6 * POINT * self.scale)

    @property
    def staff_line(self) -> float:
        return 0.13 * self.scale

    @property
    def stem(self) -> float:
        return 0.22 * self.scale

    @property
    def beam(self) -> float:
        return 0.8 * self.scale

    @property
    def thin_bar(self) -> float:
        return 0.22 * self.scale

    @property
    def thick_bar(self) -> float:
        return 0.8 * self.scale

    @property
    def hair(self) -> float:
        """Thin strokes: brackets, dashes, slurs' ends, bends."""
        return 0.2 * self.scale

    # Words.
    @property
    def body(self) -> float:
        return 9.2 * POINT * self.words

    @property
    def note(self) -> float:
        """Tables and captions."""
        return 8.0 * POINT * self.words

    @property
    def heading(self) -> float:
        return 15.0 * POINT * self.words

    @property
    def title(self) -> float:
        return 27.0 * POINT * self.words


@lru_cache(maxsize=32)
def style_of(options: SheetOptions) -> Style:
    """The measures for a lesson's sheet options."""
    width, height = PAPERS[options.paper]
    if options.landscape:
        width, height = height, width
    large = options.large_print
    return Style(
        page_width=width,
        page_height=height,
        margin=15.0,
        top=14.0,
        foot_margin=10.0,
        scale=LARGE if large else 1.0,
        words=1.4 if large else 1.0,
    )
