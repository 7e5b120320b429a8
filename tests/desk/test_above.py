"""What stands above the page is reached by one key, whatever it is."""

from chalkfret.desk.safety.asked import Asked, Choice, Entry
from tests.desk.hands import press
from tests.desk.two_guitars import two_guitars

ASKED = Asked(
    "test", "Which way?", (Entry("", ("Left or right.",), (Choice("Left", list),)),), "No"
)


def inside(widget):
    return widget.isAncestorOf(widget.window().focusWidget())


def test_the_key_leads_through_all_that_stands_there_and_escape_back(show):
    window = show(two_guitars())
    window.notice.show_sentences("Read this", ["A sentence."])
    window.focus_page()
    window.files.asked.emit(ASKED)
    questions, notice = window.safety.questions, window.notice
    assert window.above() == [questions, notice]
    press("Shift+F9")
    assert inside(questions)
    press("Shift+F9")
    assert inside(notice)
    press("Shift+F9")
    assert inside(questions)
    press("Escape")
    assert window.above() == [notice]
    press("Shift+F9")
    assert inside(notice)
    press("Escape")
    assert window.above() == []
    assert window.page("riffs").grid.hasFocus()


def test_where_nothing_stands_it_is_said(show):
    window = show(two_guitars())
    press("Shift+F9")
    assert "Nothing stands above the page" in window.foot.sentence
    assert window.page("riffs").grid.hasFocus()
