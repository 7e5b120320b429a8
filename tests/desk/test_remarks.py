"""Remarks reach the window: counted at the foot, listed, and each leads to its place."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.builder import lesson, section
from tests.desk.hands import press

CALM = lesson(section("A", "q 6:0 3 5 7"), section("B", "q 6:0 3 5 7 | q 5:0 3 5 7"))


@pytest.fixture
def shown(show, qtbot):
    window = show(CALM)
    qtbot.waitUntil(lambda: window._remarks is not None)
    window.remarks.look_now()
    return window


def test_a_calm_lesson_is_not_spoken_of(shown):
    assert shown.remarks.found == ()
    assert not shown.remarks.count.isVisible()
    press("Shift+F8")
    assert not shown.remarks.isVisible()
    assert "no remarks" in shown.foot.sentence


def test_a_pull_off_upwards_is_counted_after_a_pause_and_leads_to_its_place(shown, qtbot):
    grid = shown.page("riffs").grid
    press("PgDown", "Ctrl+Right", "Right", "Right")
    for _string in range(4):
        press("Down")
    press("7", "P")  # pulled off upwards: the 5 comes before it
    assert shown.remarks.found == (), "never while a key is pressed"
    qtbot.waitUntil(shown.remarks.count.isVisible)
    assert shown.remarks.count.text() == "1 remark"
    there = (1, 1, 5)
    press("Ctrl+Home")
    assert (grid.here.section, grid.here.bar) == (0, 0)
    press("Alt+4", "Shift+F8")
    qtbot.waitUntil(shown.remarks.list.hasFocus)
    assert "bar 2" in shown.remarks.list.item(0).text()
    press("Return")
    assert shown.page("riffs").isVisible()
    qtbot.waitUntil(grid.hasFocus)
    assert (grid.here.section, grid.here.bar, grid.here.course) == there


def test_escape_puts_the_list_away_and_what_is_mended_is_gone(shown, qtbot):
    press("Home", "Right", "Right")
    for _string in range(5):
        press("Down")
    press("P")  # 3 to 5
    qtbot.waitUntil(shown.remarks.count.isVisible)
    QTest.mouseClick(shown.remarks.count, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(shown.remarks.list.hasFocus)
    press("Escape")
    assert not shown.remarks.isVisible()
    grid = shown.page("riffs").grid
    qtbot.waitUntil(grid.hasFocus)
    press("Ctrl+Z")
    qtbot.waitUntil(lambda: not shown.remarks.count.isVisible())


def test_a_place_without_a_bar_leads_to_its_part(shown, qtbot):
    grid = shown.page("riffs").grid
    press("Ctrl+Shift+G", "Ctrl+Home", "Ctrl+Up")
    assert grid.here.part == 0
    press("Shift+F8")
    qtbot.waitUntil(shown.remarks.list.hasFocus)
    assert [one.code for one in shown.remarks.found] == ["part_silent"]
    press("Return")
    assert grid.here.part == 1
