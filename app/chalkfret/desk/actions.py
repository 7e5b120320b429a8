"""The one registry of actions, from which menus, keys, tooltips and the list of keys are made.

A page hands over its actions with the widget in which their keys work; nothing else in the
window binds a key, so what F1 lists is what the keyboard does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from msgspec import Struct
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from chalkfret.words.text import N_, _

MENUS = (
    N_("&Lesson"),
    N_("&Edit"),
    N_("&Note"),
    N_("&Bar"),
    N_("&Section"),
    N_("&Part"),
    N_("S&heet"),
    N_("&View"),
    N_("Hel&p"),
)


def _always() -> bool:
    return True


class Action(Struct, frozen=True):
    """One thing that can be done.

    ``id`` never changes (settings keep it), ``text`` is what menus say, ``keys`` are portable
    key sequences, ``menu`` one of ``MENUS``, as it is written there, or "" for none. ``shown``
    names the keys of a gesture that no single sequence can say ("0 … 9"); such an entry is
    listed, not bound.
    """

    id: str
    text: str
    keys: tuple[str, ...] = ()
    menu: str = ""
    run: Callable[[], object] | None = None
    enabled: Callable[[], bool] = _always
    checked: Callable[[], bool] | None = None
    shown: str = ""
    separated: bool = False  # a line before it in the menu

    def keys_text(self) -> str:
        """The keys as this system writes them."""
        native = QKeySequence.SequenceFormat.NativeText
        return self.shown or ", ".join(QKeySequence(key).toString(native) for key in self.keys)


class Registry(QObject):
    """All actions of the window, each with the place where its keys work."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._entries: dict[str, tuple[Action, QAction | None, str]] = {}
        self._menus: dict[str, QMenu] = {}

    def add(self, owner: QWidget, actions: Iterable[Action], where: str = "") -> None:
        """Bind ``actions``: their keys work while the focus is in ``owner``.

        ``where`` names that place in the list of keys; "" is the whole window.
        """
        context = (
            Qt.ShortcutContext.WidgetWithChildrenShortcut
            if where
            else Qt.ShortcutContext.WindowShortcut
        )
        for action in actions:
            if action.id in self._entries:
                raise ValueError(f"two actions are called {action.id}")
            bound = None if action.run is None else self._bind(owner, action, context)
            self._entries[action.id] = (action, bound, where)

    def _bind(self, owner: QWidget, action: Action, context: Qt.ShortcutContext) -> QAction:
        bound = QAction(action.text, owner)
        bound.setObjectName(action.id)
        bound.setShortcuts([QKeySequence(key) for key in action.keys])
        bound.setShortcutContext(context)
        bound.setCheckable(action.checked is not None)
        bound.setMenuRole(QAction.MenuRole.NoRole)
        plain = action.text.replace("&", "").rstrip("… ")
        keys = action.keys_text()
        bound.setToolTip(f"{plain} ({keys})" if keys else plain)
        bound.triggered.connect(lambda: self.run(action.id))
        owner.addAction(bound)
        menu = self._menus.get(action.menu)
        if menu is not None:
            if action.separated:
                menu.addSeparator()
            menu.addAction(bound)
        return bound

    def run(self, action_id: str) -> None:
        """Do it, where it can be done now."""
        action = self._entries[action_id][0]
        if action.run is not None and action.enabled():
            action.run()

    def qaction(self, action_id: str) -> QAction:
        """The Qt action, for a button that shows it."""
        bound = self._entries[action_id][1]
        if bound is None:
            raise KeyError(action_id)
        return bound

    def entries(self) -> Iterator[tuple[Action, str]]:
        """Every action with the name of the place where its keys work."""
        for action, _bound, where in self._entries.values():
            yield action, where

    def make_menus(self, bar: QMenuBar) -> dict[str, QMenu]:
        """Fill ``bar`` with the menus; actions added from now on find their place by themselves."""
        for title in MENUS:
            menu = bar.addMenu(_(title))
            menu.setToolTipsVisible(True)
            menu.aboutToShow.connect(lambda menu=menu: self._refresh(menu))
            menu.aboutToHide.connect(lambda menu=menu: self._enable(menu))
            self._menus[title] = menu
        return self._menus

    def _refresh(self, menu: QMenu) -> None:
        for bound in menu.actions():
            entry = self._entries.get(bound.objectName())
            if entry is not None:
                bound.setEnabled(entry[0].enabled())
                if entry[0].checked is not None:
                    bound.setChecked(entry[0].checked())

    def _enable(self, menu: QMenu) -> None:
        """A closed menu shows nothing, and a disabled action would swallow its key later."""
        for bound in menu.actions():
            if bound.objectName() in self._entries:
                bound.setEnabled(True)
