"""Hundreds of random drags, presses and turns: the lesson stays sound and comes back."""

import random

import msgspec
import pytest
from PySide6.QtCore import QEvent, QPoint
from PySide6.QtWidgets import QApplication

from chalkfret.files.lesson_file import load
from chalkfret.model import validate
from chalkfret.places import DEMO_LESSONS
from tests.desk.hands import press as press_keys
from tests.desk.riffs.mouse.hand import (
    CTRL,
    LEFT,
    NONE,
    PLAIN,
    SHIFT,
    move,
    press,
    release,
    send,
    wheel,
)

DRAGS = 250


@pytest.mark.parametrize(
    ("seed", "demo"),
    list(enumerate(["lantern_steps", "tin_weather", "greensleeves", "small_gestures"])),
)
def test_random_drags_can_be_undone_to_the_first_bytes(show, seed, demo):
    draw = random.Random(seed)
    first = load(next(DEMO_LESSONS.glob(f"*{demo}*.chalkfret")))
    written = msgspec.json.encode(first)
    window = show(first)
    page = window.page("riffs")
    for _ in range(DRAGS):
        _gesture(window, page, draw)
        assert validate(window.document.lesson) == ()
        assert not page.grid.mouse.hand.is_down
        assert not page.strip.mouse.hand.is_down
    QApplication.processEvents()
    stack = window.document.undo_stack
    assert stack.count() > DRAGS // 8, "the session did something"
    while stack.canUndo():
        stack.undo()
    assert window.document.lesson is first
    assert msgspec.json.encode(window.document.lesson) == written


def _gesture(window, page, draw):
    grid, strip = page.grid, page.strip
    widget = draw.choices(
        [grid.viewport(), strip, grid.horizontalHeader().viewport(),
         grid.verticalHeader().viewport()],
        [12, 4, 1, 1],
    )[0]  # fmt: skip
    held = draw.choices([PLAIN, CTRL, SHIFT], [6, 2, 1])[0]
    start = _start(widget, page, draw)
    kind = draw.random()
    if kind < 0.08:
        wheel(widget, start, turn=(0, draw.choice([-240, 120, 7])), held=held)
        return
    if grid.mouse.chooser is not None and draw.random() < 0.7:
        chooser = grid.mouse.chooser
        press(chooser, chooser.cell(draw.randrange(13)).center())
        return
    press(widget, start, held)
    if kind > 0.3:
        at = start
        for _ in range(draw.randrange(1, 4)):
            at = at + QPoint(draw.randint(-160, 160), draw.choice([0, 0, draw.randint(-70, 70)]))
            move(widget, at, held)
        if draw.random() < 0.12:
            press_keys("Escape")
        release(widget, at, held)
    else:
        release(widget, start, held)
        if draw.random() < 0.5:
            send(widget, QEvent.Type.MouseButtonDblClick, start, LEFT, LEFT)
            send(widget, QEvent.Type.MouseButtonRelease, start, LEFT, NONE)
    if page.mouse.naming.edit is not None:
        page.mouse.naming.edit.setText(draw.choice(["Again", "", "B", "Guitar 2"]))
        press_keys(draw.choice(["Return", "Escape"]))
    if draw.random() < 0.2:
        QApplication.processEvents()


def _start(widget, page, draw) -> QPoint:
    """Anywhere, but mostly where there is something to be dragged."""
    grid, strip = page.grid, page.strip
    if widget is strip and draw.random() < 0.8:
        strip.reckon()
        index = draw.randrange(len(strip.rects()))
        rect, (first, last) = strip.rects()[index], strip.tempo_lines()[index]
        return draw.choice([
            QPoint(rect.right(), rect.bottom() - 4), ((first + last) / 2).toPoint(), rect.center(),
        ])  # fmt: skip
    if widget is grid.viewport() and draw.random() < 0.8:
        seen = [
            hit.rect
            for _ in range(30)
            if (hit := grid.mouse.places.note(_anywhere(widget, draw) + _offset(grid))) is not None
        ]
        if seen:
            rect, places = draw.choice(seen), grid.mouse.places
            pill = places.pill(rect)
            point = draw.choice([
                pill.center(), places.knob(rect).center(), QPoint(pill.right() - 1, pill.top() + 4),
            ])  # fmt: skip
            return point - _offset(grid)
    return _anywhere(widget, draw)


def _offset(grid) -> QPoint:
    return QPoint(grid.horizontalOffset(), grid.verticalOffset())


def _anywhere(widget, draw) -> QPoint:
    return QPoint(draw.randrange(widget.width()), draw.randrange(widget.height()))
