"""The one question that must be answered before going on: what becomes of unsaved work."""

from __future__ import annotations

from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QMessageBox, QWidget

from chalkfret.words.text import _


def ask_unsaved(window: QWidget) -> QMessageBox.StandardButton:
    """Save, Discard or Cancel."""
    box = QMessageBox(window)
    box.setWindowTitle(_("Unsaved work"))
    box.setText(_("This lesson has changes that are not saved."))
    box.setInformativeText(_("Save them before going on?"))
    buttons = QMessageBox.StandardButton
    box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
    for which, words in (
        (buttons.Save, _("&Save")),
        (buttons.Discard, _("&Do not save")),
        (buttons.Cancel, _("&Cancel")),
    ):
        button = box.button(which)
        button.setText(words)
        button.setIcon(QIcon())  # the style's own pictures are of another hand than ours
    box.setDefaultButton(buttons.Save)
    choice = QMessageBox.StandardButton(box.exec())
    box.deleteLater()
    return choice
