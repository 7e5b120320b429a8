"""What the program remembers of its user: files in the user's own settings folder.

Nothing here belongs to a lesson. Each file is one small JSON value, read once and replaced as a
whole, so that a crash leaves the old one or the new one. A file that cannot be read costs nobody
anything: it is kept aside under another name and the defaults are used.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Any, Generic, TypeVar

import msgspec
from msgspec import Struct
from msgspec.structs import replace
from platformdirs import user_config_path
from PySide6.QtCore import QObject, Signal

from chalkfret.model import NoteNaming, Paper

RECENT_MOST = 12

S = TypeVar("S", bound=Struct)


class Theme(StrEnum):
    """Which palette the window has."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


class Settings(Struct, frozen=True, omit_defaults=True):
    """What the window looked like and what was open; unknown keys of other versions are let be."""

    recent: tuple[str, ...] = ()  # paths of lessons, the newest first
    geometry: str = ""  # the window's, as base64 of what Qt saves
    page: str = "riffs"
    folder: str = ""  # where a lesson was last chosen or saved by hand
    theme: Theme = Theme.SYSTEM
    language: str = ""  # "": the system's
    new_naming: NoteNaming | None = None  # of new lessons; None: as the language has it
    new_paper: Paper | None = None  # of new lessons; None: as the country has it
    grid_zoom: int = 100  # percent of the usual size, 50 to 300
    follow_cursor: bool = False  # the grid keeps the cursor near its middle
    keys: dict[str, tuple[str, ...]] = {}  # chosen ones by their action's id, portable; () for none
    found: tuple[str, ...] = ()  # what was found by its words and used, the newest first


def settings_folder() -> Path:
    """The user's settings folder of this program; made when something is first kept in it."""
    return user_config_path("chalkfret", appauthor=False, roaming=True)


class _News(QObject):
    changed = Signal(object, object)


class Kept(Generic[S]):
    """One value kept in one file of the settings folder.

    ``value`` is what is known now. ``update`` changes it, beginning from what the file says now,
    since another window may have kept something meanwhile; it returns None, or the reason why the
    file could not be written: then the value holds until the program ends.
    """

    def __init__(self, name: str, kind: type[S]) -> None:
        self._path = settings_folder() / name
        self._kind = kind
        self._unreadable = False
        self._only_here = False  # the value could not be written: the file is older
        self._news = _News()
        self.value: S = self._read()

    @property
    def changed(self):
        """Signal: the value before and after, whoever changed it through this object."""
        return self._news.changed

    def _read(self) -> S:
        try:
            return msgspec.json.decode(self._path.read_bytes(), type=self._kind)
        except FileNotFoundError:
            return self._kind()
        except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
            self._unreadable = True
            return self._kind()

    def refresh(self) -> S:
        """Look at the file again; what it says is the value from now on."""
        if not self._only_here:
            self.value = self._read()
        return self.value

    def update(self, how: Callable[[S], S]) -> OSError | None:
        """Remember what ``how`` makes of the value; nothing where it raises."""
        known = self.value
        before = self.refresh()
        changed = how(before)
        if changed == before and not self._only_here:
            return None
        self.value = changed
        error = self._write(changed)
        self._only_here = error is not None
        self._news.changed.emit(known, changed)
        return error

    def change(self, **fields: Any) -> OSError | None:
        """Remember these fields of the value."""
        return self.update(lambda value: replace(value, **fields))

    def _write(self, value: S) -> OSError | None:
        from chalkfret.files.atomic import replace_file

        data = msgspec.json.format(msgspec.json.encode(value), indent=1)
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
            if self._unreadable and self._path.exists():
                self._path.replace(self._path.with_suffix(".unreadable.json"))
            self._unreadable = False
            replace_file(self._path, data)
        except OSError as error:
            return error
        return None


def open_settings() -> Kept[Settings]:
    """The window's settings as they were last kept."""
    return Kept("settings.json", Settings)


def with_recent(settings: Settings, path: Path) -> Settings:
    """The settings with this lesson as the newest of the recent ones."""
    newest = str(path)
    others = tuple(one for one in settings.recent if one != newest)
    return replace(settings, recent=(newest, *others)[:RECENT_MOST])
