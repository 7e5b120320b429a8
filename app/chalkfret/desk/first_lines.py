"""What the empty state offers to do first."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from chalkfret.desk.empty import Line
from chalkfret.desk.lesson_files import SUFFIX
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

_RECENT: Final = 5  # lessons: more are in the menu


def first_lines(window: Window) -> tuple[Line, ...]:
    """A line for each way to begin."""
    files, keys = window.files, window.registry.action
    new = _("Begin with one guitar and four empty bars: {key}.")
    choose = _("Choose a file ({key}), or drop one on this window.")
    steps = _("Learn the grid in five minutes, by doing.")
    return (
        (_("New lesson"), new.format(key=keys("new").keys_text()), files.new),
        (_("Open a lesson"), choose.format(key=keys("open").keys_text()), files.choose),
        (_("First steps"), steps, window.begin_first_steps),
    )


def recent_lines(window: Window) -> tuple[Line, ...]:
    """A line for each of the lessons that were open last."""
    files = window.files
    return tuple(
        (path.name, str(path.parent), partial(files.open, path))
        for path in files.recent()[:_RECENT]
    )


def open_demo(window: Window) -> None:
    """Begin with a copy of a finished lesson."""
    from chalkfret.places import DEMO_LESSONS

    demos = sorted(DEMO_LESSONS.glob(f"*{SUFFIX}"))
    if demos:
        window.files.open_copy(demos[0])
    else:
        window.document.refused.emit(_("There are no demo lessons in this installation."))
