"""The rows of all modules that have settings, in the order of their groups."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from chalkfret.desk.settings_window.rows import GROUPS, Row

if TYPE_CHECKING:
    from chalkfret.desk.window import Window

PROVIDERS = (
    "chalkfret.desk.themes",
    "chalkfret.desk.languages",
    "chalkfret.desk.riffs.eye_settings",
)
"""Modules with a ``settings_rows(window) -> list[Row]``."""


def all_rows(window: Window) -> list[Row]:
    """Every setting but the keys, which have a list of their own."""
    rows = [row for name in PROVIDERS for row in import_module(name).settings_rows(window)]
    return sorted(rows, key=lambda row: GROUPS.index(row.group))
