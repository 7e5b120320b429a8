"""Reads a PDF as a browser does, with PDFium (by pypdfium2, which this project did not write)."""

from dataclasses import dataclass

import pypdfium2
from pypdfium2 import raw

POINT = 25.4 / 72  # mm


@dataclass(frozen=True)
class Char:
    """A printed character: its box in mm from the page's top left corner, its size in points."""

    text: str
    x1: float
    y1: float
    x2: float
    y2: float
    points: float

    @property
    def middle(self) -> tuple[float, float]:
        return (self.x1 + self.x2) / 2, (self.y1 + self.y2) / 2


@dataclass(frozen=True)
class ReadPage:
    width: float  # mm
    height: float
    chars: tuple[Char, ...]
    text: str


@dataclass(frozen=True)
class ReadPdf:
    pages: tuple[ReadPage, ...]
    bookmarks: tuple[tuple[str, int], ...]  # title, page from 0
    metadata: dict[str, str]


def read_pdf(data: bytes) -> ReadPdf:
    """All that the checks ask of a PDF."""
    document = pypdfium2.PdfDocument(data)
    try:
        pages = tuple(_page(document[index]) for index in range(len(document)))
        bookmarks = tuple(
            (mark.get_title(), mark.get_dest().get_index()) for mark in document.get_toc()
        )
        return ReadPdf(pages, bookmarks, document.get_metadata_dict())
    finally:
        document.close()


def _page(page: pypdfium2.PdfPage) -> ReadPage:
    width, height = (side * POINT for side in page.get_size())
    textpage = page.get_textpage()
    chars = []
    for index in range(textpage.count_chars()):
        if raw.FPDFText_IsGenerated(textpage.raw, index):
            continue  # spaces and line ends that PDFium guesses
        code = raw.FPDFText_GetUnicode(textpage.raw, index)
        if 0xDC00 <= code < 0xE000:
            continue  # the second half of a character beyond U+FFFF, read with its first
        text = chr(code)
        if 0xD800 <= code < 0xDC00:
            low = raw.FPDFText_GetUnicode(textpage.raw, index + 1)
            text = chr(0x10000 + (code - 0xD800 << 10) + low - 0xDC00)
        left, bottom, right, top = (side * POINT for side in textpage.get_charbox(index))
        chars.append(
            Char(text, left, height - top, right, height - bottom, _points(textpage, index))
        )
    return ReadPage(width, height, tuple(chars), textpage.get_text_range())


def _points(textpage: pypdfium2.PdfTextPage, index: int) -> float:
    """The size of a character's font as printed: its size in the text's own units, scaled."""
    matrix = raw.FS_MATRIX()
    raw.FPDFText_GetMatrix(textpage.raw, index, matrix)
    return raw.FPDFText_GetFontSize(textpage.raw, index) * abs(matrix.d)
