"""Markdown, lines of text, and blocks cut where a page ends."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.sheet.display import Block, Face, Line, Text
from chalkfret.sheet.prose import Paragraph, Span, broken, facts, markdown, plain, set_text
from chalkfret.sheet.split import split
from tests.sheet.measurers import FLAT


def words_of(paragraph: Paragraph) -> str:
    return "".join(span.text for span in paragraph.spans)


def test_markdown_has_bold_italic_lists_headings_and_printed_links():
    text = (
        "# Start\n\nPick **down** and *up*.\n\n- one\n- two\n\n3. three\n\n[read](https://a.org/b)"
    )
    found = markdown(text)
    assert [words_of(paragraph) for paragraph in found] == [
        "Start", "Pick down and up.", "one", "two", "three", "read (https://a.org/b)",
    ]  # fmt: skip
    assert found[0].spans[0].face is Face.SEMIBOLD
    assert [span.face for span in found[1].spans] == [
        Face.REGULAR, Face.SEMIBOLD, Face.REGULAR, Face.ITALIC, Face.REGULAR,
    ]  # fmt: skip
    assert [paragraph.bullet for paragraph in found] == ["", "", "•", "•", "3.", ""]
    assert found[2].level == 1


@given(st.text(max_size=400))
def test_any_text_is_markdown(text):
    set_text(markdown(text), 60.0, 3.0, FLAT)


ascii_words = st.text(st.characters(codec="ascii"), min_size=1, max_size=40)


@given(
    st.lists(st.builds(Span, ascii_words), max_size=8),
    st.floats(5.0, 80.0),
)  # fmt: skip
def test_lines_fit_and_lose_no_letter(spans, width):
    lines = broken(tuple(spans), width, 3.0, FLAT)
    for line in lines:
        assert sum(FLAT.width(span.text, span.face, 3.0) for span in line) <= width + 1e-6
    printed = "".join(span.text for line in lines for span in line)
    given_text = "".join(span.text for span in spans)
    assert "".join(printed.split()) == "".join(given_text.split())


def test_facts_are_broken_between_not_within():
    line = facts(["7/8 time", "root on open string 6"], 40.0, 3.0, FLAT)
    setting = set_text(plain(line), 40.0, 3.0, FLAT)
    assert [item.text for item in setting.items] == ["7/8 time  ·", "root on open string 6"]


@given(st.lists(st.floats(1.0, 8.0), min_size=1, max_size=60), st.floats(10.0, 60.0))
def test_a_block_that_is_too_high_is_cut_between_its_lines(heights, room):
    items, y = [], 0.0
    for height in heights:
        y += height
        # As lines of text stand: what hangs below the baseline is within the line's own height.
        items.append(Text(0.0, y - 0.2 * height, "line", 0.8 * height, 10.0))
    items.append(Line(0.0, y, 10.0, y, 0.1))
    pieces = split(Block(100.0, y, tuple(items)), room)
    assert all(piece.height <= room + 1e-9 for piece in pieces)
    assert sum(piece.height for piece in pieces) == pytest.approx(y)
    printed = [item for piece in pieces for item in piece.items if isinstance(item, Text)]
    assert len(printed) == len(heights)
    for piece in pieces:
        for item in piece.items:
            if isinstance(item, Text):
                assert item.y <= piece.height + 1e-6


def test_lines_that_stand_into_one_another_still_make_pieces_within_the_room():
    """Found by fuzzing: a run without a place to cut was left higher than the page."""
    lines = [(8.0, 6.4), (12.0, 3.2), (15.0, 2.4)]
    items = tuple(Text(0.0, y, "line", size, 10.0) for y, size in lines)
    pieces = split(Block(100.0, 15.0, items), 10.0)
    assert all(piece.height <= 10.0 for piece in pieces)
    assert sum(len(piece.items) for piece in pieces) == 3
