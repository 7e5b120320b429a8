"""Another lesson takes the place of one that was folded and compared."""

from PySide6.QtWidgets import QApplication

from chalkfret.desk.riffs.cursor import Cursor
from tests.builder import lesson, section
from tests.desk.two_guitars import two_guitars


def test_folded_guitars_and_a_late_section_are_forgotten(show):
    window = show(two_guitars())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(1, 0, 0, 1, 1))
    window.registry.run("fold_others")
    window.document.replace(lesson(section("A", "q 6:0")), None)
    QApplication.processEvents()
    assert grid.here == Cursor()
    assert window.document.section == 0


def test_a_guitar_that_is_gone_is_held_against_nothing(show):
    window = show(two_guitars())
    window.registry.run("list_differences")
    comparison = window.page("riffs").grid.comparison
    window.document.replace(lesson(section("A", "q 6:0")), None)
    comparison.choose(0, 1)
    comparison.choose(0, 0)
    assert comparison.marked is None
