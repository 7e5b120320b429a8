"""The key names what the sheet uses, whole and nothing else, and is never alone on a page."""

import pytest
from hypothesis import given
from msgspec.structs import replace

from chalkfret.model import Key, Lesson, SectionShow, SheetOptions
from chalkfret.sheet.display import Face, Text
from chalkfret.sheet.layout import SheetRequest, sheet
from tests.builder import lesson, section
from tests.sheet.measurers import FLAT
from tests.strategies import lessons


def texts(given_lesson: Lesson, tag: str) -> list[Text]:
    made = sheet(given_lesson, SheetRequest(), FLAT)
    return [
        item for number in range(1, made.page_count + 1)
        for _, _, item in made.page(number).items() if isinstance(item, Text) and item.tag == tag
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "key"),
    [
        ("q 6:1 2 3 4", []),
        ("q 6:1 2h 3 4p", ["H", "hammer-on", "P", "pull-off"]),
        ("q 6:1m 2x 3 4", ["P.M.", "palm mute", "x", "dead note"]),
        ("q 6:1 1t 3 4", ["( )", "tied note"]),
        ("q 6:1 1t 3g 4", ["( )", "ghost or tied note"]),
        ("q 6:1d 1u 3 4", ["downstroke", "upstroke"]),
        ("q 6:1n 1 3b 4", ["< >", "natural harmonic", "full, ½", "bend, in whole tones"]),
    ],
)
def test_only_the_signs_that_are_used_are_explained(line, key):
    assert [item.text for item in texts(lesson(section("A", line)), "key")] == key


def test_a_row_of_degrees_says_so_at_its_left():
    one = section("A", "q 6:1 2 3 4", key="E minor")
    assert isinstance(one.head.key, Key)
    shown = replace(one, head=replace(one.head, show=SectionShow(degrees=True)))
    assert texts(lesson(one), "row") == []
    (row,) = texts(lesson(shown), "row")
    degrees = texts(lesson(shown), "degree")
    assert row.text == "deg"
    assert row.y == degrees[0].y
    assert row.x + row.width < min(item.x for item in degrees)
    assert row.face is not Face.SEMIBOLD


def test_a_system_as_high_as_the_page_leaves_room_for_the_key():
    """Found by fuzzing, in large print on landscape paper."""
    line = "q 6:1h 2p 3m 4"
    many = lesson(section("A", *[line] * 7))
    wide = SheetOptions(landscape=True, large_print=True)
    made = sheet(replace(many, head=replace(many.head, sheet=wide)), SheetRequest(), FLAT)
    assert made.page(made.page_count).bars()


@pytest.mark.parametrize("rows", range(16))
def test_banner_system_and_key_share_a_page_however_high_the_banner(rows):
    notes = "\n\n".join(["A row of the teacher's notes."] * rows)
    one = lesson(section("A", *["q 6:1h 2p 3m 4"] * 4, notes=notes))
    wide = SheetOptions(landscape=True)
    made = sheet(replace(one, head=replace(one.head, sheet=wide)), SheetRequest(), FLAT)
    assert made.page(made.page_count).bars()


@given(lessons())
def test_the_key_is_never_alone_on_a_page(given_lesson):
    made = sheet(given_lesson, SheetRequest(), FLAT)
    if texts(given_lesson, "key"):
        assert made.page(made.page_count).bars()
