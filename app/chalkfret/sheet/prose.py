"""Running text: Markdown read into paragraphs, and paragraphs broken into lines.

Bold, italic, headings, lists and links are understood (CommonMark, by a kept library); a link is
printed with its address so that it can be read on paper. Anything else is set as plain words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from msgspec import Struct

from chalkfret.sheet.display import Face, Ink, Text
from chalkfret.sheet.measure import Measurer

if TYPE_CHECKING:
    from markdown_it.token import Token

LEADING: Final = 1.36  # line to line, in ems
_STEP: Final = 1.3  # indent of a list, in ems
_AFTER: Final = 0.5  # white space between paragraphs, in ems
_FIRM: Final = "\u00a0"  # where no line is broken; printed as a plain space, to be found


class Span(Struct, frozen=True):
    """Words in one face."""

    text: str
    face: Face = Face.REGULAR


class Paragraph(Struct, frozen=True):
    """A paragraph; ``level`` counts the lists it stands in, ``bullet`` is what hangs before it."""

    spans: tuple[Span, ...]
    level: int = 0
    bullet: str = ""
    close: bool = False  # follows the one before without white space


class Setting(Struct, frozen=True):
    """A text set in lines: items with the first line's top at 0, and the height of all."""

    items: tuple[Text, ...]
    height: float
    width: float  # of the longest line


def plain(text: str, face: Face = Face.REGULAR) -> tuple[Paragraph, ...]:
    """Text without any marks, a paragraph a line."""
    return tuple(
        Paragraph((Span(line, face),), close=index > 0)
        for index, line in enumerate(text.splitlines())
        if line.strip()
    )


@lru_cache(maxsize=512)
def markdown(text: str) -> tuple[Paragraph, ...]:
    """The paragraphs of a Markdown text."""
    from markdown_it import MarkdownIt

    out: list[Paragraph] = []
    counters: list[int] = []  # one a list: 0 for bullets, else the next number
    bullet, tight = "", False
    heading = False
    for token in MarkdownIt("commonmark").parse(text):
        kind = token.type
        if kind in ("bullet_list_open", "ordered_list_open"):
            counters.append(0 if kind.startswith("bullet") else int(token.attrGet("start") or 1))
        elif kind.endswith("list_close"):
            counters.pop()
        elif kind == "list_item_open":
            bullet = "•" if not counters[-1] else f"{counters[-1]}."
            counters[-1] += bool(counters[-1])
            tight = bool(out) and out[-1].level > 0
        elif kind in ("heading_open", "heading_close"):
            heading = kind == "heading_open"
        elif kind == "inline":
            base = Face.SEMIBOLD if heading else Face.REGULAR
            for index, spans in enumerate(_lines(token, base)):
                close = tight if index == 0 else True
                out.append(Paragraph(spans, len(counters), bullet if index == 0 else "", close))
            bullet, tight = "", False
        elif kind in ("fence", "code_block", "html_block"):
            out.extend(Paragraph(p.spans, len(counters)) for p in plain(token.content))
    return tuple(out)


def _lines(token: Token, base: Face) -> Iterator[tuple[Span, ...]]:
    """The spans of an inline token, a tuple for each line the author broke by hand."""
    spans: list[Span] = []
    bold, italic, address = base is Face.SEMIBOLD, False, ""
    for child in token.children or ():
        kind = child.type
        if kind in ("strong_open", "strong_close"):
            bold = kind == "strong_open" or base is Face.SEMIBOLD
        elif kind in ("em_open", "em_close"):
            italic = kind == "em_open"
        elif kind == "link_open":
            address = str(child.attrGet("href") or "")
        elif kind == "link_close":
            if address and not any(address in span.text for span in spans):
                spans.append(Span(f" ({address})", _face(bold, italic)))
        elif kind == "hardbreak":
            yield tuple(spans)
            spans = []
        else:
            text = " " if kind == "softbreak" else child.content
            if text:
                spans.append(Span(text, _face(bold, italic)))
    if spans:
        yield tuple(spans)


def _face(bold: bool, italic: bool) -> Face:
    if bold:
        return Face.SEMIBOLD_ITALIC if italic else Face.SEMIBOLD
    return Face.ITALIC if italic else Face.REGULAR


def facts(each: Sequence[str], width: float, size: float, measurer: Measurer) -> str:
    """Facts in a row with points between them, to be broken between facts rather than within."""
    kept = (
        fact.replace(" ", _FIRM) if measurer.width(fact, Face.REGULAR, size) < width else fact
        for fact in each
    )
    return f"{_FIRM}{_FIRM}·{_FIRM} ".join(kept)


def set_text(
    paragraphs: tuple[Paragraph, ...],
    width: float,
    size: float,
    measurer: Measurer,
    ink: Ink = Ink.INK,
    tag: str = "",
    leading: float = LEADING,
) -> Setting:
    """Break paragraphs into lines of at most ``width`` mm, ragged right."""
    items: list[Text] = []
    y = widest = 0.0
    for index, paragraph in enumerate(paragraphs):
        if index and not paragraph.close:
            y += _AFTER * size
        indent = paragraph.level * _STEP * size
        if paragraph.bullet:
            bullet = measurer.width(paragraph.bullet, Face.REGULAR, size)
            x = max(0.0, indent - bullet - 0.35 * size)
            items.append(Text(x, y + size, paragraph.bullet, size, bullet, Face.REGULAR, ink, tag))
        for line in broken(paragraph.spans, width - indent, size, measurer):
            x = indent
            for span in line:
                wide = measurer.width(span.text, span.face, size)
                items.append(Text(x, y + size, span.text, size, wide, span.face, ink, tag))
                x += wide
            widest = max(widest, x)
            y += leading * size
    return Setting(tuple(items), y, widest)


def broken(
    spans: tuple[Span, ...], width: float, size: float, measurer: Measurer
) -> list[tuple[Span, ...]]:
    """The spans cut into lines at spaces; a word longer than a line is cut where it must be."""
    lines: list[tuple[Span, ...]] = []
    line: list[Span] = []
    used = 0.0
    for word in _words(spans):
        wide = sum(measurer.width(span.text, span.face, size) for span in word)
        bare = wide - _trailing(word, size, measurer)
        if line and used + bare > width:
            lines.append(_joined(line))
            line, used = [], 0.0
        if bare > width:
            for piece in _hacked(word, width, size, measurer):
                if line:
                    lines.append(_joined(line))
                line = [piece]
            used = sum(measurer.width(span.text, span.face, size) for span in line)
            continue
        line.extend(word)
        used += wide
    if line:
        lines.append(_joined(line))
    return lines


def _words(spans: tuple[Span, ...]) -> Iterator[list[Span]]:
    """Words with the space behind them; a word may change its face within."""
    word: list[Span] = []
    for span in spans:
        rest = span.text
        while rest:
            cut = rest.find(" ") + 1
            if not cut:
                word.append(Span(rest, span.face))
                break
            word.append(Span(rest[:cut], span.face))
            yield word
            word, rest = [], rest[cut:]
    if word:
        yield word


def _trailing(word: list[Span], size: float, measurer: Measurer) -> float:
    return measurer.width(" ", word[-1].face, size) if word[-1].text.endswith(" ") else 0.0


def _hacked(word: list[Span], width: float, size: float, measurer: Measurer) -> Iterator[Span]:
    for span in word:
        rest = span.text
        while rest:
            count = len(rest)
            while count > 1 and measurer.width(rest[:count].rstrip(), span.face, size) > width:
                count -= 1
            yield Span(rest[:count], span.face)
            rest = rest[count:]


def _joined(line: list[Span]) -> tuple[Span, ...]:
    """Neighbours of one face as one span, the space at the line's end dropped."""
    out: list[Span] = []
    for span in line:
        if out and out[-1].face is span.face:
            out[-1] = Span(out[-1].text + span.text, span.face)
        else:
            out.append(span)
    out[-1] = Span(out[-1].text.rstrip(), out[-1].face)
    return tuple(Span(s.text.replace(_FIRM, " "), s.face) for s in out if s.text) or (Span(""),)
