"""The registry: what menus, keys and F1 say is what the keyboard does."""

from collections import defaultdict

from PySide6.QtGui import QKeySequence

from chalkfret.desk.actions import MENUS
from chalkfret.desk.keys_sheet import full_name
from chalkfret.desk.pages import PAGES
from chalkfret.model.start import new_lesson
from tests.desk.hands import press


def all_entries(window):
    for page in PAGES:
        window.page(page.id)
    return list(window.registry.entries())


def test_no_key_means_two_things_in_one_place(show):
    window = show(new_lesson())
    by_key = defaultdict(set)
    for action, where in all_entries(window):
        for key in action.keys:
            assert QKeySequence(key).toString(), f"{action.id}: {key} is no key"
            by_key[QKeySequence(key).toString()].add((where, action.id))
    for key, owners in by_key.items():
        places = [where for where, _id in owners]
        assert len(set(places)) == len(places), f"{key}: {owners}"
        assert len(places) == 1 or "" not in places, f"{key} means something everywhere: {owners}"


def test_every_menu_has_its_actions_and_every_action_a_menu_that_exists(show):
    window = show(new_lesson())
    used = set()
    for action, _where in all_entries(window):
        if action.menu:
            assert action.menu in MENUS
            used.add(action.menu)
    shown = [bar.text() for bar in window.menuBar().actions()]
    assert shown == list(MENUS)
    assert used == set(MENUS)


def test_f1_lists_every_key_and_finds_it_by_its_words(show):
    window = show(new_lesson())
    press("F1")
    sheet = window.keys_sheet
    rows = sheet.rows()
    texts = {text for text, _keys in rows}
    for action, _where in window.registry.entries():
        if action.keys_text():
            assert full_name(action) in texts
    sheet.search.setText("palm")
    assert sheet.rows() == [("Palm mute", "M")]
    sheet.close()


def test_tooltips_name_the_keys(show):
    window = show(new_lesson())
    assert window.registry.qaction("save").toolTip() == "Save (Ctrl+S)"


def test_undo_and_redo_say_what_they_would_do(show):
    window = show(new_lesson())
    press("5")
    assert window.registry.qaction("undo").text() == "&Undo Set fret 5 in section A, bar 1"
    press("Ctrl+Z")
    assert window.registry.qaction("redo").text() == "&Redo Set fret 5 in section A, bar 1"
    assert window.registry.qaction("undo").text() == "&Undo"


def test_letters_mean_notes_in_the_grid_and_letters_in_a_field(show):
    window = show(new_lesson())
    press("5", "F2")
    press("H", "X")
    assert window.document.lesson.sections[0].head.name == "hx"
    assert window.document.lesson.sections[0].bars[0].notes[0][0].marks == ()


def test_pages_are_reached_by_keys(show, qtbot):
    window = show(new_lesson())
    for key, page in (("Alt+2", "strings"), ("Alt+3", "sheet"), ("Alt+4", "handouts")):
        press(key)
        assert window.page(page).isVisible()
        assert not window.page("riffs").isVisible()
        qtbot.waitUntil(lambda: window.focusWidget() is not None)
    press("Alt+1")
    assert window.page("riffs").grid.hasFocus()
