"""The foot of every page: supporter line, licence line, page n of N."""

from __future__ import annotations

from functools import lru_cache

from chalkfret.model import LessonHead
from chalkfret.sheet.display import Block, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import Setting, plain, set_text
from chalkfret.sheet.style import SMALLEST_TEXT, Style
from chalkfret.words.text import _

_AIR = 1.6  # mm between the rule and the words


def _size(style: Style) -> float:
    return max(SMALLEST_TEXT * 1.15, 0.85 * style.note)


@lru_cache(maxsize=64)
def _lines(head: LessonHead, style: Style, measurer: Measurer) -> Setting:
    text = "\n".join(line for line in (head.supporter_line, head.licence) if line.strip())
    room = style.text_width - 36.0 * style.words
    return set_text(plain(text), room, _size(style), measurer, Ink.SOFT, "foot", 1.25)


def foot_height(head: LessonHead, style: Style, measurer: Measurer) -> float:
    """Height of the foot: a page number alone, or as many lines as its words need."""
    return _AIR + max(1.25 * _size(style), _lines(head, style, measurer).height)


@lru_cache(maxsize=4096)
def foot_block(head: LessonHead, page: int, pages: int, style: Style, measurer: Measurer) -> Block:
    """The foot of one page."""
    pen = Pen(measurer)
    size = _size(style)
    pen.rule(0.0, 0.0, style.text_width, 0.15)
    pen.text(_lines(head, style, measurer), 0.0, _AIR - 0.15 * size)
    text = _("page {page} of {pages}").format(page=page, pages=pages)
    base = _AIR + 0.85 * size
    pen.words(style.text_width, base, text, size, ink=Ink.SOFT, tag="page", align=1.0)
    return pen.block(style.text_width, foot_height(head, style, measurer))
