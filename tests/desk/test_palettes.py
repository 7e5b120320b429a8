"""Switching the palette leaves nothing behind: every page is as one made anew in that palette."""

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.pages import PAGES
from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from tests.desk.two_guitars import two_guitars


@pytest.fixture
def made(qtbot, look):
    """Make a window with a lesson."""

    def make():
        window = Window(look, open_settings())
        qtbot.addWidget(window, before_close_func=lambda one: one.document.undo_stack.setClean())
        window.resize(1280, 800)
        window.show()
        window.files.show_copy(two_guitars())
        window.make_pages()
        return window

    return make


def pictures(window):
    """Every page as it is painted, with the focus in none of its fields: a caret would blink."""
    found = {}
    for entry in PAGES:
        window.show_page(entry.id)
        window.setFocus()
        while any(
            timer.isActive() and timer.isSingleShot() for timer in window.findChildren(QTimer)
        ):
            QTest.qWait(10)  # what is found out a moment later is shown as well
        for _round in range(20):
            QApplication.processEvents()
        found[entry.id] = window.page(entry.id).grab().toImage()
    return found


@pytest.mark.parametrize("dark", [True, False], ids=["to dark", "to light"])
def test_a_switched_page_is_as_one_made_in_that_palette(made, look, dark):
    look.show_dark(not dark)
    switched = made()
    before = pictures(switched)
    look.show_dark(dark)
    after = pictures(switched)
    anew = pictures(made())
    for page, picture in after.items():
        assert picture != before[page], page
        assert picture == anew[page], page
