"""The sheet's PDF read back with PDFium: each number on its string's line, in its bar, in order.

Outside reference: PDFium, the reader of a common browser, by pypdfium2.
"""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.files.lesson_file import load
from chalkfret.files.pdf import pdf_bytes
from chalkfret.model import Lesson, NaturalHarmonic, Note, SheetOptions, Sign
from chalkfret.places import DEMO_LESSONS
from chalkfret.sheet.layout import Sheet, SheetRequest, sheet
from chalkfret.sheet.paint_app import ensure_app
from chalkfret.sheet.paint_fonts import measurer
from tests import builder
from tests.reference.pdf_reading import Char, ReadPdf, read_pdf
from tests.strategies import lessons

DEMOS = sorted(DEMO_LESSONS.glob("*.chalkfret"))
SMALLEST = 6.0  # points


def shown(note: Note) -> str:
    """What the trade writes on a string for a note."""
    for mark in note.marks:
        if isinstance(mark, NaturalHarmonic):
            return f"<{mark.node:g}>"
    text = "x" if Sign.DEAD in note.marks else str(note.fret)
    return f"({text})" if Sign.GHOST in note.marks or Sign.TIE in note.marks else text


def check_numbers(lesson: Lesson, made: Sheet, pdf: ReadPdf) -> int:
    """Every number where it belongs and none elsewhere on the strings; how many there are."""
    sections = {section.id: section for section in lesson.sections}
    seen: Counter[tuple[str, int]] = Counter()
    count = 0
    for number in range(1, made.page_count + 1):
        chars = pdf.pages[number - 1].chars
        for box in made.page(number).bars():
            seen[box.section, box.bar] += 1
            bars = sections[box.section].bars
            bar = bars[box.bar]
            before = bars[box.bar - 1] if box.bar else None
            simile = (
                bar.head.simile and before is not None and before.notes == bar.notes
                and before.head.ticks == bar.head.ticks and any(bar.notes)
            )  # fmt: skip
            for part, top, gap, lines in box.staves:
                for course in range(1, lines + 1):
                    y = top + (course - 1) * gap
                    found = on_line(chars, box.x, box.x + box.width, y, gap)
                    notes = [n for n in bar.notes[part] if n.course == course]
                    wanted = [] if simile else [shown(note) for note in notes]
                    printed = "".join(char.text for char in found)
                    assert printed == "".join(wanted), (box.bar, course, printed, wanted)
                    check_order(found, wanted)
                    count += len(wanted)
    everything = {(s.id, index) for s in lesson.sections for index in range(len(s.bars))}
    assert set(seen) == everything
    assert set(seen.values()) <= {1}
    return count


def on_line(chars: tuple[Char, ...], left: float, right: float, y: float, gap: float) -> list[Char]:
    """The characters whose middle lies on a string within a bar."""
    return [
        char for char in chars
        if left <= char.middle[0] <= right and abs(char.middle[1] - y) < 0.45 * gap
        and not char.text.isspace()
    ]  # fmt: skip


def check_order(found: list[Char], wanted: list[str]) -> None:
    starts, at = [], 0
    for text in wanted:
        starts.append(found[at].x1)
        at += len(text)
    assert starts == sorted(starts)


def check_page(pdf: ReadPdf) -> None:
    """Nothing leaves the paper and nothing is too small to read."""
    for page in pdf.pages:
        for char in page.chars:
            if not char.text.isspace():
                assert char.x1 >= 0
                assert char.x2 <= page.width
                assert char.y1 >= 0
                assert char.y2 <= page.height
                # Signs of alteration beside a word have a smaller em than it; their height counts.
                assert char.points >= SMALLEST - 0.05 or char.text in "♭♮♯𝄪𝄫"


def laid(lesson: Lesson) -> Sheet:
    ensure_app()
    return sheet(lesson, SheetRequest(), measurer())


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_number_of_a_demo_stands_on_its_string_in_its_bar(path):
    lesson = load(path)
    pdf = read_pdf(pdf_bytes(lesson))
    count = check_numbers(lesson, laid(lesson), pdf)
    assert count > 30
    check_page(pdf)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_titles_tempos_cues_and_notes_of_a_demo_are_there(path):
    lesson = load(path)
    pdf = read_pdf(pdf_bytes(lesson))
    text = "\n".join(page.text for page in pdf.pages).replace("\r\n", "\n")
    assert lesson.head.title in text
    for section in lesson.sections:
        assert section.head.name in text
        assert f"= {section.head.tempo.start:g}" in text
        for cue in section.head.cues:
            assert cue.label in text
    assert [title for title, _ in pdf.bookmarks] == [
        f"{s.head.letter}  {s.head.name}" for s in lesson.sections
    ]
    pages = [page for _, page in pdf.bookmarks]
    for page, section in zip(pages, lesson.sections, strict=True):
        assert section.head.name in pdf.pages[page].text


@settings(max_examples=40)
@given(lessons(), st.booleans(), st.booleans())
def test_every_number_of_a_random_lesson_stands_on_its_string_in_its_bar(lesson, large, wide):
    options = SheetOptions(large_print=large, landscape=wide)
    ensure_app()
    request = SheetRequest(options=options)
    pdf = read_pdf(pdf_bytes(lesson, request))
    check_numbers(lesson, sheet(lesson, request, measurer()), pdf)
    check_page(pdf)


def test_words_are_found_whole_with_their_spaces_and_signs():
    lesson = load(DEMOS[0])
    title = "The riff, the office and the staff of E♭"
    pdf = read_pdf(pdf_bytes(replace(lesson, head=replace(lesson.head, title=title))))
    assert title in pdf.pages[0].text
    assert not any(char.text == "\t" for page in pdf.pages for char in page.chars)


def test_double_accidentals_are_copied_as_their_own_characters():
    """A♯ harmonic minor has G𝄪, G♭ Dorian B𝄫 (common practice); U+1D12A, U+1D12B of Unicode."""
    keys = builder.lesson(
        builder.section("A", "q 6:1 2 3 4", key="A# harmonic_minor"),
        builder.section("B", "q 6:1 2 3 4", key="Gb dorian"),
    )
    pages = read_pdf(pdf_bytes(keys)).pages
    text = "".join(page.text for page in pages)
    characters = {char.text for page in pages for char in page.chars}
    assert {"\U0001d12a", "\U0001d12b"} <= characters
    assert "G\U0001d12a" in text
    assert "B\U0001d12b" in text
    assert not any(ord(letter) < 32 and letter not in "\r\n" for letter in text)
