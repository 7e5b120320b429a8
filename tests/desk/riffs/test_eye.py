"""Zoom, following, folding and going to a place, by real keys and real pixels."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.go_to import Target, target_of
from chalkfret.desk.riffs.rows import RowKind
from chalkfret.desk.riffs.sight import LEAST, MOST
from chalkfret.desk.settings import open_settings
from tests.builder import lesson, section
from tests.desk.hands import press, type_text
from tests.desk.two_guitars import two_guitars

LONG = " | ".join(["q 6:0 3 5 7"] * 40)


@pytest.fixture
def page(show):
    return show(lesson(section("A", LONG, LONG, key="E minor"))).page("riffs")


def ink(grid, cursor):
    """How many pixels of a cell are as dark as its text."""
    rect = grid.cell_rect(cursor).translated(-grid.horizontalOffset(), -grid.verticalOffset())
    image = grid.viewport().grab(rect).toImage()
    return sum(
        QColor(image.pixel(x, y)).lightness() < 90
        for x in range(image.width())
        for y in range(image.height())
    )


# --- zoom -----------------------------------------------------------------------------------------


def test_zoom_makes_all_of_the_grid_larger_and_smaller_within_its_bounds(page):
    grid = page.grid
    usual = grid.metrics
    note = Cursor(0, 0, 0, 0, 6)
    grid.move_to(Cursor(0, 0, 0, 0, 1))
    before = ink(grid, note)
    press(*["Alt++"] * 3)
    assert grid.sight.percent == 150
    assert grid.metrics.step == pytest.approx(usual.step * 1.5, abs=2)
    assert grid.metrics.string - grid.metrics.spare == pytest.approx(
        (usual.string - usual.spare) * 1.5, abs=4
    )
    assert ink(grid, note) > before * 1.5, "the fret grows with its cell"
    press(*["Alt++"] * 20)
    assert grid.sight.zoom == MOST
    press(*["Alt+-"] * 30)
    assert grid.sight.zoom == LEAST
    assert ink(grid, note) > 0
    press("Alt+0")
    assert (grid.sight.zoom, grid.metrics.step) == (1.0, usual.step)


@pytest.mark.parametrize("percent", [50, 80, 100, 150, 300])
def test_frets_marks_and_names_have_their_room_at_every_size(page, percent):
    grid = page.grid
    grid.sight.zoom_to(percent / 100)
    m = grid.metrics
    assert m.fret_fm.horizontalAdvance("(22)") <= m.step
    assert m.fret_fm.ascent() < m.pill
    assert m.sign_fm.ascent() < m.sign_height
    assert m.sign_height + m.pill <= m.string
    assert m.text_fm.height() <= m.degrees
    assert m.strong_fm.height() <= m.lane
    for edge in (m.edge,):
        assert edge.text_fm.height() <= m.ruler_top
        assert m.ruler_top + edge.text_fm.height() <= m.ruler
        assert edge.text_fm.horizontalAdvance("12A♭2 +50") <= grid.verticalHeader().width()


def test_what_is_under_the_pointer_stays_under_it(page):
    grid = page.grid
    grid.horizontalScrollBar().setValue(3_000)
    anchor = QPoint(301, 97)
    before = (grid.horizontalOffset() + anchor.x()) / grid.metrics.step
    for factor in (1.1, 1.3, 0.7, 1.9, 0.5):
        grid.zoom_by(factor, anchor)
        after = (grid.horizontalOffset() + anchor.x()) / grid.metrics.step
        assert after == pytest.approx(before, abs=0.2)


def test_the_cursor_stays_where_it_is_seen_when_keys_zoom(page):
    grid = page.grid
    press(*["Ctrl+Right"] * 2)
    grid.horizontalScrollBar().setValue(grid.cell_rect(grid.here).left() - 200)
    for key in ("Alt++", "Alt++", "Alt+-"):
        press(key)
        assert abs(grid.cell_rect(grid.here).left() - grid.horizontalOffset() - 200) <= 1
    assert grid.verticalScrollBar().value() == 0, "the lane of the first guitar stays in sight"


def test_size_and_following_are_remembered(page, qtbot, window):
    press("Alt++", "Shift+F12")
    qtbot.waitUntil(lambda: open_settings().value.grid_zoom == 110)
    assert open_settings().value.follow_cursor
    window.settings.change(grid_zoom=200, follow_cursor=False)
    assert (page.grid.sight.zoom, page.grid.sight.follows) == (2.0, False)


# --- following ------------------------------------------------------------------------------------


def test_a_cursor_that_is_followed_stays_off_the_edges(page):
    grid, width = page.grid, page.grid.viewport().width()

    def place():
        return (grid.cell_rect(grid.here).center().x() - grid.horizontalOffset()) / width

    press("Shift+F12")
    for key in (*["Right"] * 40, *["Ctrl+Right"] * 5, *["Left"] * 50):
        press(key)
        if grid.horizontalOffset() > 0:
            assert 0.25 < place() < 0.75
    press("Shift+F12", *["Right"] * 60)
    seen = set()
    for _step in range(40):
        press("Right")
        seen.add(place() > 0.75)
    assert seen == {True, False}, "not followed it runs to the edge before the page turns"


# --- folding --------------------------------------------------------------------------------------


@pytest.fixture
def three(show):
    guitars = lesson(section("A", "q 6:0 3 5 7", "q 5:2 2 r r", "q 4:1 1 1 1", key="E minor"))
    return show(guitars).page("riffs")


def kinds(grid, part):
    return [grid.grid_model.rows[row].kind for row in grid.grid_model.rows.of_part(part)]


def test_a_folded_guitar_is_one_row_that_is_passed_over(three):
    grid = three.grid
    press("Ctrl+Down", "Shift+F2")
    assert kinds(grid, 1) == [RowKind.FOLDED]
    assert grid.here.part == 2, "the cursor left it"
    press("Up")
    assert (grid.here.part, grid.here.course) == (0, 6)
    press("Down")
    assert (grid.here.part, grid.here.course) == (2, 1)
    press("Ctrl+Up")
    assert grid.here.part == 0
    press("Ctrl+Down")
    assert grid.here.part == 2
    press("Shift+F4")
    assert len(kinds(grid, 1)) == 8


def test_the_folded_row_shows_its_notes_and_says_that_it_is_folded(three):
    grid = three.grid
    press("Shift+F3")
    assert (kinds(grid, 1), kinds(grid, 2)) == ([RowKind.FOLDED], [RowKind.FOLDED])
    row = grid.grid_model.rows.of_part(1)[0]
    top, bottom = grid.tops[row], grid.tops[row + 1]
    image = grid.viewport().grab().toImage()

    def marked(first, last):
        xs = range(first * grid.metrics.step + 3, last * grid.metrics.step - 3)
        ys = range(top + 2, bottom - 2)
        return sum(QColor(image.pixel(x, y)).lightness() < 120 for x in xs for y in ys)

    assert marked(0, 8) > 20
    assert marked(8, 16) == 0, "where it rests nothing is painted but the line"
    model = grid.grid_model
    role = Qt.ItemDataRole.AccessibleTextRole
    assert "folded" in model.data(model.index(row, 0), role)
    assert "2 notes" in model.data(model.index(row, 0), role)
    assert "folded" in model.headerData(row, Qt.Orientation.Vertical)


def test_one_guitar_stays_open_and_what_changes_is_unfolded(three, window):
    grid = three.grid
    press("Shift+F3", "Shift+F2")
    assert "stays open" in window.foot.sentence
    press("Ctrl+Z")  # nothing to undo
    press("Shift+F4", "Ctrl+Down", "7", "Ctrl+Up", "Shift+F3")
    assert kinds(grid, 1) == [RowKind.FOLDED]
    press("Ctrl+Z")
    assert grid.here.part == 1
    assert len(kinds(grid, 1)) == 8, "an undone step is seen"


def test_folding_is_no_change_of_the_lesson_and_ends_with_it(three, window):
    before = window.document.lesson
    press("Shift+F3")
    assert window.document.lesson is before
    assert not window.document.undo_stack.canUndo()
    window.files.show_copy(two_guitars())
    assert len(kinds(three.grid, 1)) == 8


def test_a_guitar_whose_neighbours_go_is_unfolded(three, window):
    press("Ctrl+Down", "Shift+F3", "Shift+F2")
    window.registry.run("part_remove")
    grid = three.grid
    assert len(kinds(grid, grid.here.part)) == 8
    press("0")
    assert any(window.document.lesson.sections[0].bars[0].notes[grid.here.part])


def test_only_the_name_of_several_guitars_has_a_corner_to_fold_it(three):
    names = three.grid.verticalHeader()
    assert names.part_at(5) == 0
    rows = three.grid.grid_model.rows
    assert names.part_at(three.grid.tops[rows.of_part(1)[0]] + 5) == 1
    assert names.part_at(three.grid.tops[rows.of_string(1, 3)] + 5) is None
    QTest.mouseClick(names.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(20, 5))
    assert kinds(three.grid, 0) == [RowKind.FOLDED]
    QTest.mouseClick(names.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(20, 5))
    assert len(kinds(three.grid, 0)) == 8


# --- going to a place -----------------------------------------------------------------------------

NAMED = lesson(
    section("A", " | ".join(["q 6:0"] * 12), name="Cellar stairs"),
    section("B", " | ".join(["q 6:0"] * 3), name="Attic"),
    section("b2", "q 6:0", name="Attic again"),
)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("12", (0, 11)), ("B", (1, 0)), ("b", (1, 0)), ("B 3", (1, 2)), ("B3", (1, 2)),
        ("b2", (2, 0)), ("B2", (2, 0)), ("B 2", (1, 1)), ("attic", (1, 0)), ("again", (2, 0)),
        (" cellar  stairs 7 ", (0, 6)), ("att 2", (1, 1)), ("A, 5", (0, 4)),
    ],
)  # fmt: skip
def test_a_place_is_found_by_what_it_is_called(text, place):
    assert target_of(NAMED, text, here=0) == Target(*place)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("13", "Section A has 12 bars."), ("0", "Section A has 12 bars."),
        ("B 4", "Section B has 3 bars."), ("b2 2", "Section b2 has 1 bar."),
        ("Z", "no section “Z”"), ("cave 3", "no section “cave 3”"), ("", "Type a bar"),
    ],
)  # fmt: skip
def test_a_place_that_is_not_there_is_said(text, words):
    with pytest.raises(Unreadable) as refused:
        target_of(NAMED, text, here=0)
    assert words in refused.value.sentence


def test_a_line_leads_to_a_bar_and_escape_leads_back(show, qtbot):
    window = show(NAMED)
    page = window.page("riffs")
    line = page.eye.go_to
    press("Ctrl+G")
    qtbot.waitUntil(line.line.hasFocus)
    type_text("B 3")
    assert line.saying.text == "B Attic, bar 3"
    press("Return")
    qtbot.waitUntil(page.grid.hasFocus)
    assert page.grid.here.time == (1, 2, 0)
    assert not line.isVisible()
    press("Ctrl+G")
    qtbot.waitUntil(line.line.hasFocus)
    type_text("9")
    assert not line.saying.is_loud, "who is still typing is not told off"
    press("Return")
    assert line.saying.is_loud
    assert "has 3 bars" in line.saying.text
    press("Escape")
    qtbot.waitUntil(page.grid.hasFocus)
    assert page.grid.here.time == (1, 2, 0)


# --- the lesson as the bird sees it ---------------------------------------------------------------


def test_the_strip_shows_every_bar_in_small_and_frames_what_the_grid_shows(page):
    strip, grid = page.strip, page.grid
    rect = strip.rects()[0]
    band = strip.picture.band(rect)

    def framed():
        image = strip.grab().toImage()
        y, ochre = band.center().y(), page._look.colour("ochre")

        def is_near(colour):
            pairs = zip(colour.getRgb()[:3], ochre.getRgb()[:3], strict=True)
            return all(abs(one - two) < 60 for one, two in pairs)

        return [x for x in range(strip.width()) if is_near(QColor(image.pixel(x, y)))]

    at_start = framed()
    assert at_start
    assert at_start[0] < rect.left() + 5
    press("Ctrl+End")
    at_end = framed()
    assert at_end[-1] > rect.right() - 5
    assert at_end[0] > at_start[-1]
    press("Ctrl+Home", *["Alt+-"] * 6)
    wider = framed()
    assert wider[-1] - wider[0] > 1.5 * (at_start[-1] - at_start[0]), "smaller notes, more bars"
    assert grid.sight.zoom == LEAST


def test_places_of_the_strip_are_bars_and_a_click_goes_there(page):
    strip = page.strip
    band = strip.picture.band(strip.rects()[0])
    for bar in (0, 7, 39):
        x = band.left() + band.width() * (bar + 0.5) / 40
        assert strip.place_at(QPointF(x, band.center().y()).toPoint()) == (0, bar)
    assert strip.place_at(QPoint(band.center().x(), band.top() - 8)) is None
    there = QPoint(band.left() + band.width() * 21 // 40, band.center().y())
    QTest.mouseClick(strip, Qt.MouseButton.LeftButton, pos=there)
    assert page.grid.here.bar == 20 or page.grid.here.bar == 21


def test_keys_go_along_the_strip_by_sections_and_by_bars(show, qtbot):
    page = show(NAMED).page("riffs")
    press("F10")
    qtbot.waitUntil(page.strip.hasFocus)
    press("Ctrl+Right", "Ctrl+Right")
    assert page.grid.here.time == (0, 2, 0)
    press("Right")
    assert page.grid.here.time == (1, 0, 0)
    press("Ctrl+Left")
    assert page.grid.here.time == (0, 11, 0)
    press("Return")
    qtbot.waitUntil(page.grid.hasFocus)


def test_only_the_picture_of_a_section_that_differs_is_made_again(show, qtbot):
    page = show(two_guitars()).page("riffs")
    strip = page.strip
    strip.grab()
    before = {each: kept.pixmap for each, kept in strip.picture._kept.items()}
    assert len(before) == 2
    press("7")
    assert strip.picture._kept["s-a"].pixmap is before["s-a"], "never while a key is pressed"
    qtbot.waitUntil(lambda: not strip._later.isActive())
    strip.grab()
    after = {each: kept.pixmap for each, kept in strip.picture._kept.items()}
    assert after["s-b"] is before["s-b"]
    assert after["s-a"] is not before["s-a"]


def test_the_key_that_folded_a_guitar_unfolds_it_and_goes_back(three):
    grid = three.grid
    press("Ctrl+Down", "Right", "Down")
    before = grid.here
    press("Shift+F2")
    assert kinds(grid, 1) == [RowKind.FOLDED]
    press("Shift+F2")
    assert len(kinds(grid, 1)) == 8
    assert grid.here == before
    press("Shift+F2", "Right", "Shift+F2")
    assert kinds(grid, 1) == [RowKind.FOLDED]
    assert kinds(grid, 2) == [RowKind.FOLDED], "after a move it folds the cursor's own"


def test_the_empty_field_for_a_place_stands_beside_its_label_and_stays_there(page, qtbot):
    line = page.eye.go_to
    press("Ctrl+G")
    qtbot.wait(20)
    before = line.line.geometry()
    assert before.left() < line.width() // 4
    type_text("1")
    qtbot.wait(20)
    assert line.line.geometry() == before
