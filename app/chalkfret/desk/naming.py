"""What the window's frame says of the lesson: its name, whether it is saved, what Undo undoes.

Functions, and no object that listens: the document goes before its listeners where it is the
window's own, and only what is heard by the window itself is let go before.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.frame import PageRow
    from chalkfret.desk.window import Window


def show_name(window: Window, row: PageRow) -> None:
    """Say which lesson is open, and whether all of it is saved."""
    if window.is_empty:
        window.setWindowTitle("Chalkfret")
        window.setWindowFilePath("")
        row.show_title("")
        return
    document = window.document
    path, title = document.path, document.lesson.head.title
    name = path.stem if path is not None else title or _("New lesson")
    window.setWindowTitle(f"{name}[*] – Chalkfret")
    window.setWindowModified(document.dirty)
    window.setWindowFilePath(str(path) if path else "")
    row.show_title(title if title != name else "")


def show_undo(window: Window) -> None:
    """Say what Undo and Redo would do."""
    undo = window.document.undo_stack
    for action_id, word, text in (
        ("undo", _("&Undo"), undo.undoText()),
        ("redo", _("&Redo"), undo.redoText()),
    ):
        window.registry.qaction(action_id).setText(f"{word} {text}".rstrip())
