"""Random sessions in the real window: whatever is pressed, the lesson stays sound and comes back.

The actions are those of the registry, so a new one is tried from the day it is there.
"""

import random

import pytest
from PySide6.QtWidgets import QApplication

from chalkfret.files.lesson_file import load
from chalkfret.model import validate
from chalkfret.places import DEMO_LESSONS
from tests.desk.hands import press, type_text

GESTURES = 120
_LEAVE_OUT = ("new", "open", "save", "save_as", "quit", "full_screen", "keys")
_DIGITS = [
    *map(str, range(10)),
    *(f"Ctrl+{digit}" for digit in range(10)),
    *(f"Shift+{digit}" for digit in range(1, 9)),
]
_TEXTS = ["1", "3/4", "7/8", "eb", "1:2", "", "2", "xx", "0 200@1/2"]


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_pressed_can_be_undone_to_the_first_value(show, seed):
    draw = random.Random(seed)
    first = load(draw.choice(sorted(DEMO_LESSONS.glob("*.chalkfret"))))
    window = show(first)
    grid = window.page("riffs").grid
    ids = [
        action.id
        for action, where in window.registry.entries()
        if action.run is not None
        and action.id not in _LEAVE_OUT
        and where in ("", "Riffs")
        and not action.id.startswith("page_")
    ]
    for _ in range(GESTURES):
        _gesture(window, grid, ids, draw)
        assert validate(window.document.lesson) == ()
    QApplication.processEvents()
    stack = window.document.undo_stack
    assert stack.count() > GESTURES // 4, "the session did something"
    while stack.canUndo():
        stack.undo()
    assert window.document.lesson is first


def _gesture(window, grid, ids, draw):
    kind = draw.random()
    if kind < 0.35:
        grid.setFocus()
        press(draw.choice(_DIGITS))
    elif kind < 0.9:
        window.registry.run(draw.choice(ids))
    elif QApplication.focusWidget() is not None:
        type_text(draw.choice(_TEXTS))
        press("Tab")
    if draw.random() < 0.2:
        QApplication.processEvents()
