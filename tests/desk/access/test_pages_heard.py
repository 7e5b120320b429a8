"""Sheet, strings and sentences for those who hear the window."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.desk.access.tree import ROLE, description, interface, name, value, walk
from tests.desk.hands import open_lesson
from tests.desk.test_sheet_page import long_lesson
from tests.desk.two_guitars import two_guitars


def test_the_sheet_says_its_page_and_the_sections_on_it(show, heard):
    window = show(long_lesson())
    window.show_page("sheet")
    view = window.page("sheet").view
    first, count = window.document.lesson.sections[0].head, view.count
    assert name(interface(view)).startswith(f"Sheet, page 1 of {count}: {first.letter}")
    view.setFocus()
    heard.clear()
    QTest.keyClick(view, Qt.Key.Key_PageDown)
    assert heard.of("Announcement") == [name(interface(view))]
    assert name(interface(view)).startswith(f"Sheet, page 2 of {count}: ")


def test_the_pages_are_a_choice_of_one(show):
    window = show(two_guitars())
    words = [one for one in walk(interface(window)) if type(one.object()).__name__ == "PageWord"]
    assert [name(one) for one in words] == ["Riffs", "Strings", "Sheet", "Hand-outs"]
    assert {one.role() for one in words} == {ROLE.RadioButton}
    assert [bool(one.state().checked) for one in words] == [True, False, False, False]


def test_who_changes_the_page_hears_only_where_it_leads(show, qapp, qtlog):
    window = show(two_guitars())
    window.make_pages()
    came = []
    qapp.focusChanged.connect(lambda _before, now: came.append(type(now).__name__))
    for page in ("strings", "sheet", "handouts", "riffs"):
        came.clear()
        window.show_page(page)
        assert came, page
        assert "PageWord" not in came, (page, came)
    came.clear()
    window.show_empty()
    assert "PageWord" not in came
    assert not [one.message for one in qtlog.records if "nvalid" in one.message]


def test_the_picture_of_the_strings_says_what_it_shows(show):
    window = show(two_guitars())
    window.show_page("strings")
    neck = next(one for one in walk(interface(window)) if type(one.object()).__name__ == "Neck")
    assert name(neck).startswith("Picture of the strings, ")


def test_a_refused_value_is_told_and_stays_with_its_field(show, heard):
    window = show(two_guitars())
    window.show_page("strings")
    field = window.page("strings").tuning.field
    field.setFocus()
    field.selectAll()
    heard.clear()
    QTest.keyClicks(field, "C Q")
    QTest.keyClick(field, Qt.Key.Key_Return)
    told = heard.of("Announcement")
    assert told
    assert "Q" in told[-1]
    assert description(interface(field)) == told[-1]
    assert value(interface(field)) == "C Q"


def test_sentences_over_the_page_are_told_whole(window, heard, tmp_path):
    bad = tmp_path / "bad.chalkfret"
    bad.write_text("{}")
    window.show_empty()
    heard.clear()
    open_lesson(window, bad)
    told = heard.of("Announcement")
    assert told[0].startswith("bad.chalkfret cannot be opened\n")
    assert window.notice.text.removeprefix("–  ") in told[0]
