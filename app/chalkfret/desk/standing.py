"""Where everything stands in a window, for the one that takes its place around the document."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QByteArray

if TYPE_CHECKING:
    from chalkfret.desk.window import Window


class Standing(NamedTuple):
    """What was shown and where: pages say themselves where they stand."""

    has_lesson: bool
    page: str
    pages: dict[str, object]
    geometry: QByteArray
    settings: str | None  # the group of the settings that was looked at
    first_steps: int | None  # the step that was asked for


def standing_of(window: Window) -> Standing:
    """Where everything stands now."""
    stack = window.stack
    return Standing(
        has_lesson=stack.has_lesson,
        page=stack.wished,
        pages=stack.standing(),
        geometry=window.saveGeometry(),
        settings=window.settings_window.group if window.shows_settings else None,
        first_steps=window.coach.step,
    )


def stand(window: Window, standing: Standing) -> None:
    """Let a window stand as another did around the same document."""
    window.restoreGeometry(standing.geometry)
    window.stack.wished = standing.page
    if standing.has_lesson:
        window.stack.stand(standing.pages)
        window.show_lesson()
    else:
        window.show_empty()
    if standing.first_steps is not None:
        window.coach.go_on_at(standing.first_steps)
    if standing.settings is not None:
        window.show_settings()
        window.settings_window.show_group(standing.settings)
