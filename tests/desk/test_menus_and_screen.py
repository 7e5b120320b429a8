"""Every window and every menu has its place on a small screen, also with text twice as large."""

from PySide6.QtCore import QRect, QSize

from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from tests.builder import lesson, section

SMALL = QSize(1366, 768)
FOR_THE_FRAME = 40


def test_no_window_is_larger_than_its_screen(show, text_size, qtbot):
    window = show(lesson(section("A", "q 6:0")))
    text_size(200)
    screen = window.screen().availableGeometry().size()
    assert window.look.unit(110) > screen.width(), "the screen of this test is small enough"
    window.show_settings()
    window.show_keys()
    fresh = Window(window.look, open_settings())
    qtbot.addWidget(fresh)
    for one in (fresh, window.settings_window, window.keys_sheet):
        assert one.width() <= screen.width()
        assert one.height() <= screen.height() - FOR_THE_FRAME
        assert one.minimumSizeHint().width() <= screen.width()
        assert one.minimumSizeHint().height() <= screen.height() - FOR_THE_FRAME


def test_no_menu_is_longer_than_a_small_screen(show, text_size):
    window = show(lesson(section("A", "q 6:0")))
    window.make_pages()
    text_size(200)
    menus = [action.menu() for action in window.menuBar().actions()]
    menus += [action.menu() for menu in menus for action in menu.actions() if action.menu()]
    for menu in menus:
        rows = [menu.actionGeometry(action) for action in menu.actions()]
        if not rows:
            continue  # filled as it opens
        columns = {row.left() for row in rows if row.isValid()}
        assert len(columns) <= 1, f"{menu.title()} wraps"
        assert QRect(rows[0]).united(rows[-1]).height() <= SMALL.height(), menu.title()


def test_what_is_in_a_menu_within_a_menu_follows_what_can_be_done(show):
    window = show(lesson(section("A", "q 6:0")))
    (view,) = (one.menu() for one in window.menuBar().actions() if one.text() == "&View")
    (sizes,) = (one.menu() for one in view.actions() if one.text() == "Si&ze of the notes")
    larger = window.registry.qaction("grid_larger")
    assert larger in sizes.actions()
    window.show_page("strings")
    sizes.aboutToShow.emit()
    assert not larger.isEnabled()
    sizes.aboutToHide.emit()
    assert larger.isEnabled(), "a closed menu leaves its keys alone"
