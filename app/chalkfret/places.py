"""Where the files that come with the program lie: beside the code, or inside the package.

And where the program keeps its own state.
"""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parent.parent
_HOME = _PACKAGE if (_PACKAGE / "resources").is_dir() else _CHECKOUT

RESOURCES = _HOME / "resources"
"""Fonts, icons, string tables, tunings."""

DEMO_LESSONS = _HOME / "demo_lessons"
"""The lessons that come with the program; to be read, never written."""


def state_folder() -> Path:
    """The user's folder for what the program keeps between runs; it may not be there yet."""
    from platformdirs import user_state_path

    return user_state_path("chalkfret", appauthor=False)
