"""The report of something unexpected: one text, read whole by the teacher before anyone gets it.

It is in English whatever the window's language, since those who mend the program read it. It
holds kinds and places of errors in the program's own code, ids of actions and versions; nothing
of a lesson, no name of a file or folder, no name of the user or the machine.
"""

from __future__ import annotations

import platform
import re
import sys
import textwrap
from collections.abc import Iterable, Iterator
from getpass import getuser
from pathlib import Path
from typing import Final

import PySide6
from PySide6.QtCore import QLocale, qVersion
from PySide6.QtGui import QGuiApplication

import chalkfret
from chalkfret.desk.trouble.catching import Catcher, Noted
from chalkfret.desk.trouble.lately import DONE
from chalkfret.desk.trouble.masked import LEFT_OUT

_WIDTH: Final = 90  # letters of a line
# From here on a message may hold a name or a path, and where that ends nobody knows.
_FOREIGN: Final = re.compile(r"""\S*["“”‘’'`/\\].*""", re.DOTALL)


def report(catcher: Catcher) -> str:
    """All that is known of what went wrong in this run, as a text of lines."""
    parts = [
        _part("Chalkfret: what went wrong", ("No lesson, no file and no name is in this text.",)),
        _part("Versions", _versions()),
    ]
    total = len(catcher.noted)
    for number, noted in enumerate(tuple(catcher.noted.values()), 1):
        parts.append(_part(f"Error {number} of {total}, {_counted(noted)}", _told(noted)))
    if catcher.beyond:
        parts.append(_part("Errors of further kinds", (str(catcher.beyond),)))
    if catcher.crash:
        parts.append(_part("How an earlier run ended", catcher.crash.splitlines()))
    actions = textwrap.wrap(", ".join(DONE), _WIDTH)
    parts.append(_part("Last actions, the newest at the end", actions))
    parts.append(_part("Warnings of Qt", map(qt_words, tuple(catcher.qt_words))))
    return "\n".join(parts)


def _part(heading: str, lines: Iterable[str]) -> str:
    return "\n".join([heading, *(f"  {line}".rstrip() for line in lines), ""])


def _counted(noted: Noted) -> str:
    return "once" if noted.count == 1 else f"{noted.count} times"


def _told(noted: Noted) -> Iterator[str]:
    yield f"({noted.where})"
    yield from noted.lines.splitlines()


def _versions() -> Iterator[str]:
    yield f"Chalkfret {chalkfret.__version__}"
    yield f"Python {platform.python_version()}"
    yield f"PySide6 {PySide6.__version__}, Qt {qVersion()}, platform {_platform()}"
    yield f"{platform.system()} {platform.release()}, {platform.machine()}, {sys.byteorder} endian"
    yield f"language {QLocale().name()}"


def _platform() -> str:
    return QGuiApplication.platformName() if QGuiApplication.instance() is not None else "none"


def qt_words(words: str) -> str:
    """A warning of Qt up to what is quoted in it or a path, and without the user's name."""
    words = _FOREIGN.sub(LEFT_OUT, words)
    for name in (_user(), Path.home().name, platform.node()):
        if name:
            words = re.sub(rf"\b{re.escape(name)}\b", LEFT_OUT, words, flags=re.IGNORECASE)
    return " ".join(words.split())


def _user() -> str:
    try:
        return getuser()
    except (KeyError, OSError, ImportError):
        return ""
