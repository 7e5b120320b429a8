"""The Hand-outs page: the files that are listed are the files that are made."""

import time
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtTest import QTest

from chalkfret.desk.document import Document
from chalkfret.desk.handouts_page import HandoutsPage
from chalkfret.desk.handouts_page.readers import read_folder, read_speeds
from chalkfret.desk.handouts_page.wishes import Left, Wishes, outputs
from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.files.export import Click
from tests.desk.two_guitars import two_guitars


@pytest.fixture
def document(qapp, tmp_path):
    made = Document()
    made.replace(two_guitars(), tmp_path / "two lamps.chalkfret")
    yield made
    made.deleteLater()


@pytest.fixture
def page(qtbot, document, look):
    made = HandoutsPage(document, look)
    qtbot.addWidget(made)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def names(page):
    tree = page.files.tree
    return [tree.topLevelItem(row).text(0) for row in range(tree.topLevelItemCount())]


def states(page):
    tree = page.files.tree
    return [tree.topLevelItem(row).text(1) for row in range(tree.topLevelItemCount())]


def wait_for_the_end(qtbot, page):
    qtbot.waitUntil(lambda: page._work is None, timeout=60_000)


def test_a_sheet_and_a_preview_are_offered_at_first(page):
    assert names(page) == ["two lamps.pdf", "two lamps.mid"]
    assert page.make.text() == "Make 2 files"


def test_what_is_ticked_is_listed(page):
    page.choices.sheet.click()
    page.choices.clicks[Click.ONLY].click()
    page.choices.divisions["each_section"].click()
    assert names(page) == [
        "two lamps.mid", "two lamps-click.mid", "two lamps-A.mid", "two lamps-B.mid",
        "two lamps-A-click.mid", "two lamps-B-click.mid",
    ]  # fmt: skip
    page.choices.sections._boxes[page._document.lesson.sections[0].id].click()
    assert "two lamps-A.mid" not in names(page)
    assert "two lamps-B.mid" in names(page)


def test_speeds_are_typed_in_a_row(page):
    field = page.choices.speeds
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "100 75")
    assert "two lamps-x0.75.mid" in names(page)
    QTest.keyClicks(field, " 900")
    assert field.text() == "100 75 900"
    assert page.choices.is_refused
    assert names(page)[1:] == ["two lamps.mid"], "as before the typing"
    assert not page.make.isEnabled()
    QTest.keyClick(field, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    page.make_files()
    assert page._work is None
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == "100"
    assert page.make.isEnabled()


def test_a_folder_that_cannot_be_made_is_told_under_the_file_in_whole(qtbot, page, tmp_path):
    page.choices._wish(folder="/proc/none", sheet=False)
    page.make.click()
    wait_for_the_end(qtbot, page)
    item = page.files.tree.topLevelItem(0).child(0)
    assert item.text(0).startswith("The folder “/proc/none” is not there, and the system does")
    height = page.files.tree.visualItemRect(item).height()
    width = page.files.tree.viewport().width()
    room = QRect(0, 0, width, 1000)
    words = page.files.tree.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, item.text(0))
    assert height >= words.height()


def test_with_nothing_wished_there_is_nothing_to_make(page):
    page.choices.sheet.click()
    page.choices.clicks[Click.WITH].click()
    assert names(page) == []
    assert not page.make.isEnabled()
    assert "Choose what to make" in page.saying.text


def test_the_files_that_are_listed_are_made(page, qtbot, tmp_path, document):
    before = document.lesson
    QTest.mouseClick(page.make, Qt.MouseButton.LeftButton)
    assert page.cancel.isVisible()
    wait_for_the_end(qtbot, page)
    assert (tmp_path / "two lamps.pdf").read_bytes().startswith(b"%PDF")
    assert (tmp_path / "two lamps.mid").read_bytes().startswith(b"MThd")
    assert page.saying.text == "2 files were made."
    assert all(state.startswith("made, ") for state in states(page))
    assert document.lesson is before
    assert page.files.open_folder.isEnabled()
    document.path_changed.emit()
    assert states(page) == ["replaces a file"] * 2


def test_one_file_alone_is_named_while_the_bar_only_moves(page, qtbot, tmp_path):
    page.choices.clicks[Click.WITH].click()
    assert names(page) == ["two lamps.pdf"]
    page.make.click()
    qtbot.waitUntil(lambda: page.saying.text == "Making two lamps.pdf …", timeout=20_000)
    assert (page.bar.minimum(), page.bar.maximum()) == (0, 0)
    wait_for_the_end(qtbot, page)
    assert page.saying.text == "1 file was made."


def test_what_cannot_be_written_is_said_at_its_row(page, qtbot, tmp_path):
    (tmp_path / "two lamps.mid").mkdir()
    page.make_files()
    wait_for_the_end(qtbot, page)
    assert (tmp_path / "two lamps.pdf").exists()
    assert states(page)[1] == "could not be made"
    sentence = page.files.tree.topLevelItem(1).child(0).text(0)
    assert "two lamps.mid" in sentence
    assert page.saying.is_loud
    assert page.saying.text == "1 file was made. 1 could not be made."


def test_cancel_leaves_nothing_half_made(page, qtbot, tmp_path):
    page.choices._wish(speeds=tuple(range(60, 160)))
    assert len(names(page)) == 101
    page.make_files()
    qtbot.waitUntil(lambda: len(list(tmp_path.glob("*.mid"))) >= 2, timeout=60_000)
    QTest.mouseClick(page.cancel, Qt.MouseButton.LeftButton)
    wait_for_the_end(qtbot, page)
    made = sorted(path.name for path in tmp_path.iterdir() if path.suffix in (".mid", ".pdf"))
    assert 0 < len(made) < 101
    assert [path for path in tmp_path.iterdir() if path.suffix not in (".mid", ".pdf")] == [
        path for path in tmp_path.iterdir() if path.name == "home"
    ]
    assert sum(state.startswith("made, ") for state in states(page)) == len(made)
    assert states(page)[-1] == "not made"
    assert "were not made" in page.saying.text


def test_typing_goes_on_while_files_are_made(page, qtbot, document):
    from chalkfret.edits import texts

    page.make_files()
    longest = 0.0
    while page._work is not None:
        began = time.perf_counter()
        document.apply("title", texts.set_head(document.lesson, title=str(began)), "title")
        qtbot.wait(1)
        longest = max(longest, time.perf_counter() - began)
    assert longest < 0.5
    assert page.saying.text == "2 files were made."


def test_choices_are_there_again_tomorrow(page, qtbot, document, look):
    page.choices.divisions["each_part"].click()
    page.choices.clicks[Click.WITHOUT].click()
    again = HandoutsPage(document, look)
    qtbot.addWidget(again)
    again.show()
    assert names(again) == names(page)
    assert len(names(again)) > 4


def test_a_lesson_without_a_file_is_named_by_its_title(page, document):
    document.replace(two_guitars(), None)
    assert names(page) == ["Two-lamps.pdf", "Two-lamps.mid"]


def test_its_own_lesson_file_is_never_a_target(page, document, tmp_path):
    path = tmp_path / "two lamps.mid"
    path.write_bytes(b"a lesson that is called so")
    document.replace(two_guitars(), path)
    assert names(page) == []
    assert page.saying.is_loud
    assert path.read_bytes() == b"a lesson that is called so"


def test_a_click_alone_is_the_same_for_every_part():
    wishes = Wishes(sheet=False, clicks=(Click.ONLY,), whole=False, each_part=True)
    made = outputs(two_guitars(), "x", wishes, Left(), Path("/tmp"), None)
    assert [one.path.name for one in made] == ["x-click.mid"]


def test_parts_of_sections():
    wishes = Wishes(clicks=(), whole=False, each_both=True)
    lesson = two_guitars()
    left = Left(sections=frozenset([lesson.sections[0].id]))
    made = outputs(lesson, "x", wishes, left, Path("/tmp"), None)
    assert [one.path.name for one in made] == ["x-B-Low-guitar.pdf", "x-B-High-guitar.pdf"]


@pytest.mark.parametrize("text", ["", "fast", "10", "300", "100 a"])
def test_what_is_no_speed_is_said(text):
    with pytest.raises(Unreadable, match="percents"):
        read_speeds(text)


def test_speeds_once_each():
    assert read_speeds("100, 75 %; 100") == (100, 75)


def test_folders(tmp_path):
    assert read_folder(str(tmp_path / "new")) == tmp_path / "new"
    (tmp_path / "file").write_text("")
    for text in ("", "some/where", str(tmp_path / "file"), "~nobody-of-this-name/x"):
        with pytest.raises(Unreadable):
            read_folder(text)
