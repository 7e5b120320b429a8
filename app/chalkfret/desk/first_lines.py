"""What the empty state offers to do first."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from chalkfret.desk.empty import Line
from chalkfret.desk.lesson_files import SUFFIX
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.window import Window


def first_lines(window: Window) -> tuple[Line, ...]:
    """A line for each way to begin."""
    files, keys = window.files, window.registry.action
    new = _("Begin with one guitar and four empty bars: {key}.")
    choose = _("Choose a file ({key}), or drop one on this window.")
    demo = _("Look round in a copy of a finished lesson; nothing can be spoilt.")
    return (
        (_("New lesson"), new.format(key=keys("new").keys_text()), files.new),
        (_("Open a lesson"), choose.format(key=keys("open").keys_text()), files.choose),
        (_("Open a demo"), demo, partial(_open_demo, window)),
    )


def _open_demo(window: Window) -> None:
    from chalkfret.places import DEMO_LESSONS

    demos = sorted(DEMO_LESSONS.glob(f"*{SUFFIX}"))
    if demos:
        window.files.open_copy(demos[0])
    else:
        window.document.said.emit(_("There are no demo lessons in this installation."))
