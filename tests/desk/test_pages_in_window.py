"""The pages in the real window, by the keys that the registry binds."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.model import tuning_names
from tests.desk.test_sheet_page import long_lesson
from tests.desk.two_guitars import two_guitars

ALT, CTRL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier


def press(key, modifiers=Qt.KeyboardModifier.NoModifier):
    QTest.keyClick(QApplication.focusWidget(), key, modifiers)


def test_strings_by_keys_and_undo_from_within_a_field(show, qtbot):
    window = show(two_guitars())
    press(Qt.Key.Key_2, ALT)
    page = window.page("strings")
    qtbot.waitUntil(page.tuning.field.hasFocus)
    press(Qt.Key.Key_A, CTRL)
    QTest.keyClicks(QApplication.focusWidget(), "DADGAD")
    setup = window.document.lesson.parts[0].setup
    assert tuning_names(setup) == ("D2", "A2", "D3", "G3", "A3", "D4")
    press(Qt.Key.Key_Z, CTRL)
    assert page.tuning.field.text() == "C2 G2 C3 F3 A3 D4"
    press(Qt.Key.Key_PageDown, CTRL)
    assert page.part.name == "High guitar"
    press(Qt.Key.Key_PageUp, CTRL)
    assert window.foot._place.text() == "Low guitar"


def test_sheet_by_keys(show, qtbot):
    window = show(long_lesson())
    press(Qt.Key.Key_3, ALT)
    page = window.page("sheet")
    qtbot.waitUntil(page.view.hasFocus)
    press(Qt.Key.Key_PageDown)
    assert page.view.current == 1
    assert window.foot._place.text() == f"page 2 of {page.view.count}"
    press(Qt.Key.Key_PageDown, CTRL)
    assert page._section_here() == window.document.lesson.sections[1].id
    press(Qt.Key.Key_9, CTRL)
    assert page.view.page_rect(page.view.current).height() <= page.view.viewport().height()
    press(Qt.Key.Key_E, CTRL)
    assert page.panel.fields["title"].hasFocus()
    QTest.keyClicks(QApplication.focusWidget(), "Renamed")
    assert window.document.lesson.head.title == "Renamed"


def test_hand_outs_by_keys(show, qtbot, tmp_path):
    window = show(two_guitars())
    press(Qt.Key.Key_4, ALT)
    page = window.page("handouts")
    qtbot.waitUntil(page.choices.sheet.hasFocus)
    press(Qt.Key.Key_Space)
    assert not page.choices.wishes.sheet
    page.choices.folder.setFocus()
    press(Qt.Key.Key_A, CTRL)
    QTest.keyClicks(QApplication.focusWidget(), str(tmp_path / "out"))
    press(Qt.Key.Key_Return, CTRL)
    qtbot.waitUntil(lambda: page._work is None and page.saying.text != "", timeout=30_000)
    assert page.saying.text == "1 file was made."
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["Two-lamps.mid"]


def test_the_foot_tells_the_place_of_the_page_that_is_shown_and_of_no_other(show, qtbot):
    window = show(long_lesson())
    place = window.foot._place
    assert "bar 1, beat 1" in place.text()
    press(Qt.Key.Key_H)
    assert "no note" in window.foot.sentence
    press(Qt.Key.Key_3, ALT)
    qtbot.waitUntil(lambda: place.text().startswith("page 1 of"))
    assert window.foot.sentence == "", "what was refused on another page is no matter here"
    press(Qt.Key.Key_PageDown)
    assert place.text().startswith("page 2 of")
    press(Qt.Key.Key_4, ALT)
    assert place.text() == ""
    window.page("sheet").view.go_to(0)
    window.registry.run("section_duplicate")  # the Riffs page follows, out of sight
    qtbot.wait(50)
    assert place.text() == ""
    press(Qt.Key.Key_1, ALT)
    assert "bar 1, beat 1" in place.text()


def test_the_foot_counts_the_pages_that_there_are_after_an_edit(show, qtbot):
    window = show(long_lesson())
    press(Qt.Key.Key_3, ALT)
    view = window.page("sheet").view
    pages = view.count
    window.registry.run("section_duplicate")
    qtbot.waitUntil(lambda: view.count > pages)
    assert window.foot._place.text() == f"page 1 of {view.count}"


def test_a_guitar_is_added_from_the_strings_page_too(show, qtbot):
    window = show(two_guitars())
    press(Qt.Key.Key_2, ALT)
    page = window.page("strings")
    qtbot.waitUntil(page.tuning.field.hasFocus)
    press(Qt.Key.Key_G, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert len(window.document.lesson.parts) == 3
    assert page.parts_row.name.hasFocus()


def test_the_list_of_keys_says_of_what_it_speaks(show):
    window = show(two_guitars())
    press(Qt.Key.Key_F1)
    texts = [text for text, _keys in window.keys_sheet.rows()]
    assert "Section: Duplicate" in texts
    assert "Duplicate" not in texts
    assert "Delete" not in texts
