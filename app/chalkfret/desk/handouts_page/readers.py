"""What a teacher types on the Hand-outs page, read; each reader raises ``Unreadable``."""

from __future__ import annotations

import re
from pathlib import Path

from chalkfret.desk.pieces.fields import Unreadable
from chalkfret.files.export import SPEED_MAX, SPEED_MIN
from chalkfret.words.text import _


def read_speeds(text: str) -> tuple[int, ...]:
    """``100 75 50`` as percents, each once, in the order they were typed."""
    words = re.findall(r"[^\s,;%]+", text)
    least, most = round(SPEED_MIN * 100), round(SPEED_MAX * 100)
    wrong = _("Speeds are whole percents from {least} to {most}, as in 100 75 50.").format(
        least=least, most=most
    )
    if not words:
        raise Unreadable(wrong, unfinished=True)
    speeds: dict[int, None] = {}
    for word in words:
        if not word.isdecimal():
            raise Unreadable(wrong)
        speed = int(word)
        if not least <= speed <= most:
            raise Unreadable(wrong, unfinished=speed < least and word is words[-1])
        speeds[speed] = None
    return tuple(speeds)


def write_speeds(speeds: tuple[int, ...]) -> str:
    """Percents as one types them."""
    return " ".join(str(speed) for speed in speeds)


def read_folder(text: str) -> Path:
    """A folder, which need not be there yet."""
    wrong = _("Type a whole path, or choose a folder with the button.")
    if not text.strip() or "\0" in text:
        raise Unreadable(wrong, unfinished=True)
    try:
        folder = Path(text.strip()).expanduser()
    except RuntimeError:  # ~name of nobody
        raise Unreadable(wrong) from None
    if not folder.is_absolute():
        raise Unreadable(wrong, unfinished=True)
    if folder.is_file():
        raise Unreadable(_("{file} is a file: choose a folder.").format(file=folder.name))
    return folder
