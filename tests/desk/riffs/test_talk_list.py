"""Talking points under the grid: read, copied, said in one's own words."""

import pytest
from PySide6.QtGui import QGuiApplication

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.words.talk.points import State
from tests.builder import lesson, section
from tests.desk.hands import press


@pytest.fixture
def page(show):
    return show(
        lesson(
            section("A", "q 6:0 3 5 7", "q 6:0 3 5 7", key="E minor"),
            section("B", "q 6:0 0 0 0", "q 6:0", tempo=80.0),
        )
    ).page("riffs")


def lines(talk):
    return [talk.list.item(row).text() for row in range(talk.list.count())]


def test_the_list_says_what_there_is_to_say_and_follows_the_section(page, qtbot):
    talk = page.eye.talk
    press("Ctrl+Shift+T")
    qtbot.waitUntil(talk.list.hasFocus)
    assert "Key: The section is in E minor. The root on Guitar 1 is open string 6." in lines(talk)
    assert talk.which.currentText() == "Talking points: Section A"
    page.grid.move_to(Cursor(1, 0, 0, 0, 6))
    qtbot.waitUntil(lambda: any("It is slower than the end of section A" in x for x in lines(talk)))
    press("Escape")
    qtbot.waitUntil(page.grid.hasFocus)
    assert not talk.isVisible()


def test_own_words_are_one_step_and_are_marked_when_the_lesson_changes(page, qtbot):
    talk, document = page.eye.talk, page.window().document
    before = document.lesson
    press("Ctrl+Shift+T")
    qtbot.waitUntil(talk.list.hasFocus)
    row = next(row for row, one in enumerate(talk.found) if one.kind == "tempo")
    talk.list.setCurrentRow(row)
    assert talk.words.toPlainText().startswith("The tempo is 100")
    press("Return")
    qtbot.waitUntil(talk.words.hasFocus)
    talk.words.selectAll()
    qtbot.keyClicks(talk.words, "Slow")
    talk.look_now()
    assert (talk.found[row].text, talk.found[row].state) == ("Slow", State.EDITED)
    assert lines(talk)[row] == "Tempo: Slow"

    page.panel.tempo.start.setFocus()
    from chalkfret.edits import sections
    from chalkfret.model import Tempo

    document.attempt("tempo", lambda one: sections.set_head(one, 0, tempo=Tempo(70.0)))
    qtbot.waitUntil(lambda: talk.found[row].state is State.OUTDATED)
    assert "70 quarter notes a minute" in lines(talk)[row]
    talk.list.setCurrentRow(row)
    assert talk.keep.isVisible()
    talk.keep.click()
    talk.look_now()
    assert talk.found[row].state is State.EDITED
    talk.back.click()
    talk.look_now()
    assert talk.found[row].state is State.COMPUTED
    assert document.lesson.head.talking_points == ()
    while document.undo_stack.canUndo():
        document.undo_stack.undo()
    assert document.lesson == before


def test_typing_is_one_step_of_the_undo_stack(page, qtbot):
    talk, document = page.eye.talk, page.window().document
    press("Ctrl+Shift+T")
    qtbot.waitUntil(talk.list.hasFocus)
    count = document.undo_stack.count()
    talk.words.setFocus()
    talk.words.selectAll()
    qtbot.keyClicks(talk.words, "Now listen")
    assert document.undo_stack.count() == count + 1
    assert document.undo_stack.undoText() == "Edit a talking point"


def test_points_and_the_text_under_the_video_are_copied(page, qtbot):
    window, clipboard = page.window(), QGuiApplication.clipboard()
    window.registry.run("copy_talk")
    assert "- The section is in E minor." in clipboard.text()
    assert "The whole lesson" not in clipboard.text()
    window.registry.run("copy_video_text")
    assert "Without this tuning" in clipboard.text()


def test_a_lesson_that_takes_its_place_is_read_anew(page, qtbot):
    talk, window = page.eye.talk, page.window()
    press("Ctrl+Shift+T")
    qtbot.waitUntil(talk.list.hasFocus)
    window.files.show_copy(lesson(section("Z", "q 6:0")))
    qtbot.waitUntil(
        lambda: (
            talk.which.currentText()
            in ("Talking points: Section Z", "Talking points: The whole lesson")
        )
    )
