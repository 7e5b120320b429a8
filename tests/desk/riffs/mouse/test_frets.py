"""Frets chosen under the pointer, the menu of the right button, clicks behind the last bar."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QMenu

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Sign
from tests.builder import lesson, riff, section
from tests.desk.hands import press as press_keys
from tests.desk.riffs.mouse.hand import InGrid, Q, click, double_click, hover, settle, wheel

S = Q // 4


@pytest.fixture
def desk(show):
    window = show(lesson(section("A", "q 6:5 r r r | r")))
    window.hand = InGrid(window.page("riffs").grid)
    return window


def rows(window):
    return [bar.notes[0] for bar in window.document.lesson.sections[0].bars]


def test_a_second_press_offers_the_frets_and_a_third_writes_the_likeliest(desk):
    hand = desk.hand
    hand.write(7, 5, Q)
    assert rows(desk)[0] == riff("q 6:5 s 5:7 r q r r")[0]
    double_click(hand.view, hand.at(5, 2 * Q))
    chooser = hand.grid.mouse.chooser
    assert chooser.fret == 7, "the last one chosen"
    under = chooser.mapFromGlobal(hand.view.mapToGlobal(hand.at(5, 2 * Q)))
    click(chooser, under)
    assert rows(desk)[0][2].fret == 7
    assert hand.grid.mouse.chooser is None
    assert hand.grid.here == Cursor(0, 0, 2 * Q + S, 0, 5), "on behind the note, as typing goes"
    assert hand.grid.hasFocus()


def test_a_note_gets_another_fret_and_keeps_its_length(desk):
    hand = desk.hand
    double_click(hand.view, hand.at(6))
    assert hand.grid.mouse.chooser.fret == 5
    hand.choose(9)
    assert rows(desk)[0] == riff("q 6:9 r r r")[0]


def test_the_wheel_goes_from_fret_to_fret_and_a_press_takes_the_marked_one(desk):
    hand = desk.hand
    double_click(hand.view, hand.at(6))
    chooser = hand.grid.mouse.chooser
    where = chooser.cell(5).center()
    wheel(chooser, where, turn=(0, 240))
    wheel(chooser, where, turn=(0, -60))
    wheel(chooser, where, turn=(0, -60))
    assert chooser.fret == 6
    assert "fret 6" in desk.foot._place.text()
    hover(chooser, where + QPoint(1, 1))
    assert chooser.fret == 6, "a trembling pointer marks nothing"
    hover(chooser, chooser.cell(8).center())
    assert chooser.fret == 8
    wheel(chooser, chooser.cell(8).center(), turn=(0, 120))
    click(chooser, chooser.cell(8).center())
    assert rows(desk)[0][0].fret == 9


def test_escape_a_key_a_press_elsewhere_and_lost_focus_take_the_frets_away(desk):
    hand = desk.hand
    before = desk.document.lesson
    for close in (
        lambda: press_keys("Escape"),
        lambda: press_keys("Right"),
        lambda: click(hand.view, hand.at(1, 3 * Q)),
        lambda: desk.page("riffs").panel.section.name.setFocus(),
        lambda: wheel(hand.view, QPoint(5, 5), turn=(0, 120)),
    ):
        hand.grid.setFocus()
        double_click(hand.view, hand.at(4, 2 * Q))
        assert hand.grid.mouse.chooser is not None
        close()
        assert hand.grid.mouse.chooser is None
    assert desk.document.lesson is before


def test_the_press_that_brings_the_focus_only_brings_it(desk):
    hand = desk.hand
    click(hand.view, hand.at(6, Q))
    desk.page("riffs").panel.section.name.setFocus()
    click(hand.view, hand.at(6, Q))
    assert hand.grid.hasFocus()
    assert hand.grid.mouse.chooser is None


def test_behind_the_last_bar_a_fret_adds_one(desk):
    hand = desk.hand
    far = hand.rect(6, 3 * Q + 3 * S, bar=1).center() + QPoint(90, 0)
    click(hand.view, far)
    assert hand.grid.here == Cursor(0, 1, 4 * Q, 0, 6)
    click(hand.view, far)
    hand.choose(3)
    assert len(rows(desk)) == 3
    assert rows(desk)[2][0].fret == 3


def test_the_frets_stay_within_the_grid(desk):
    hand = desk.hand
    desk.resize(900, 500)
    settle()
    for course, tick in ((1, 0), (6, 3 * Q)):
        hand.grid.move_to(Cursor(0, 0, tick, 0, course))
        settle()
        click(hand.view, hand.at(course, tick))
        chooser = hand.grid.mouse.chooser
        assert hand.view.geometry().contains(chooser.geometry())
        under = chooser.mapFromGlobal(hand.view.mapToGlobal(hand.at(course, tick)))
        assert chooser.cell(chooser.fret).contains(under) or tick, "no room for that at the right"
        assert chooser.cell(12).top() == chooser.cell(0).top(), "the same rows everywhere"
        near = chooser.rect().adjusted(0, -chooser._high, 0, chooser._high)
        assert near.contains(under), "close to its cell"
        assert chooser.fret_at(under) in (None, chooser.fret), "no other fret under the pointer"
        hand.grid.mouse.close_chooser()


# The menu; the offscreen platform has no keyboard for it to grab

grabs = pytest.mark.qt_log_ignore("does not support", extend=True)


def menu_at(desk, where: QPoint) -> QMenu:
    event = QContextMenuEvent(
        QContextMenuEvent.Reason.Mouse, where, desk.hand.view.mapToGlobal(where)
    )
    QApplication.sendEvent(desk.hand.view, event)
    menu = QApplication.activePopupWidget()
    assert isinstance(menu, QMenu)
    return menu


def entries(menu: QMenu):
    for action in menu.actions():
        if action.menu() is not None:
            yield from entries(action.menu())
        elif not action.isSeparator():
            yield action


@grabs
def test_the_right_button_offers_marks_lengths_and_steps(desk):
    hand = desk.hand
    menu = menu_at(desk, hand.at(6))
    found = {action.objectName(): action for action in entries(menu)}
    for name in ("clear", "cut", "paste", "longer", "halve", "mark_palm_mute", "bar_after"):
        assert name in found, name
    found["mark_palm_mute"].trigger()
    menu.close()
    assert rows(desk)[0][0].has(Sign.PALM_MUTE)
    menu = menu_at(desk, hand.at(6, 2 * Q))
    triplet = next(a for a in entries(menu) if a.text().startswith("3 "))
    triplet.trigger()
    menu.close()
    assert desk.document.lesson.sections[0].bars[0].head.steps[2] == 3
    menu = menu_at(desk, hand.at(6))
    next(a for a in entries(menu) if a.objectName() == "clear").trigger()
    menu.close()
    assert rows(desk)[0] == ()


@grabs
def test_the_menu_is_for_the_selection_where_it_was_pressed_there(desk):
    hand = desk.hand
    press_keys("Ctrl+A")
    menu = menu_at(desk, hand.at(3, Q))
    menu.close()
    assert hand.grid.anchor is not None
    press_keys("Escape")
    menu = menu_at(desk, hand.at(3, Q))
    menu.close()
    assert hand.grid.here == Cursor(0, 0, Q, 0, 3)
    assert Qt.CursorShape.ArrowCursor is hand.view.cursor().shape()
