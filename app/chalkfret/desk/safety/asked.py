"""A question above the page as a value; ``questions`` has the widget that asks it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple


class Choice(NamedTuple):
    """A way on: what its button says and does. The question goes unless it ``stays``."""

    text: str
    run: Callable[[], object]
    stays: bool = False


class Entry(NamedTuple):
    """One of the things that a question is about."""

    title: str
    lines: Sequence[str] = ()
    choices: Sequence[Choice] = ()


class Asked(NamedTuple):
    """A question. A new one with the same ``key`` takes the place of the last.

    ``put_away`` is what its last button says, the one at the right of the heading; ``then`` follows
    when that is pressed.
    """

    key: str
    heading: str
    entries: Sequence[Entry]
    put_away: str
    then: Callable[[], object] | None = None
    calm: bool = False  # a list that was asked for: nothing that must be read
