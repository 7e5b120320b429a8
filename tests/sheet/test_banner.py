"""The banner says under the key what the shapes would be called in standard tuning."""

from chalkfret.model import Lesson
from chalkfret.sheet.display import Text
from chalkfret.sheet.layout import SheetRequest, sheet
from tests.builder import lesson, part, section, tuned
from tests.sheet.measurers import FLAT

LOW = part("Low", tuned("D2 G2 C3 F3 A3 D4"))


def facts(shown: Lesson) -> str:
    pages = sheet(shown, SheetRequest(), FLAT)
    items = [item for _, _, item in pages.page(1).items()]
    return " ".join(item.text for item in items if isinstance(item, Text) and item.tag == "facts")


def test_shapes_that_are_called_otherwise_are_told():
    words = facts(lesson(section("A", "q 5:3 2 3 5", key="Bb lydian"), parts=(LOW,)))
    assert "B♭ Lydian, root at fret 3 of string 5, shaped as C" in words


def test_each_guitar_of_two_tunings_has_its_own():
    two = section("A", "q 5:3 r r r", "q 6:6 r r r", key="Bb lydian")
    words = facts(lesson(two, parts=(LOW, part("High"))))
    assert "Low: root at fret 3 of string 5, shaped as C" in words
    assert words.count("shaped") == 1


def test_in_standard_tuning_there_is_nothing_to_tell():
    assert "shaped" not in facts(lesson(section("A", "q 6:0 3 5 0", key="E minor")))
