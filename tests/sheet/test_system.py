"""Within a system: signs stand clear of each other and in the order that the trade expects."""

import pytest

from chalkfret.model import BarHead, Meter, SheetOptions
from chalkfret.sheet.display import Glyph, Item, Line, Shape, Text
from chalkfret.sheet.layout import SheetRequest, sheet
from tests.builder import lesson, part, section, tuned
from tests.sheet.measurers import FLAT

DIGITS = range(0xE080, 0xE08A)
QUARTER_REST = 0xE4E5
DOT = 0xE1E7
FLAG = 0xE241


def system_of(line: str, heads: dict[int, BarHead] | None = None, tuning: str = "") -> list[Item]:
    """The items of all systems of one section, on the usual guitar or one so tuned."""
    parts = (part("Guitar", tuned(tuning)),) if tuning else (part("Guitar"),)
    made = sheet(
        lesson(section("A", line, heads=heads or {}), parts=parts),
        SheetRequest(options=SheetOptions()),
        FLAT,
    )
    return [
        item for number in range(1, made.page_count + 1)
        for placed in made.page(number).placed if placed.block.bars for item in placed.block.items
    ]  # fmt: skip


def glyphs(items: list[Item], *codes: int) -> list[Glyph]:
    return [item for item in items if isinstance(item, Glyph) and item.code in codes]


def strings(items: list[Item]) -> tuple[float, float]:
    ys = [item.y1 for item in items if isinstance(item, Line) and item.y1 == item.y2]
    return min(ys), max(ys)


@pytest.mark.parametrize("tuning", ["G2 D3 A3 E4", "", "F#1 B1 E2 A2 D3 G3 B3 E4"])
def test_a_meter_stands_in_both_halves_of_the_staff_without_touching(tuning):
    items = system_of("q 1:1 2 3 4", tuning=tuning)
    upper, lower = sorted(glyphs(items, *DIGITS), key=lambda one: one.y)
    half = upper.size / 4  # a digit is two staff spaces high, around its origin (SMuFL)
    assert upper.y + half < lower.y - half - 0.3
    top, bottom = strings(items)
    assert top <= upper.y - half
    assert lower.y + half <= bottom
    assert upper.y + lower.y == pytest.approx(top + bottom)


def thick_lines(items: list[Item]) -> list[Line]:
    return [i for i in items if isinstance(i, Line) and i.x1 == i.x2 and i.width > 0.7]


def test_a_repeat_opens_behind_the_meter_and_before_the_music():
    items = system_of("q 1:1 2 3 4", {0: BarHead(repeat_open=True, repeat_close=2)})
    upper, _ = glyphs(items, *DIGITS)
    opens = thick_lines(items)[0]
    first = min(item.x for item in items if isinstance(item, Text) and item.tag == "fret")
    assert upper.x + 0.45 * upper.size < opens.x1 < first


def test_a_repeat_within_a_line_is_the_bar_line_and_the_meter_follows():
    five = BarHead(meter=Meter(5, 4), repeat_open=True)
    items = system_of("q 1:1 2 3 4 | q 1:1 2 3 4 5", {1: five})
    digits = sorted(glyphs(items, *DIGITS), key=lambda one: one.x)
    assert thick_lines(items)[0].x1 < digits[-1].x


def test_what_is_bent_up_ends_before_a_rest_begins():
    items = system_of("q 3:7b r 3:7b r")
    rests = glyphs(items, QUARTER_REST)
    ends = [i.segments[-1][-2] for i in items if isinstance(i, Shape) and i.width]
    assert len(rests) == len(ends) == 2
    assert all(end + 0.4 < rest.x for end, rest in zip(ends, rests, strict=True))


def test_a_short_slide_has_room_to_be_seen():
    items = system_of("t 3:" + " ".join(["7 12/"] * 16))
    slants = [i for i in items if isinstance(i, Line) and i.y1 != i.y2 and i.x1 != i.x2]
    assert len(slants) == 16
    assert min(line.x2 - line.x1 for line in slants) >= 1.8


def test_the_dot_of_a_flagged_note_stands_beside_its_flag():
    items = system_of("e. 3:7 s r q r h r")
    (flag,), dots = glyphs(items, FLAG), glyphs(items, DOT)
    # The outline of the flag is 1.22 staff spaces wide at an em of four spaces (glyph metadata of
    # the music font), from its left edge on the stem.
    assert min(dot.x for dot in dots) > flag.x + 1.22 * flag.size / 4


def part_names(*names: str) -> list[str]:
    parts = tuple(part(name) for name in names)
    made = sheet(lesson(section("A", *["q 1:1 2 3 4"] * len(names)), parts=parts),
                 SheetRequest(), FLAT)  # fmt: skip
    return [
        item.text for _, _, item in made.page(1).items()
        if isinstance(item, Text) and item.tag == "part"
    ]  # fmt: skip


def test_a_part_s_number_stays_with_its_name():
    assert part_names("Guitar 1", "Second guitar") == ["Guitar 1", "Second", "guitar"]


@pytest.mark.parametrize(("first", "full"), [(1, True), (3, False)])
def test_a_last_system_is_set_full_from_six_tenths_of_a_line_on(first, full):
    """Three bars of eighths fill about three quarters of a line, one bar a quarter."""
    heads = {first - 1: BarHead(break_after="system")}
    line = " | ".join(["e 1:1 2 3 4 5 6 7 8"] * 4)
    made = sheet(lesson(section("A", line, heads=heads)), SheetRequest(), FLAT)
    last = made.page(1).bars()[-1]
    reached = last.x + last.width > made.page_size[0] - 15.01
    assert reached is full
