"""Where the files that come with the program lie: beside the code, or inside the package."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parent.parent
_HOME = _PACKAGE if (_PACKAGE / "resources").is_dir() else _CHECKOUT

RESOURCES = _HOME / "resources"
"""Fonts, icons, string tables, tunings."""

DEMO_LESSONS = _HOME / "demo_lessons"
"""The lessons that come with the program; to be read, never written."""
