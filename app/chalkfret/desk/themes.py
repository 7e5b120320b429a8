"""The choice of colours: the system's, light or dark, as actions of the menu View."""

from __future__ import annotations

from functools import partial

from chalkfret.desk.actions import Action
from chalkfret.desk.look import Look
from chalkfret.desk.settings import Kept, Settings, Theme
from chalkfret.words.text import N_, _


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
            separated=theme is Theme.SYSTEM,
        )
        for theme, text in words.items()
    ]
