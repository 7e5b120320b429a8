"""One painter for screen and paper: both show the same picture."""

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtGui import QImage, QPainter

from chalkfret.files.lesson_file import load
from chalkfret.files.pdf import pdf_bytes
from chalkfret.model import Lesson
from chalkfret.places import DEMO_LESSONS
from chalkfret.sheet.display import Face
from chalkfret.sheet.layout import SheetRequest, sheet
from chalkfret.sheet.look import PRINT
from chalkfret.sheet.paint_app import ensure_app
from chalkfret.sheet.paint_fonts import measurer, shape, sign
from chalkfret.sheet.painter import paint

DPI = 72
DEMOS = sorted(DEMO_LESSONS.glob("*.chalkfret"))


def on_screen(lesson: Lesson, number: int) -> QImage:
    ensure_app()
    made = sheet(lesson, SheetRequest(), measurer())
    width, height = (round(side * DPI / 25.4) for side in made.page_size)
    image = QImage(width, height, QImage.Format.Format_Grayscale8)
    image.fill(255)
    painter = QPainter(image)
    paint(made.page(number), painter, PRINT, DPI / 25.4)
    painter.end()
    return image


def grey(image: QImage) -> list[bytes]:
    stride = image.bytesPerLine()
    data = bytes(image.constBits())
    return [data[row * stride :][: image.width()] for row in range(image.height())]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_screen_and_the_pdf_show_the_same_picture(path):
    """Compared in squares of 12 pixels, since two renderers smooth edges in their own ways."""
    lesson = load(path)
    ours = grey(on_screen(lesson, 1))
    document = pypdfium2.PdfDocument(pdf_bytes(lesson))
    bitmap = document[0].render(scale=DPI / 72, grayscale=True)
    data, stride = bytes(bitmap.buffer), bitmap.stride
    theirs = [data[row * stride :][: bitmap.width] for row in range(bitmap.height)]
    document.close()
    worst = 0.0
    for top in range(0, len(ours) - 12, 12):
        for left in range(0, len(ours[0]) - 12, 12):
            one = sum(sum(row[left : left + 12]) for row in ours[top : top + 12])
            two = sum(sum(row[left : left + 12]) for row in theirs[top : top + 12])
            worst = max(worst, abs(one - two) / 144)
    assert worst < 40  # of 255; a glyph that is missing or elsewhere makes more than that


def test_a_page_is_painted_the_same_again():
    lesson = load(DEMOS[0])
    assert on_screen(lesson, 1) == on_screen(lesson, 1)
    assert any(min(row) < 80 for row in grey(on_screen(lesson, 1)))


def test_digits_are_all_of_one_width():
    ensure_app()
    for face in Face:
        assert len({shape(digit, face).width for digit in "0123456789"}) == 1


def test_widths_do_not_depend_on_size_and_ligatures_are_off():
    ensure_app()
    made = shape("riff", Face.REGULAR)
    assert sum(len(run.indices) for run in made.runs) == 4
    assert measurer().width("riff", Face.REGULAR, 7.0) == pytest.approx(made.width * 7.0)


@pytest.mark.parametrize("text", ["", "ਤ", "🎸", "低い", "\U000e0001", "F♯ to E♭ 𝄪"])
def test_any_script_is_shaped_if_only_as_boxes(text):
    ensure_app()
    made = shape(text, Face.REGULAR)
    assert made.width >= 0


def test_every_sign_the_sheet_uses_is_in_the_music_font():
    """SMuFL 1.40 code points named in the modules of the sheet."""
    from chalkfret import sheet as room

    ensure_app()
    codes = {
        int(code, 16)
        for folder in room.__path__
        for path in Path(folder).glob("*.py")
        for code in re.findall(r"0x(E[0-9A-F]{3})\b", path.read_text(encoding="utf-8"))
    }
    assert len(codes) > 25
    for code in codes:
        assert not sign(code).isEmpty(), hex(code)


def test_pdfs_are_written_beside_a_window_that_paints():
    """Fonts belong to threads: pages are drawn in several at once, and all come out the same."""
    lesson = load(DEMOS[0])
    alone = pdf_bytes(lesson, fixed_date=date(2026, 3, 1))
    with ThreadPoolExecutor(3) as threads:
        beside = [threads.submit(pdf_bytes, lesson, None, date(2026, 3, 1)) for _ in range(6)]
        for _ in range(10):
            on_screen(lesson, 1)
        assert all(one.result() == alone for one in beside)


def test_the_space_before_an_accidental_is_kept():
    ensure_app()
    space = shape("a b", Face.REGULAR).width - shape("ab", Face.REGULAR).width
    flat = shape("Dorian ♭2", Face.REGULAR).width - shape("Dorian♭2", Face.REGULAR).width
    assert flat == pytest.approx(space, abs=0.01)


@pytest.mark.parametrize("name", ["lantern_steps", "tin_weather"])
def test_a_lesson_of_two_guitars_and_three_sections_fits_three_pages(name):
    made = sheet(load(DEMO_LESSONS / f"{name}.chalkfret"), SheetRequest(), measurer())
    assert made.page_count == 3
    assert made.sections[0].page == 1


def ink_of_first_page(lesson: Lesson, pixels_a_mm: float, ratio: float = 1.0) -> float:
    """How much ink lies where the title stands, from 0 to 1."""
    ensure_app()
    made = sheet(lesson, SheetRequest(), measurer())
    width, height = round(60 * pixels_a_mm * ratio), round(24 * pixels_a_mm * ratio)
    image = QImage(width, height, QImage.Format.Format_Grayscale8)
    image.setDevicePixelRatio(ratio)
    image.fill(255)
    painter = QPainter(image)
    paint(made.page(1), painter, PRINT, pixels_a_mm)
    painter.end()
    rows = grey(image)
    return sum(255 - level for row in rows for level in row) / (255 * width * height)


@pytest.mark.parametrize(("pixels_a_mm", "ratio"), [(7, 1.0), (9, 1.0), (30, 1.0), (5, 3.0)])
def test_letters_are_painted_however_large_the_page_is(pixels_a_mm, ratio):
    """Qt paints no glyphs of a font from memory that are larger than 64 pixels."""
    lesson = load(DEMO_LESSONS / "lantern_steps.chalkfret")
    plain = ink_of_first_page(lesson, 4)
    assert plain > 0.01
    assert ink_of_first_page(lesson, pixels_a_mm, ratio) == pytest.approx(plain, rel=0.05)
