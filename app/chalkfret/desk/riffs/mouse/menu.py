"""The menu under the right button: what can be done with the notes there."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from chalkfret.words.text import N_, _

_FIRST: Final = ("cut", "copy", "paste", "clear")
_LENGTHS: Final = ("longer", "shorter", "double", "halve")
_PREFIX: Final = "mark_"
_AFTER_MARKS: Final = ("marks_off",)
_BARS: Final = ("bar_after", "bar_before", "bar_duplicate", "bar_delete", "bar_repeat",
                "bar_repeat_off", "bar_ending")  # fmt: skip
_STEPS: Final = {
    1: N_("1 step"), 2: N_("2 steps"), 3: N_("3 steps, a triplet"), 4: N_("4 steps"),
    5: N_("5 steps, a quintuplet"), 6: N_("6 steps"), 7: N_("7 steps"), 8: N_("8 steps"),
    9: N_("9 steps"),
}  # fmt: skip


def grid_menu(owner: QWidget, cut_beat: Callable[[int], object]) -> QMenu:
    """The menu for a grid whose page has bound its actions to it; ``cut_beat`` takes the steps."""
    bound = {action.objectName(): action for action in owner.actions() if action.objectName()}
    menu = QMenu(owner)
    _add(menu, bound, _FIRST)
    _add(menu, bound, _LENGTHS)
    marks = tuple(name for name in bound if name.startswith(_PREFIX))
    _sub(menu, _("Marks"), bound, (*marks, *_AFTER_MARKS))
    steps = menu.addMenu(_("Cut the beat into"))
    for count, words in _STEPS.items():
        steps.addAction(_(words), partial(cut_beat, count))
    _sub(menu, _("Bar"), bound, _BARS)
    return menu


def _add(menu: QMenu, bound: dict[str, QAction], names: tuple[str, ...]) -> None:
    for name in names:
        if name in bound:
            menu.addAction(bound[name])
    menu.addSeparator()


def _sub(menu: QMenu, title: str, bound: dict[str, QAction], names: tuple[str, ...]) -> None:
    _add(menu.addMenu(title), bound, names)
