"""The printed list of keys: whole, on two pages at most, nothing over anything."""

import unicodedata
from collections import Counter

import pypdfium2
import pytest
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog

from chalkfret.desk.keys.printing import PAGES_MOST, key_groups, keys_pdf, paint_keys
from chalkfret.model.start import new_lesson
from tests.desk.hands import press

SIZES = {"A4": QPageSize.PageSizeId.A4, "Letter": QPageSize.PageSizeId.Letter}


def bare(text):
    """Its letters, however they are joined and in whatever lines."""
    return "".join(unicodedata.normalize("NFKC", text.replace("\u200b", "")).split())


@pytest.mark.parametrize("size", SIZES)
def test_every_key_is_on_paper(show, size):
    window = show(new_lesson())
    window.make_pages()
    document = pypdfium2.PdfDocument(keys_pdf(window.registry, QPageSize(SIZES[size])))
    assert len(document) <= PAGES_MOST
    width, height = document[0].get_size()
    assert (round(width), round(height)) == {"A4": (595, 842), "Letter": (612, 792)}[size]
    text = bare("".join(page.get_textpage().get_text_range() for page in document))
    pages = [f"Chalkfret: all keys page {page} of 2" for page in (1, 2)]
    wanted = bare(" ".join(pages))
    for heading, rows in key_groups(window.registry):
        wanted += bare(heading)
        for keys, what in rows:
            wanted += bare(keys + what)
            for word in f"{keys} {what}".replace("+", " ").split():
                assert bare(word) in text, (keys, what)
    assert Counter(text) == Counter(wanted), "no letter more, none less"


def test_nothing_lies_over_anything_nor_beyond_the_margins(show):
    window = show(new_lesson())
    window.make_pages()
    document = pypdfium2.PdfDocument(keys_pdf(window.registry, QPageSize(SIZES["A4"])))
    for page in document:
        text = page.get_textpage()
        boxes = [text.get_rect(at) for at in range(text.count_rects())]
        width, height = page.get_size()
        for left, bottom, right, top in boxes:
            assert left > 30
            assert right < width - 30
            assert bottom > 30
            assert top < height - 30
        boxes.sort()
        for at, (left, bottom, right, top) in enumerate(boxes):
            for other in boxes[at + 1 :]:
                if other[0] >= right:
                    break
                across = min(right, other[2]) - max(left, other[0])
                along = min(top, other[3]) - max(bottom, other[1])
                assert across < 1.5 or along < 1.5, (boxes[at], other)


def test_f1_saves_the_list_and_says_where(show, tmp_path, monkeypatch):
    window = show(new_lesson())
    press("F1")
    sheet, place = window.keys_sheet, tmp_path / "keys.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(place), ""))
    sheet.pdf.click()
    assert place.read_bytes().startswith(b"%PDF")
    assert "keys.pdf" in sheet.saying.text
    place.unlink()
    place.mkdir()
    sheet.pdf.click()
    assert sheet.saying.is_loud
    sheet.close()


def test_f1_prints_by_the_systems_dialog_without_holding_up_the_window(show, tmp_path):
    window = show(new_lesson())
    press("F1")
    sheet = window.keys_sheet
    sheet.print.click()
    (dialog,) = sheet.findChildren(QPrintDialog)
    assert dialog.isVisible()
    printer = dialog.printer()
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    dialog.accepted.emit(printer)
    assert len(pypdfium2.PdfDocument(tmp_path / "printed.pdf")) <= PAGES_MOST
    dialog.close()
    sheet.close()


@pytest.mark.qt_log_ignore("QPainter::begin", extend=True)
def test_a_printer_that_takes_nothing_is_told(show, tmp_path):
    window = show(new_lesson())
    printer = QPrinter()
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "no folder" / "printed.pdf"))
    assert paint_keys(printer, window.registry) == 0
