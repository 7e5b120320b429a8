"""What a setting is, as a declaration: the settings window is made of these.

A module that has settings offers ``settings_rows(window) -> list[Row]`` and is named in
``all_rows.PROVIDERS``. Whoever shows what is set follows ``settings.changed`` by itself: a row
only reads and writes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from msgspec import Struct

from chalkfret.desk.settings import Kept
from chalkfret.words.text import N_

GROUPS = (LOOK, GRID, LANGUAGE, KEEPING, KEYS) = (
    N_("Look"),
    N_("Grid"),
    N_("Language"),
    N_("Keeping your work"),
    N_("Keys"),
)
"""The headings of the settings window, in their order."""


class Choice(Struct, frozen=True):
    """One value of several: the value and what it is called."""

    words: Mapping[Any, str]


class Switch(Struct, frozen=True):
    """On or off."""


class Number(Struct, frozen=True):
    """A number that is typed or stepped.

    ``read`` raises ``pieces.fields.Unreadable`` for what it cannot take; ``step`` gives the value
    so many steps up or down; ``widest`` is the longest text that ``write`` gives.
    """

    read: Callable[[str], Any]
    write: Callable[[Any], str]
    step: Callable[[Any, int], Any]
    widest: str


class Row(Struct, frozen=True):
    """One setting. All texts are in the user's language already, but ``group``, one of GROUPS.

    ``write`` keeps the value and makes it hold at once. ``words`` are others by which it is found.
    """

    id: str
    group: str
    name: str
    about: str
    kind: Choice | Switch | Number
    read: Callable[[], Any]
    write: Callable[[Any], object]
    default: Any
    words: str = ""


def kept_row(
    kept: Kept[Any],
    field: str,
    *,
    group: str,
    name: str,
    about: str,
    kind: Choice | Switch | Number,
    words: str = "",
) -> Row:
    """The row of a field of ``Settings`` (or of what else is kept): its default is the field's."""
    return Row(
        id=field,
        group=group,
        name=name,
        about=about,
        kind=kind,
        read=lambda: getattr(kept.value, field),
        write=lambda value: kept.change(**{field: value}),
        default=getattr(type(kept.value)(), field),
        words=words,
    )
