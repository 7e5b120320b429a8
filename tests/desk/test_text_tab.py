"""Tab as text in the window: copied, pasted from elsewhere, and read from a file."""

import pytest
from PySide6.QtCore import QMimeData
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.riffs.clipboard import MIME
from chalkfret.desk.text_files import TextFiles
from chalkfret.model import QUARTER
from chalkfret.model.start import new_lesson
from tests.builder import lesson, part, riff, section, tuned
from tests.desk.hands import press
from tests.desk.riffs.test_typing import at, notes_of

TAB = """Here is the line I meant:

e|-----------------|
B|-----------------|
G|-----------------|
D|-----------------|
A|-----2-----3-----|
E|-0-0---0-0---0-0-|
"""


@pytest.fixture(autouse=True)
def empty_clipboard(qapp):
    QApplication.clipboard().clear()
    yield
    QApplication.clipboard().clear()


def lay(text):
    data = QMimeData()
    data.setText(text)
    QApplication.clipboard().setMimeData(data)


def said(window):
    return window.foot._said.text()


def test_what_is_copied_is_also_text_for_others(show):
    window = show(lesson(section("A", "q 6:0 3 5 3")))
    at(window, 0, 0, 0, 0, 6)
    press("Shift+Right", "Ctrl+C")
    data = QApplication.clipboard().mimeData()
    assert data.hasFormat(MIME)
    assert "E|-0--" in data.text()
    assert "5" not in data.text().split("E|")[1], "only what is selected"


def test_tab_from_a_mail_is_pasted_as_notes_in_one_step(show):
    window = show(new_lesson())
    grid = at(window, 0, 1, 0, 0, 6)
    lay(TAB)
    press("Ctrl+V")
    assert notes_of(window, bar=1) == riff("e 6:0 0 5:2 6:0 0 5:3 6:0 0")[0]
    assert window.document.lesson.sections[0].head.notes == "Here is the line I meant:"
    assert said(window).startswith("8 notes are read from the text. Line 1: “Here is")
    assert (grid.here.bar, grid.here.tick) == (2, 0), "typing goes on behind it"
    assert window.document.undo_stack.count() == 1
    window.document.undo_stack.undo()
    assert window.document.lesson == new_lesson()


def test_bars_are_pasted_at_bar_lines(show):
    window = show(lesson(section("A", "w r | q 6:1 1 1 1")))
    at(window, 0, 0, QUARTER, 0, 6)
    lay(TAB)
    press("Ctrl+V")
    assert notes_of(window, bar=0) == riff("e 6:0 0 5:2 6:0 0 5:3 6:0 0")[0], "it was empty"
    assert notes_of(window, bar=1) == riff("q 6:1 1 1 1")[0]
    press("Ctrl+End", "Ctrl+V")
    assert notes_of(window, bar=1) == riff("q 6:1 1 1 1")[0]
    assert notes_of(window, bar=2) == riff("e 6:0 0 5:2 6:0 0 5:3 6:0 0")[0]
    assert len(window.document.lesson.sections[0].bars) == 3


def test_bars_are_added_where_the_text_is_longer(show):
    window = show(new_lesson(bars=1))
    at(window, 0, 0, 0, 0, 6)
    lay(TAB + "\n" + TAB)
    press("Ctrl+V")
    assert len(window.document.lesson.sections[0].bars) == 2
    assert len(notes_of(window, bar=1)) == 8


def test_strings_are_found_by_their_names(show):
    seven = part("Seven", tuned("B1 E2 A2 D3 G3 B3 E4"))
    low = part("Low", tuned("D2 A2 D3 G3 B3"))
    window = show(lesson(section("A", "w r", "w r"), parts=(seven, low)))
    at(window, 0, 0, 0, 0, 7)
    lay(TAB)
    press("Ctrl+V")
    assert {note.course for note in notes_of(window)} == {5, 6}
    at(window, 0, 0, 0, 1, 5)
    press("Ctrl+V")
    assert {note.course for note in notes_of(window, part=1)} == {5}, "by number"
    assert "6 notes lie on strings that Low does not have" in said(window)


def test_words_that_are_no_tab_change_nothing(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    lay("Dear Tamsin, the lamp is lit.")
    press("Ctrl+V")
    assert said(window).startswith("There is no tab in this text.")
    assert window.document.undo_stack.count() == 0
    lay("   ")
    press("Ctrl+V")
    assert said(window).startswith("The clipboard holds no notes")


def test_our_own_notes_come_back_whole_and_not_by_their_text(show):
    window = show(lesson(section("A", "q 6:0 3 5 3 | w r")))
    at(window, 0, 0, 0, 0, 6)
    press("Shift+Right", "Shift+Right", "Ctrl+X")
    assert QApplication.clipboard().mimeData().hasText()
    at(window, 0, 1, 0, 0, 6)
    press("Ctrl+V")
    assert "read from the text" not in said(window)
    assert notes_of(window, bar=1)[0].fret == 0


def opened(window, path):
    before = window.document.lesson
    window.findChild(TextFiles).open(path)
    for _ in range(500):
        if window.document.lesson is not before:
            return True
        QTest.qWait(2)
    return False


def test_a_text_file_is_read_as_a_new_lesson(show, tmp_path):
    window = show(new_lesson())
    path = tmp_path / "line.txt"
    path.write_bytes(TAB.encode("cp1252"))
    assert opened(window, path)
    assert window.document.path is None
    assert len(notes_of(window)) == 8
    QTest.qWait(1)
    assert window.notice.isVisible()
    assert window.notice.heading == "What to look at in line.txt"
    assert "kept in the teacher’s notes" in window.notice.text


def test_a_file_without_tab_is_refused_with_a_sentence(show, tmp_path):
    window = show(new_lesson())
    path = tmp_path / "letter.txt"
    path.write_text("Dear Tamsin")
    refused = []
    window.files.refused.connect(lambda _path, sentences: refused.append(sentences))
    window.findChild(TextFiles).open(path)
    for _ in range(500):
        if refused:
            break
        QTest.qWait(2)
    assert refused[0][0].startswith("There is no tab in this text.")
    assert window.document.lesson == new_lesson()
