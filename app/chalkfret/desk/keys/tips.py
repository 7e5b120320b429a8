"""Tooltips of buttons that do what an action does: with the keys that the action has now."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtWidgets import QWidget

from chalkfret.desk.actions import Registry

W = TypeVar("W", bound=QWidget)
_ACTION, _WORDS = "action", "tip"  # dynamic properties of the button


def does(button: W, action_id: str) -> W:
    """Mark a button, whose tooltip says what it does, as doing what this action does."""
    button.setProperty(_ACTION, action_id)
    button.setProperty(_WORDS, button.toolTip())
    return button


def show_tips(page: QWidget, registry: Registry) -> None:
    """Say the keys in the tooltips of all marked buttons of a page."""
    for button in page.findChildren(QWidget):
        action_id = button.property(_ACTION)
        if action_id:
            words, keys = button.property(_WORDS), registry.action(action_id).keys_text()
            button.setToolTip(f"{words} ({keys})" if keys else words)
