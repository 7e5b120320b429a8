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
from chalkfret.words.text import spoken

PAPERS: Final = {Paper.A4: (210.0, 297.0), Paper.LETTER: (215.9, 279.4)}
SMALLEST_TEXT: Final = 6.0 * POINT  # nothing is printed smaller
LARGE: Final = 1.56  # tab digits of large print: 14 pt


class Style(Struct, frozen=True, cache_hash=True):
    """One paper, one size of print and one language; made by ``style_of``.

    What is drawn is kept by its style, so that the words of another language are drawn anew.
    """

    options: SheetOptions
    language: str
    page_width: float
    page_height: float
    text_width: float  # of the type area
    margin: float  # left, right
    top: float
    foot_margin: float  # below the foot line
    scale: float  # of everything musical
    words: float  # of running text

    # The staff.
    gap: float  # distance of tab lines
    space: float  # a staff space of the music font beside the tab
    digits: float  # em of the fret numbers
    letters: float  # em of the letters above and below the staff
    small: float  # em of the smallest words: bar numbers, degrees, tuplets
    staff_line: float
    stem: float
    beam: float
    thin_bar: float
    thick_bar: float
    hair: float  # thin strokes: brackets, dashes, bends

    # Words.
    title: float
    heading: float
    body: float
    note: float  # tables and captions


def style_of(options: SheetOptions, shrink: float = 1.0) -> Style:
    """The measures for a lesson's sheet options; ``shrink`` makes the music smaller."""
    return _style_of(options, shrink, spoken())


@lru_cache(maxsize=64)
def _style_of(options: SheetOptions, shrink: float, language: str) -> Style:
    width, height = PAPERS[options.paper]
    if options.landscape:
        width, height = height, width
    margin = 15.0
    scale = (LARGE if options.large_print else 1.0) * shrink
    words = 1.4 if options.large_print else 1.0

    def em(points: float, size: float) -> float:
        return max(SMALLEST_TEXT, points * POINT * size)

    return Style(
        options=options,
        language=language,
        page_width=width,
        page_height=height,
        text_width=width - 2 * margin,
        margin=margin,
        top=14.0,
        foot_margin=10.0,
        scale=scale,
        words=words,
        gap=2.55 * scale,
        space=1.75 * scale,
        digits=em(9.0, scale),
        letters=em(7.2, scale),
        small=em(6.6, scale),
        staff_line=0.13 * scale,
        stem=0.22 * scale,
        beam=0.8 * scale,
        thin_bar=0.22 * scale,
        thick_bar=0.8 * scale,
        hair=0.2 * scale,
        title=em(27.0, words),
        heading=em(15.0, words),
        body=em(9.2, words),
        note=em(8.0, words),
    )
