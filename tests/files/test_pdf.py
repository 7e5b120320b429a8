"""The PDF file: the same bytes twice, what it says of itself, and that it needs no window."""

import os
import subprocess
import sys
from datetime import date
from hashlib import sha256
from io import BytesIO

import pypdf
import pytest
from msgspec.structs import replace

from chalkfret.files.pdf import pdf_bytes
from chalkfret.model import LessonHead, SheetOptions
from chalkfret.sheet.layout import SheetRequest
from tests.builder import lesson, section
from tests.reference.pdf_reading import read_pdf

DAY = date(2026, 3, 1)
HEAD = LessonHead(
    title="The riff & the office", subtitle="in <low> C", credit="Tamsin Oakhollow",
    licence="CC0", language="de",
)  # fmt: skip
LESSON = replace(
    lesson(
        section("A", "q 6:0 3 5 7", name="Erster Teil", key="Eb lydian"),
        section("B", "q 6:1 2 3 4"),
    ),
    head=HEAD,
)

_SCRIPT = """
import sys
from datetime import date
from hashlib import sha256
from io import BytesIO
from tests.files.test_pdf import LESSON, DAY
from chalkfret.files.pdf import pdf_bytes
print(sha256(pdf_bytes(LESSON, fixed_date=DAY)).hexdigest())
"""


def elsewhere() -> str:
    """The digest of the lesson's PDF, made in a process of its own without a display."""
    environment = {
        name: value for name, value in os.environ.items()
        if name not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    }  # fmt: skip
    environment["PYTHONPATH"] = os.pathsep.join(sys.path)
    done = subprocess.run(
        [sys.executable, "-c", _SCRIPT], capture_output=True, text=True, check=True, env=environment
    )
    return done.stdout.strip()


def test_the_same_lesson_and_date_give_the_same_bytes_in_every_process():
    assert elsewhere() == elsewhere()


def test_the_same_lesson_and_date_give_the_same_bytes_twice():
    first, second = (sha256(pdf_bytes(LESSON, fixed_date=DAY)).digest() for _ in range(2))
    assert first == second
    assert sha256(pdf_bytes(LESSON, fixed_date=date(2026, 3, 2))).digest() != first


def test_it_says_what_it_is():
    reader = pypdf.PdfReader(BytesIO(pdf_bytes(LESSON, fixed_date=DAY)))
    about = reader.metadata
    assert about is not None
    assert about.title == "The riff & the office – in <low> C"
    assert about.author == "Tamsin Oakhollow"
    assert about.creation_date is not None
    assert about.creation_date.date() == DAY
    assert reader.root_object["/Lang"] == "de"
    packet = reader.xmp_metadata
    assert packet is not None
    assert packet.dc_title["x-default"] == "The riff & the office – in <low> C"
    assert packet.dc_creator == ["Tamsin Oakhollow"]
    assert packet.dc_rights["x-default"] == "CC0"


def test_each_section_has_a_bookmark():
    marks = read_pdf(pdf_bytes(LESSON)).bookmarks
    assert [title for title, _ in marks] == ["A  Erster Teil", "B"]


def test_all_fonts_are_embedded_subsets():
    reader = pypdf.PdfReader(BytesIO(pdf_bytes(LESSON)))
    names = set()
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            descendant = font.get_object()["/DescendantFonts"][0].get_object()
            assert "/FontFile2" in descendant["/FontDescriptor"].get_object()
            names.add(str(font.get_object()["/BaseFont"]).removeprefix("/"))
    assert {"SourceSans3-Regular", "SourceSans3-Semibold", "BravuraText"} <= names


@pytest.mark.parametrize("black", [False, True])
def test_black_ink_is_pure_black(black):
    request = SheetRequest(options=SheetOptions(black_ink=black))
    reader = pypdf.PdfReader(BytesIO(pdf_bytes(LESSON, request)))
    colours = set()
    for page in reader.pages:
        stream = page.get_contents()
        assert stream is not None
        for operands, operator in stream.operations:
            if operator in (b"scn", b"SCN"):
                colours.add(tuple(float(one) for one in operands))
    grey = {colour for colour in colours if set(colour) not in ({0.0}, {1.0})}
    assert bool(grey) is not black


def test_a_page_of_a_lesson_is_small():
    assert len(pdf_bytes(LESSON)) < 100_000
