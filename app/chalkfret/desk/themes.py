"""The choice of colours: the system's, light or dark, as actions of the menu View and a setting."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from chalkfret.desk.actions import Action
from chalkfret.desk.look import Look
from chalkfret.desk.settings import Kept, Settings, Theme
from chalkfret.words.text import N_, _

if TYPE_CHECKING:
    from chalkfret.desk.settings_window.rows import Row
    from chalkfret.desk.window import Window


def theme_actions(look: Look, settings: Kept[Settings]) -> list[Action]:
    """One action for each theme; the choice is kept, and holds for the next window too."""
    words = {
        Theme.SYSTEM: _("Colours as the &system's"),
        Theme.LIGHT: _("&Light colours"),
        Theme.DARK: _("&Dark colours"),
    }

    def choose(theme: Theme) -> None:
        settings.change(theme=theme)
        look.show_theme(theme)

    def is_chosen(theme: Theme) -> bool:
        return settings.value.theme is theme

    return [
        Action(
            f"theme_{theme.value}",
            text,
            menu=N_("&View"),
            run=partial(choose, theme),
            checked=partial(is_chosen, theme),
            under=N_("&Colours"),
        )
        for theme, text in words.items()
    ]


def settings_rows(window: Window) -> list[Row]:
    """The colours in the settings."""
    from chalkfret.desk.settings_window.rows import LOOK, Choice, Row

    def choose(theme: Theme) -> OSError | None:
        window.look.show_theme(theme)
        return window.settings.change(theme=theme)

    words = {
        Theme.SYSTEM: _("As the system’s"),
        Theme.LIGHT: _("Light: ink on paper"),
        Theme.DARK: _("Dark: chalk on slate"),
    }
    return [
        Row(
            id="theme",
            group=LOOK,
            name=_("Colours"),
            about=_("The colours of the window. Sheets are printed black on white."),
            kind=Choice(words),
            read=lambda: window.settings.value.theme,
            write=choose,
            default=Theme.SYSTEM,
            words=_("theme, palette, night"),
        )
    ]
