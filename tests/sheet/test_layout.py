"""The whole sheet: nothing leaves the page, banners stay with their music, edits cost no truth."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.files.lesson_file import load
from chalkfret.model import Bar, BarHead, Lesson, Paper, SheetOptions, setup_in, with_notes
from chalkfret.places import DEMO_LESSONS
from chalkfret.sheet.display import Box, Glyph, Line, Page, Shape, Text
from chalkfret.sheet.layout import Sheet, SheetRequest, sheet
from chalkfret.sheet.pages import Piece, fill
from chalkfret.sheet.style import SMALLEST_TEXT
from chalkfret.words.text import speak
from tests.builder import lesson, part, section, tuned
from tests.sheet.measurers import FLAT, Flat
from tests.strategies import lessons, notes_in

papers = st.builds(
    SheetOptions, st.sampled_from(Paper), st.booleans(), st.booleans(), st.booleans()
)


def laid(given_lesson: Lesson, options: SheetOptions | None = None, measurer: Flat = FLAT) -> Sheet:
    return sheet(given_lesson, SheetRequest(options=options), measurer)


def pages_of(made: Sheet) -> list[Page]:
    return [made.page(number) for number in range(1, made.page_count + 1)]


def reach(item) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of an item; of a sign of music its origin."""
    if isinstance(item, Line):
        half = item.width / 2
        xs, ys = sorted((item.x1, item.x2)), sorted((item.y1, item.y2))
        return xs[0] - half, ys[0] - half, xs[1] + half, ys[1] + half
    if isinstance(item, Box):
        return item.x, item.y, item.x + item.width, item.y + item.height
    if isinstance(item, Text):
        return item.x, item.y - 0.7 * item.size, item.x + item.width, item.y + 0.2 * item.size
    if isinstance(item, Glyph):
        return item.x, item.y, item.x, item.y
    assert isinstance(item, Shape)
    points = [item.start, *(tuple(segment[-2:]) for segment in item.segments)]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


@settings(max_examples=60)
@given(lessons(), papers)
def test_nothing_leaves_the_page_and_no_text_is_too_small(given_lesson, options):
    made = laid(given_lesson, options)
    width, height = made.page_size
    for page in pages_of(made):
        for x, y, item in page.items():
            left, top, right, bottom = reach(item)
            assert left + x >= 0
            assert right + x <= width
            assert top + y >= 0
            assert bottom + y <= height
            if isinstance(item, Text):
                assert item.size >= SMALLEST_TEXT - 1e-9


@settings(max_examples=40)
@given(lessons(), papers)
def test_blocks_of_a_page_do_not_overlap(given_lesson, options):
    for page in pages_of(laid(given_lesson, options)):
        low = 0.0
        for placed in page.placed:
            assert placed.y >= low - 1e-6
            low = placed.y + placed.block.height


@settings(max_examples=40)
@given(lessons())
def test_every_bar_is_shown_once_and_banners_stay_with_their_music(given_lesson):
    made = laid(given_lesson, SheetOptions())
    seen = [(bar.section, bar.bar) for page in pages_of(made) for bar in page.bars()]
    assert seen == [(s.id, i) for s in given_lesson.sections for i in range(len(s.bars))]
    for place in made.sections:
        if _is_sane(given_lesson, place.id):
            assert made.page_of(place.id, 0) == place.page
    for number, page in enumerate(pages_of(made), 1):
        on_page = {one.id for one in made.sections if one.page <= number <= one.last_page}
        assert {bar.section for bar in page.bars()} <= on_page
    for place in made.sections:
        last = len(next(s for s in given_lesson.sections if s.id == place.id).bars) - 1
        assert made.page_of(place.id, last) == place.last_page


def _is_sane(given_lesson: Lesson, section_id: str) -> bool:
    """Few enough strings that a banner and a system can share a page at all."""
    return sum(len(part.setup.courses) for part in given_lesson.parts) <= 20


@settings(max_examples=40)
@given(lessons(), st.data())
def test_after_an_edit_the_sheet_is_what_it_is_from_nothing(given_lesson, data):
    laid(given_lesson)
    for _ in range(3):
        number = data.draw(st.integers(0, len(given_lesson.sections) - 1))
        chosen = given_lesson.sections[number]
        index = data.draw(st.integers(0, len(chosen.bars) - 1))
        bar = chosen.bars[index]
        courses = len(setup_in(chosen, given_lesson.parts[0]).courses)
        bar = with_notes(bar, 0, data.draw(notes_in(bar.head, courses)))
        edited = replace(chosen, bars=chosen.bars.with_bars({index: bar}))
        before, after = given_lesson.sections[:number], given_lesson.sections[number + 1 :]
        given_lesson = replace(given_lesson, sections=(*before, edited, *after))
        # Another measurer is another key of every cache.
        assert printed(laid(given_lesson)) == printed(laid(given_lesson, None, Flat()))


def printed(made: Sheet) -> list[tuple[object, ...]]:
    return [page.items() for page in pages_of(made)]


def test_an_edit_draws_again_only_its_system_and_the_one_that_leads_into_it():
    line = " | ".join(["e 6:0 1 2 3 4 5 6 7"] * 60)
    first = lesson(section("A", line))
    made = laid(first)
    before = [placed.block for page in pages_of(made) for placed in page.placed]
    bars = first.sections[0].bars
    edited = replace(bars[30].notes[0][0], fret=9)
    bar = with_notes(bars[30], 0, (edited, *bars[30].notes[0][1:]))
    second = replace(first.sections[0], bars=bars.with_bars({30: bar}))
    made = laid(replace(first, sections=(second,)))
    after = [placed.block for page in pages_of(made) for placed in page.placed]
    assert sum(one is not two for one, two in zip(before, after, strict=True)) <= 2


def texts(made: Sheet, tag: str) -> list[str]:
    return [
        item.text for page in pages_of(made) for _, _, item in page.items()
        if isinstance(item, Text) and item.tag == tag
    ]  # fmt: skip


def test_a_request_prints_only_its_sections_and_parts():
    low = part("Low", tuned("C2 G2 C3 F3 A3 D4"))
    two = lesson(
        section("A", "q 6:1 1 1 1", "q 1:2 2 2 2"),
        section("B", "q 6:3 3 3 3", "q 1:4 4 4 4"),
        parts=(low, part("High")),
    )
    made = sheet(two, SheetRequest(sections=("s-b",), parts=("high",)), FLAT)
    assert texts(made, "fret") == ["4"] * 4
    assert [place.letter for place in made.sections] == ["B"]
    with pytest.raises(LookupError):
        sheet(two, SheetRequest(sections=("s-z",)), FLAT)


def test_a_simile_sign_is_printed_only_where_it_is_true():
    same, other = BarHead(simile=True), BarHead()
    heads = {0: other, 1: same, 2: same}
    made = laid(lesson(section("A", "q 6:1 2 3 4 | q 1 2 3 4 | q 5 6 7 8", heads=heads)))
    assert texts(made, "fret") == ["1", "2", "3", "4", "5", "6", "7", "8"]


def test_large_print_has_digits_of_14_points():
    made = laid(lesson(section("A", "q 6:1 2 3 4")), SheetOptions(large_print=True))
    sizes = {
        item.size for page in pages_of(made) for _, _, item in page.items()
        if isinstance(item, Text) and item.tag == "fret"
    }  # fmt: skip
    assert min(sizes) * 72 / 25.4 >= 14


def test_a_page_break_that_is_asked_for_begins_a_page():
    heads = {0: BarHead(break_after="page")}
    made = laid(lesson(section("A", "q 6:1 2 3 4 | 5 6 7 8", heads=heads)))
    assert made.page_of("s-a", 1) == made.page_of("s-a", 0) + 1


def test_kept_pieces_move_to_the_next_page_together():
    def piece(height, keep=False):
        return Piece(height, 1.0, lambda: None, keep=keep)

    laid_out = fill([piece(50), piece(20, keep=True), piece(40)], 100.0)
    assert [place.page for place in laid_out] == [0, 1, 1]
    assert [place.y for place in laid_out] == [0.0, 0.0, 21.0]


def test_a_bar_wider_than_the_page_is_shrunk_and_stays_upon_it():
    head = BarHead(meter=replace(BarHead().meter, count=32))
    line = "s " + " ".join(["6:12"] * 128)
    crowded = lesson(section("A", line, heads={0: head}))
    assert isinstance(crowded.sections[0].bars[0], Bar)
    made = laid(crowded)
    right = made.page_size[0]
    assert all(reach(item)[2] + x <= right for x, _, item in made.page(made.page_count).items())
    assert len(texts(made, "fret")) == 128


def test_gaps_come_closer_by_a_quarter_and_no_more_so_that_a_piece_still_fits():
    def places(last):
        pieces = [Piece(height, 8.0, lambda: None) for height in (40.0, 30.0, last)]
        return [(place.page, place.y) for place in fill(pieces, 100.0)]

    assert places(18.0) == [(0, 0.0), (0, 46.0), (0, 82.0)]
    assert places(18.1)[2] == (1, 0.0)


@pytest.mark.parametrize("demo", ["lantern_steps", "small_gestures"])
def test_a_sheet_in_another_language_keeps_no_words_of_the_one_before(demo):
    """With another measurer nothing that was drawn before can be used."""
    lesson = load(DEMO_LESSONS / f"{demo}.chalkfret")

    def words(language: str, measurer: Flat) -> list[str]:
        speak(language)
        items = [
            item for page in pages_of(laid(lesson, None, measurer)) for *_at, item in page.items()
        ]
        return [item.text for item in items if isinstance(item, Text)]

    try:
        english, german = words("en", FLAT), words("de", FLAT)
        assert german != english
        assert german == words("de", Flat())
        assert words("en", FLAT) == english
    finally:
        speak(None)
