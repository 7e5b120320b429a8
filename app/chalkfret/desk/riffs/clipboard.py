"""Notes on the system's clipboard: a clip as JSON under our own type."""

from __future__ import annotations

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from chalkfret.desk.document import Document
from chalkfret.edits import CannotEdit, selection
from chalkfret.edits.clip import Clip
from chalkfret.edits.place import Span

MIME = "application/x-chalkfret-clip+json"


def put(document: Document, span: Span) -> bool:
    """Copy what is selected; say why where that cannot be."""
    from chalkfret.files.clip import dumps

    try:
        clip = selection.copy(document.lesson, span)
    except CannotEdit as refused:
        from chalkfret.words.sentences import sentence

        document.said.emit(sentence(refused.fault))
        return False
    data = QMimeData()
    data.setData(MIME, dumps(clip))
    QGuiApplication.clipboard().setMimeData(data)
    return True


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
