"""What one guitar does otherwise than another, marked in the grid and listed under it."""

import pytest
from PySide6.QtGui import QColor

from chalkfret.desk.riffs.cursor import Cursor
from tests.builder import lesson, section
from tests.desk.hands import press

ONE = "q 6:0 3 5 7 | q 6:0 3 5 7 | q 6:0 3 5 7 | q 6:0 3 5 7"
TWO = "q 6:0 3 5 7 | q r r r r | q 4:2 5 7 9 | q 6:0 3 5 8"


@pytest.fixture
def page(show):
    return show(lesson(section("A", ONE, TWO), section("B", "q 6:0", "q 6:0"))).page("riffs")


def band_of(grid, bar):
    """The colours of the band over the second guitar's strings in one bar."""
    row = grid.grid_model.rows.of_part(1)[0]
    bottom, step = grid.tops[row + 1] - grid.verticalOffset(), grid.metrics.step
    left = grid.grid_model.columns.bar_column(0, bar) * step - grid.horizontalOffset()
    image = grid.viewport().grab().toImage()
    xs = range(left + 2, min(left + 16 * step, image.width()) - 2)
    ys = range(bottom - grid.metrics.band + 1, bottom - 2)
    return {QColor(image.pixel(x, y)).name() for x in xs for y in ys}


def test_bars_that_differ_have_a_hatched_band_and_bars_that_do_not_have_none(page):
    grid = page.grid
    page.window().resize(2600, 800)
    press("Shift+F5")
    surface, hatch = grid.metrics.surface.name(), grid.metrics.difference_hatch.color().name()
    assert band_of(grid, 0) == {surface}
    for bar in (1, 2):
        assert hatch in band_of(grid, bar)
    press("Shift+F5")
    row = grid.grid_model.rows.of_part(1)[0]
    assert grid.tops[row + 1] - grid.tops[row] == grid.metrics.lane, "and the band is gone"


def test_an_edit_marks_its_bar_at_once(page):
    grid = page.grid
    press("Shift+F5")
    hatch = grid.metrics.difference_hatch.color().name()
    assert hatch not in band_of(grid, 0)
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    press("9")
    assert hatch in band_of(grid, 0), "what the first guitar does counts as well"
    press("Ctrl+Z")
    assert hatch not in band_of(grid, 0)


def test_the_notes_that_differ_have_a_line_under_them(page):
    grid = page.grid
    page.window().resize(2600, 800)
    grid.move_to(Cursor(0, 3, 0, 1, 1))
    grid.horizontalScrollBar().setValue(grid.horizontalScrollBar().maximum())

    def under(tick):
        rect = grid.cell_rect(Cursor(0, 3, tick, 1, 6))
        rect = rect.translated(-grid.horizontalOffset(), -grid.verticalOffset())
        y = rect.top() + grid.metrics.sign_height + grid.metrics.pill + grid.metrics.px(1)
        image, ink = grid.viewport().grab().toImage(), grid.metrics.ink.name()
        return sum(
            QColor(image.pixel(x, y)).name() == ink for x in range(rect.left(), rect.right())
        )

    plain = [under(tick) for tick in (0, 15120)]
    press("Shift+F5")
    marked = [under(tick) for tick in (0, 15120)]
    assert marked[0] == plain[0]
    assert marked[1] > plain[1] + 5


def test_the_list_says_what_is_otherwise_and_leads_there(page, qtbot):
    grid, shown = page.grid, page.eye.differences
    press("Shift+F6")
    qtbot.waitUntil(shown.list.hasFocus)
    lines = [shown.list.item(row).text() for row in range(shown.list.count())]
    assert lines == [
        "Section A, bar 2: Guitar 2 is silent while Guitar 1 plays.",
        "Section A, bar 3: Guitar 2 plays an octave higher than Guitar 1.",
        "Section A, bar 4: Guitar 2 plays other notes than Guitar 1, in the same rhythm.",
    ]
    press("Down", "Return")
    qtbot.waitUntil(grid.hasFocus)
    assert (grid.here.time, grid.here.part) == ((0, 2, 0), 1)
    press("Ctrl+Z", "9")
    qtbot.waitUntil(lambda: ("bar 3" in shown.list.item(1).text() and "other notes" in (
        shown.list.item(1).text()
    )) or "rhythm" in shown.list.item(1).text())  # fmt: skip
    press("Shift+F6")
    assert not shown.isVisible()


def test_the_guitars_can_be_turned_round(page, qtbot):
    shown, comparison = page.eye.differences, page.grid.comparison
    press("Shift+F6")
    qtbot.waitUntil(shown.list.hasFocus)
    shown.two.chosen.emit(0)
    assert comparison.pair == (1, 0)
    qtbot.waitUntil(lambda: "Guitar 1 plays while" in shown.list.item(0).text())
    press("Escape")
    qtbot.waitUntil(page.grid.hasFocus)


def test_where_there_is_one_guitar_it_is_said(show):
    window = show(lesson(section("A", "q 6:0")))
    for key in ("Shift+F5", "Shift+F6"):
        window.foot.hush()
        press(key)
        assert "only one guitar" in window.foot.sentence
    assert not window.page("riffs").eye.differences.isVisible()


def test_guitars_that_do_the_same_are_said_to(show):
    page = show(lesson(section("A", "q 6:0", "q 6:0"))).page("riffs")
    press("Shift+F6")
    assert page.eye.differences.nothing.isVisible()
    assert not page.eye.differences.list.isVisible()
