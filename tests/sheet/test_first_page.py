"""What stands before the music: setups with their figures, cautions, the map."""

from chalkfret.files.lesson_file import load
from chalkfret.model import Lesson
from chalkfret.places import DEMO_LESSONS
from chalkfret.sheet.display import Box, Ink, Text
from chalkfret.sheet.layout import SheetRequest, sheet
from tests.builder import lesson, part, section, tuned
from tests.sheet.measurers import FLAT

TWO = lesson(
    section("A", "q 6:1 1 1 1", "q 1:2 2 2 2"),
    section("B", "q 6:1 1 1 1 | 2 2 2 2", "q 1:2 2 2 2 | 2 2 2 2"),
    parts=(part("Low", tuned("B1 F#2 B2 E3 G#3 C#4")), part("High")),
)


def first_page(tag: str, shown: Lesson = TWO) -> list[Text]:
    items = [item for _, _, item in sheet(shown, SheetRequest(), FLAT).page(1).items()]
    return [item for item in items if isinstance(item, Text) and item.tag == tag]


def test_a_change_of_tension_is_said_under_the_guitar_that_has_it():
    words = [
        item.text for item in first_page("setup", load(DEMO_LESSONS / "lantern_steps.chalkfret"))
    ]
    lines = [text for text in words if "lb from standard" in text]
    assert len(lines) == 2
    assert lines[0] != lines[1]
    assert all("−" in line for line in lines)
    assert not any("change by" in item.text for item in first_page("caution"))


def test_a_step_from_standard_names_its_unit():
    steps = [item.text for item in first_page("setup") if item.text[0] in "↑↓"]
    assert steps == ["↓ 3 semitones"] * 5 + ["↓ 5 semitones"]


def test_all_headings_of_the_first_page_look_alike():
    headings = first_page("heading")
    assert [one.text for one in headings] == ["Setup", "Before you tune", "Sections"]
    assert len({(one.size, one.face, one.ink) for one in headings}) == 1


def test_the_map_is_as_wide_as_time_and_equally_high():
    page = sheet(TWO, SheetRequest(), FLAT).page(1)
    strip = next(
        [item for item in placed.block.items if isinstance(item, Box) and item.ink is Ink.TINT]
        for placed in page.placed
        if any(isinstance(item, Text) and item.tag == "map" for item in placed.block.items)
    )
    assert len({box.height for box in strip}) == 1
    assert strip[0].width < strip[1].width
