"""Notes on the system's clipboard: a clip as JSON under our own type."""

from __future__ import annotations

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from chalkfret.edits.clip import Clip

MIME = "application/x-chalkfret-clip+json"


def put(clip: Clip) -> None:
    """Lay a clip on the clipboard."""
    from chalkfret.files.clip import dumps

    data = QMimeData()
    data.setData(MIME, dumps(clip))
    QGuiApplication.clipboard().setMimeData(data)


def take() -> Clip | None:
    """The clip on the clipboard, or None where there is none of ours."""
    from chalkfret.files.clip import loads

    data = QGuiApplication.clipboard().mimeData()
    if data is None or not data.hasFormat(MIME):
        return None
    try:
        return loads(bytes(data.data(MIME).data()))
    except ValueError:
        return None
