"""The sheet as a PDF: drawn by Qt, completed by a PDF library.

Qt writes pages, embedded font subsets, title and author. What it cannot write is added behind its
bytes as an incremental update (ISO 32000-1, 7.5.6), so that the pages need not be read again:
a bookmark a section, the language, and the repair of the fonts' maps to Unicode, in which Qt
names the glyph of the space U+0009 and leaves out the double accidentals.

With a fixed date the same lesson gives the same bytes, given the same wheels, the bundled fonts
and a process whose hash seed is fixed (``sheet.paint_app.fix_hash_seed``).
"""

from __future__ import annotations

import gc
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from functools import partial
from io import BytesIO
from typing import TYPE_CHECKING, Final
from uuid import NAMESPACE_OID, UUID, uuid5
from xml.sax.saxutils import escape

from chalkfret import __version__
from chalkfret.model import Lesson, SheetOptions
from chalkfret.sheet.display import POINT
from chalkfret.sheet.layout import Sheet, SheetRequest, cards_sheet, sheet
from chalkfret.sheet.look import BLACK, PRINT
from chalkfret.sheet.measure import Measurer
from chalkfret.strings.turning import RetuneCard

if TYPE_CHECKING:
    from pypdf import PdfWriter

_DOTS: Final = 1200  # an inch; the painter's own units
_CREATOR: Final = f"Chalkfret {__version__}"
_INFO_DATE: Final = re.compile(rb"(/(?:CreationDate|ModDate) \(D:)\d{14}")
_FONT: Final = re.compile(
    rb"/BaseFont /(\S+)\s+/Encoding /Identity-H\s+/DescendantFonts \[(\d+) 0 R\]"
    rb"\s+/ToUnicode (\d+) 0 R"
)
_ACCIDENTAL_FONT: Final = b"BravuraText"
_DOUBLES: Final = "\U0001d12a\U0001d12b"  # double sharp, double flat
_SPACE_AS_TAB: Final = re.compile(rb"(?<=[<\s\[])0009(?=>)")


def pdf_bytes(
    lesson: Lesson, request: SheetRequest | None = None, fixed_date: date | None = None
) -> bytes:
    """The lesson's sheet as a PDF file.

    ``fixed_date`` is written instead of now, and makes the bytes repeatable. Needs no window and
    no display; makes a QGuiApplication where there is none.
    """
    asked = request or SheetRequest()
    return _written(lesson, partial(sheet, lesson, asked), fixed_date, asked.options)


def cards_pdf_bytes(
    lesson: Lesson, cards: tuple[tuple[str, RetuneCard], ...], fixed_date: date | None = None
) -> bytes:
    """Retune cards, each under its part's name, as pages of their own."""
    return _written(lesson, partial(cards_sheet, lesson, cards), fixed_date)


def _written(
    lesson: Lesson,
    lay_out: Callable[[Measurer], Sheet],
    fixed_date: date | None,
    options: SheetOptions | None = None,
) -> bytes:
    from chalkfret.sheet.paint_app import ensure_app
    from chalkfret.sheet.paint_fonts import measurer

    ensure_app()
    when = datetime.now(UTC)
    if fixed_date is not None:
        when = datetime(fixed_date.year, fixed_date.month, fixed_date.day, tzinfo=UTC)
    black = (options or lesson.head.sheet).black_ink
    with _no_collecting():
        made = lay_out(measurer())
        return _completed(_drawn(made, lesson, when, black), made, lesson)


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Put off the search for reference cycles: a sheet is a great many values without any.

    The search takes a fifth of the time otherwise. Afterwards the new values count as old ones,
    to be looked through when the interpreter next looks through everything.
    """
    collects = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collects:
            gc.freeze()
            gc.unfreeze()
            gc.enable()


def _drawn(made: Sheet, lesson: Lesson, when: datetime, black: bool) -> bytes:
    """The pages as Qt writes them, with the given time in place of its own."""
    from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF, QUuid
    from PySide6.QtGui import QPageSize, QPainter, QPdfWriter

    from chalkfret.sheet.painter import paint

    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(_DOTS)
    writer.setPageSize(QPageSize(QSizeF(*made.page_size), QPageSize.Unit.Millimeter))
    writer.setPageMargins(QMarginsF())
    writer.setTitle(_title(lesson))
    writer.setAuthor(lesson.head.credit)
    writer.setCreator(_CREATOR)
    ident = uuid5(NAMESPACE_OID, f"{_title(lesson)}\n{lesson.head.credit}\n{when}\n{_CREATOR}")
    writer.setDocumentId(QUuid(str(ident)))
    writer.setDocumentXmpMetadata(_xmp(lesson, when, ident))
    if black:
        writer.setColorModel(QPdfWriter.ColorModel.Grayscale)
    painter = QPainter(writer)
    look = BLACK if black else PRINT
    for number in range(1, made.page_count + 1):
        if number > 1:
            writer.newPage()
        paint(made.page(number), painter, look, _DOTS / 25.4)
    painter.end()
    stamp = rb"\g<1>" + when.strftime("%Y%m%d%H%M%S").encode()
    return _INFO_DATE.sub(stamp, bytes(buffer.data().data()))


def _title(lesson: Lesson) -> str:
    head = lesson.head
    return f"{head.title} – {head.subtitle}" if head.title and head.subtitle else head.title


def _xmp(lesson: Lesson, when: datetime, ident: UUID) -> bytes:
    """The metadata packet (ISO 16684-1), with ids that follow from what it says."""
    head = lesson.head
    title, credit = escape(_title(lesson)), escape(head.credit)
    stamp = when.isoformat(timespec="seconds")
    rights = ""
    if head.licence:
        words = f"<rdf:li xml:lang='x-default'>{escape(head.licence)}</rdf:li>"
        rights = f"<dc:rights><rdf:Alt>{words}</rdf:Alt></dc:rights>"
    return (
        "<?xpacket begin='\ufeff' id='W5M0MpCehiHzreSzNTczkc9d'?>\n"
        "<x:xmpmeta xmlns:x='adobe:ns:meta/'>"
        "<rdf:RDF xmlns:rdf='http://www.w3.org/1999/02/22-rdf-syntax-ns#'>"
        "<rdf:Description rdf:about='' xmlns:dc='http://purl.org/dc/elements/1.1/'"
        " xmlns:xmp='http://ns.adobe.com/xap/1.0/' xmlns:xmpMM='http://ns.adobe.com/xap/1.0/mm/'>"
        f"<dc:title><rdf:Alt><rdf:li xml:lang='x-default'>{title}</rdf:li></rdf:Alt></dc:title>"
        f"<dc:creator><rdf:Seq><rdf:li>{credit}</rdf:li></rdf:Seq></dc:creator>{rights}"
        f"<dc:language><rdf:Bag><rdf:li>{head.language}</rdf:li></rdf:Bag></dc:language>"
        f"<xmp:CreatorTool>{_CREATOR}</xmp:CreatorTool>"
        f"<xmp:CreateDate>{stamp}</xmp:CreateDate><xmp:ModifyDate>{stamp}</xmp:ModifyDate>"
        f"<xmpMM:DocumentID>uuid:{ident}</xmpMM:DocumentID>"
        "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end='w'?>"
    ).encode()


def _completed(drawn: bytes, made: Sheet, lesson: Lesson) -> bytes:
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import BooleanObject, DictionaryObject, NameObject, TextStringObject

    writer = PdfWriter(PdfReader(BytesIO(drawn)), incremental=True)
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(lesson.head.language)
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    )
    _bookmarks(writer, made)
    _repair_maps(writer, drawn)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _bookmarks(writer: PdfWriter, made: Sheet) -> None:
    """One bookmark a section, to the top of its banner."""
    from pypdf.generic import Fit

    height = made.page_size[1]
    for place in made.sections:
        title = f"{place.letter}  {place.name}" if place.name else place.letter
        top = (height - place.y + 2.0) / POINT
        fit = Fit.xyz(left=0, top=round(top, 2))
        writer.add_outline_item(title=title, page_number=place.page - 1, fit=fit)


def _repair_maps(writer: PdfWriter, drawn: bytes) -> None:
    """Let the fonts' maps say U+0020 where Qt says U+0009, and name the double accidentals.

    Qt knows no character beyond U+FFFF, so it leaves these two out; they are known by their
    widths. Maps are found by how Qt writes a font, without reading every page for its fonts.
    """
    from pypdf.generic import ArrayObject, DictionaryObject, StreamObject

    for entry in sorted({found.groups() for found in _FONT.finditer(drawn)}):
        accidental = entry[0] == _ACCIDENTAL_FONT
        font, stream = (writer.get_object(int(number)) for number in entry[1:])
        assert isinstance(font, DictionaryObject)
        assert isinstance(stream, StreamObject)
        data = stream.get_data()
        mended = _SPACE_AS_TAB.sub(b"0020", data)
        if accidental:
            widths = font["/W"]
            assert isinstance(widths, ArrayObject)
            mended = _with_doubles(mended, [int(width) for width in widths[1]])
        if mended != data:
            stream.set_data(mended)


def _with_doubles(data: bytes, widths: list[int]) -> bytes:
    """The accidental font's map with its double signs; ``widths`` in 1/1000 em, by glyph."""
    from chalkfret.sheet.paint_fonts import accidental_width

    known = {accidental_width(sign): sign for sign in _DOUBLES}
    lines = [
        f"<{glyph:04X}> <{known[width].encode('utf-16-be').hex().upper()}>"
        for glyph, width in enumerate(widths)
        if width in known
    ]
    if not lines:
        return data
    block = f"{len(lines)} beginbfchar\n" + "\n".join(lines) + "\nendbfchar\n"
    return data.replace(b"endcmap", block.encode() + b"endcmap", 1)
