"""The ruler and the names, names edited in place, the wheel, the touchpad and the pinch."""

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QNativeGestureEvent, QPointingDevice
from PySide6.QtWidgets import QApplication

from chalkfret.desk.riffs.cursor import Cursor
from tests.builder import lesson, section
from tests.desk.hands import press as press_keys
from tests.desk.hands import type_text
from tests.desk.riffs.mouse.hand import (
    CTRL,
    SHIFT,
    InGrid,
    Q,
    click,
    double_click,
    drag,
    pull,
    release,
    wheel,
)


@pytest.fixture
def desk(show):
    bars = " | ".join(["q 6:0 r r r"] * 12)
    window = show(
        lesson(
            section("A", bars, bars, name="Opening"),
            section("B", "r | r", "r | r", name="Landing"),
        )
    )
    window.hand = InGrid(window.page("riffs").grid)
    window.ruler = window.hand.grid.horizontalHeader()
    window.names = window.hand.grid.verticalHeader()
    return window


def in_ruler(desk, x: int, top: bool = False) -> QPoint:
    return QPoint(x, 5 if top else desk.ruler.height() - 5)


# The ruler


def test_a_press_in_the_ruler_goes_to_the_bar_and_a_drag_selects_bars(desk):
    hand, step = desk.hand, desk.hand.grid.metrics.step
    view = desk.ruler.viewport()
    click(view, in_ruler(desk, 17 * step))
    assert hand.grid.here.time == (0, 1, Q // 4)
    drag(view, in_ruler(desk, 2 * step), in_ruler(desk, 20 * step))
    span = hand.grid.span
    assert (span.start.bar, span.end.bar, span.parts) == (0, 1, (0, 1))
    assert span.end.tick == 4 * Q
    assert hand.grid.hasFocus()


def test_escape_abandons_the_bars(desk):
    view, step = desk.ruler.viewport(), desk.hand.grid.metrics.step
    before = desk.hand.grid.here
    pull(view, in_ruler(desk, 2 * step), in_ruler(desk, 20 * step))
    press_keys("Escape")
    release(view, in_ruler(desk, 20 * step))
    assert (desk.hand.grid.here, desk.hand.grid.anchor) == (before, None)


def test_a_press_on_a_strings_name_goes_to_the_string(desk):
    click(desk.names.viewport(), QPoint(8, desk.hand.rect(4).center().y()))
    assert desk.hand.grid.here == Cursor(0, 0, 0, 0, 4)


def test_a_press_on_the_corner_folds_the_part(desk):
    click(desk.names.viewport(), QPoint(9, desk.hand.grid.metrics.lane // 2))
    assert desk.hand.grid.folds.is_folded(0)
    click(desk.names.viewport(), QPoint(9, desk.hand.grid.metrics.lane // 2))
    assert not desk.hand.grid.folds.is_folded(0)


# Names in place


def naming(desk):
    return desk.page("riffs").mouse.naming


def letter_box(desk) -> QPoint:
    return desk.ruler.title_boxes(0)[0].center()


def test_a_section_is_renamed_in_the_ruler(desk):
    _letter, title = desk.ruler.title_boxes(0)
    double_click(desk.ruler.viewport(), title.topLeft() + QPoint(12, 6))
    assert naming(desk).edit.text() == "Opening"
    type_text("Down the stair, hms")
    assert desk.document.lesson.sections[0].head.name == "Opening"
    press_keys("Return")
    assert desk.document.lesson.sections[0].head.name == "Down the stair, hms"
    assert desk.document.undo_stack.count() == 1
    assert desk.hand.grid.hasFocus()


def test_a_letter_is_refused_where_another_section_has_it(desk):
    double_click(desk.ruler.viewport(), letter_box(desk))
    type_text("B")
    press_keys("Return")
    assert "letter" in desk.foot._said.text()
    assert naming(desk).edit is not None, "it can be mended"
    type_text("A2")
    press_keys("Return")
    assert desk.document.lesson.sections[0].head.letter == "A2"
    double_click(desk.ruler.viewport(), letter_box(desk))
    type_text("too long")
    press_keys("Return")
    assert "one to four" in desk.foot._said.text()
    press_keys("Escape")
    assert naming(desk).edit is None
    assert desk.document.lesson.sections[0].head.letter == "A2"


def test_escape_abandons_a_name_and_leaving_keeps_it(desk):
    before = desk.document.lesson
    for leave, kept in ((lambda: press_keys("Escape"), False), (desk.hand.grid.setFocus, True)):
        double_click(desk.names.viewport(), QPoint(60, desk.hand.grid.metrics.lane // 2))
        assert naming(desk).edit.text() == "Guitar 1"
        type_text("Low guitar")
        leave()
        assert naming(desk).edit is None
        assert (desk.document.lesson is before) is not kept
    assert desk.document.lesson.parts[0].name == "Low guitar"


def test_a_guitar_keeps_a_name_of_its_own(desk):
    double_click(desk.names.viewport(), QPoint(60, desk.hand.grid.metrics.lane // 2))
    type_text("Guitar 2")
    press_keys("Return")
    assert "parts are called" in desk.foot._said.text()
    press_keys("Escape")
    assert desk.document.lesson.parts[0].name == "Guitar 1"


def test_names_are_edited_in_the_strip(desk):
    strip = desk.page("riffs").strip
    rect = strip.rects()[1]
    double_click(strip, rect.center() + QPoint(0, 6))
    type_text("Attic")
    press_keys("Return")
    assert desk.document.lesson.sections[1].head.name == "Attic"
    double_click(strip, QPoint(rect.left() + 9, rect.center().y() + 6))
    type_text("Z")
    press_keys("Return")
    assert desk.document.lesson.sections[1].head.letter == "Z"


# Wheel and touchpad


def offsets(desk):
    grid = desk.hand.grid
    return grid.horizontalScrollBar().value(), grid.verticalScrollBar().value()


def test_a_touchpad_scrolls_pixel_by_pixel_both_ways(desk):
    desk.resize(900, 420)
    view, at = desk.hand.view, QPoint(80, 80)
    wheel(view, at, pixels=(-37, -11), turn=(-37, -11))
    assert offsets(desk) == (37, 11)
    wheel(view, at, pixels=(30, 0), turn=(30, 0))
    assert offsets(desk) == (7, 11)


def test_a_wheel_scrolls_down_and_with_shift_across(desk):
    desk.resize(900, 420)
    view, at, m = desk.hand.view, QPoint(80, 80), desk.hand.grid.metrics
    wheel(view, at, turn=(0, -120), held=SHIFT)
    assert offsets(desk) == (3 * m.step, 0)
    wheel(view, at, turn=(0, -120))
    across, down = offsets(desk)
    assert across == 3 * m.step
    assert down == min(3 * m.string, desk.hand.grid.verticalScrollBar().maximum())


def test_small_turns_add_up(desk):
    view, at, m = desk.hand.view, QPoint(80, 80), desk.hand.grid.metrics
    for _ in range(60):
        wheel(view, at, turn=(0, -2), held=SHIFT)
    assert abs(offsets(desk)[0] - 3 * m.step) <= 1


def test_ctrl_and_the_wheel_zoom_around_the_pointer(desk):
    grid, at = desk.hand.grid, QPoint(200, 60)
    column = (grid.horizontalOffset() + at.x()) / grid.metrics.step
    wheel(desk.hand.view, at, turn=(0, 360), held=CTRL)
    assert grid.sight.zoom == pytest.approx(1.1**3)
    assert (grid.horizontalOffset() + at.x()) / grid.metrics.step == pytest.approx(column, abs=0.1)
    wheel(desk.hand.view, at, turn=(0, -360), held=CTRL)
    assert grid.sight.zoom == pytest.approx(1.0)


def test_two_fingers_zoom(desk):
    grid, at = desk.hand.grid, QPoint(200, 60)
    pad = QPointingDevice.primaryPointingDevice()
    event = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture, pad, 2, QPointF(at), QPointF(at),
        QPointF(desk.hand.view.mapToGlobal(at)), 0.25, QPointF(),
    )  # fmt: skip
    QApplication.sendEvent(desk.hand.view, event)
    assert grid.sight.zoom == pytest.approx(1.25)


def test_the_view_goes_along_with_a_drag_that_leaves_it(desk, qtbot):
    hand = desk.hand
    right = QPoint(hand.view.width() + 60, hand.at(6).y())
    pull(hand.view, hand.at(6), right)
    qtbot.waitUntil(lambda: offsets(desk)[0] > 3 * hand.grid.metrics.step)
    press_keys("Escape")
    stood = offsets(desk)
    qtbot.wait(80)
    assert offsets(desk) == stood
    assert desk.document.undo_stack.count() == 0


# The list of keys


def test_every_gesture_is_listed(desk):
    listed = {action.id: action for action, _where in desk.registry.entries()}
    gestures = [one for one in listed if one.startswith("mouse_")]
    assert len(gestures) == 14
    assert all(listed[one].keys_text() for one in gestures)
    # The keys that do the same.
    for action_id in (
        "earlier", "later", "string_up", "string_down", "string_up_fret", "string_down_fret",
        "longer", "shorter", "mark_slide", "mark_bend", "select_right", "select_bar", "edit_cues",
        "edit_name", "bar_after", "bar_delete", "edit_tempo", "section_earlier", "section_later",
    ):  # fmt: skip
        assert listed[action_id].keys_text(), action_id
