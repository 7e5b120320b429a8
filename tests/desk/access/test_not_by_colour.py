"""Nothing is told by colour alone, and nothing moves for longer than an eye follows."""

from itertools import combinations

import numpy as np
import pytest
from PySide6.QtCore import QAbstractAnimation, QRect, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.metrics import Metrics
from chalkfret.theory.degrees import Role
from tests.builder import lesson, section
from tests.desk.access.test_focus import luminance
from tests.desk.two_guitars import two_guitars

LONGEST_MS = 150  # an animation shows a connection and is over
_STANDS_OUT = 0.08  # of relative luminance: a hatch line from the ground between its lines


def hatched(metrics: Metrics, role: Role) -> np.ndarray:
    """Where the lines of a role's hatch lie, told from its ground by lightness alone."""
    image = QImage(48, 24, QImage.Format.Format_RGB32)
    image.fill(metrics.tints[role])
    painter = QPainter(image)
    if role in metrics.hatches:
        painter.fillRect(image.rect(), metrics.hatches[role])
    painter.end()
    shades = luminance(image)
    return np.abs(shades - np.median(shades[0, 0])) > _STANDS_OUT


@pytest.mark.parametrize("dark", [False, True], ids=["paper", "slate"])
def test_the_roles_differ_without_any_colour(look, dark):
    look.show_dark(dark)
    metrics = Metrics(look)
    pictures = {role: hatched(metrics, role) for role in Role}
    assert not pictures[Role.PLAIN].any(), "a plain note has no hatch"
    for one, other in combinations(Role, 2):
        alike = (pictures[one] == pictures[other]).mean()
        inverse = (pictures[one] != pictures[other]).mean()
        assert max(alike, inverse) < 0.95, (one, other)


def test_a_refusal_has_a_sign_beside_its_words(show):
    window = show(two_guitars())
    window.show_page("strings")
    page = window.page("strings")
    page.tuning.field.setFocus()
    page.tuning.field.selectAll()
    QTest.keyClicks(page.tuning.field, "C Q")
    QTest.keyClick(page.tuning.field, Qt.Key.Key_Return)
    assert page.saying.is_loud
    sign = next(label for label in page.saying.findChildren(QLabel) if not label.pixmap().isNull())
    assert sign.isVisible()
    assert sign.accessibleName()


def test_the_whole_of_a_refusal_is_seen_in_a_small_window_with_large_text(show, text_size):
    text_size(200)
    window = show(two_guitars())
    window.resize(1024, 640)
    window.show_page("strings")
    page = window.page("strings")
    gauge = page.table.rows[5].gauge
    gauge.setFocus()
    gauge.selectAll()
    QTest.keyClicks(gauge, "as thick as a rope")
    QTest.keyClick(gauge, Qt.Key.Key_Return)
    QTest.qWait(50)
    words = max(page.table_saying.findChildren(QLabel), key=lambda label: len(label.text()))
    assert words.text()
    assert words.height() >= words.heightForWidth(words.width())
    assert words.visibleRegion().boundingRect().height() == words.height()


def test_a_selection_has_an_outline_and_the_cursor_a_frame(show):
    window = show(lesson(section("A", "q 6:0 3 5 7")))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 2))
    plain = luminance(grid.viewport().grab().toImage())
    grid.move_to(Cursor(0, 0, 5040, 0, 4), select=True)
    selected = luminance(grid.viewport().grab().toImage())
    changed = np.abs(plain - selected) > 0.25
    rect: QRect = grid.cell_rect(Cursor(0, 0, 0, 0, 2))
    edge = changed[rect.top() : rect.top() + 3, rect.left() + 4 : rect.right() * 2]
    assert edge.any(axis=0).mean() > 0.8, "no line along the top of the selection"


def test_nothing_is_animated_for_long(show):
    window = show(two_guitars())
    for page in ("strings", "sheet", "handouts", "riffs"):
        window.show_page(page)
        for one in window.findChildren(QAbstractAnimation):
            assert one.totalDuration() <= LONGEST_MS
