"""The one registry of actions, from which menus, keys, tooltips and the list of keys are made.

A page hands over its actions with the widget in which their keys work; nothing else in the
window binds a key, so what F1 lists is what the keyboard does. The teacher may choose other keys:
a chosen key belongs to its action alone, and whoever had it by default goes without.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

from msgspec import Struct
from msgspec.structs import replace
from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from chalkfret.desk.trouble.lately import DONE
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
    listed, not bound. ``why`` says what is missing where it is not ``enabled``.
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
    why: str = ""
    under: str = ""  # a menu within its menu, by its title
    last: bool = False  # stays at the end of its menu, whatever comes to it later

    @property
    def plain(self) -> str:
        """The text without the signs of menus."""
        return self.text.replace("&", "").rstrip("… ")

    def keys_text(self) -> str:
        """The keys as this system writes them."""
        return self.shown or ", ".join(map(native, self.keys))


@dataclass
class _Entry:
    """``action`` has the keys in force; ``default`` are those it comes with."""

    action: Action
    default: tuple[str, ...]
    bound: QAction | None
    where: str


@lru_cache(maxsize=1024)
def canonical(key: str) -> str:
    """A key sequence in the one way it is always written."""
    return QKeySequence(key).toString(QKeySequence.SequenceFormat.PortableText)


def native(key: str) -> str:
    """A key sequence as this system writes it."""
    return QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText)


def meet(one: str, other: str) -> bool:
    """Whether keys of these two places can be pressed in one spot."""
    return one == other or not one or not other


class Registry(QObject):
    """All actions of the window, each with the place where its keys work.

    ``chosen``: the keys that the teacher chose, by the action's id.
    """

    changed = Signal()  # some action has other keys
    begins = Signal()  # an action is about to be done

    def __init__(
        self, parent: QObject | None = None, chosen: Mapping[str, tuple[str, ...]] | None = None
    ) -> None:
        super().__init__(parent)
        self._entries: dict[str, _Entry] = {}
        self._menus: dict[str, QMenu] = {}
        self._under: dict[tuple[str, str], QMenu] = {}
        self._ends: dict[str, QAction] = {}  # by menu: where what stays at its end begins
        self._chosen = dict(chosen or {})

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
            self._entries[action.id] = _Entry(action, action.keys, bound, where)
        self._give_keys()

    def _bind(self, owner: QWidget, action: Action, context: Qt.ShortcutContext) -> QAction:
        bound = QAction(action.text, owner)
        bound.setObjectName(action.id)
        _show_keys(bound, action)
        bound.setShortcutContext(context)
        bound.setCheckable(action.checked is not None)
        bound.setMenuRole(QAction.MenuRole.NoRole)
        bound.triggered.connect(lambda: self.run(action.id))
        owner.addAction(bound)
        menu = self._menus.get(action.menu)
        if menu is not None:
            self._put_in(menu, bound, action)
        return bound

    def _put_in(self, menu: QMenu, bound: QAction, action: Action) -> None:
        if action.under:
            menu = self._within(menu, action)
        end = None if action.under else self._ends.get(action.menu)  # None: at the very end
        line = None
        if action.separated:
            line = menu.addSeparator() if end is None else menu.insertSeparator(end)
        if end is None:
            menu.addAction(bound)
        else:
            menu.insertAction(end, bound)
        if action.last:
            self._ends[action.menu] = line or bound

    # Keys of the teacher's choice

    def choose_keys(self, chosen: Mapping[str, tuple[str, ...]]) -> None:
        """These actions have these keys from now on, all others those they come with."""
        self._chosen = dict(chosen)
        if self._give_keys():
            self.changed.emit()

    def default_keys(self, action_id: str) -> tuple[str, ...]:
        """The keys an action comes with."""
        return self._entries[action_id].default

    def _give_keys(self) -> bool:
        """Bind to every action the keys in force; whether any of them changed."""
        taken: dict[str, list[str]] = {}  # the places in which a key was chosen
        for action_id, keys in self._chosen.items():
            if action_id in self._entries:
                for key in keys:
                    taken.setdefault(canonical(key), []).append(self._entries[action_id].where)
        changed = False
        for action_id, entry in self._entries.items():
            if action_id in self._chosen and entry.bound is not None:
                keys = self._chosen[action_id]
            else:
                keys = tuple(
                    key
                    for key in entry.default
                    if not any(meet(where, entry.where) for where in taken.get(canonical(key), ()))
                )
            if keys != entry.action.keys:
                changed = True
                entry.action = replace(entry.action, keys=keys)
                if entry.bound is not None:
                    _show_keys(entry.bound, entry.action)
        return changed

    # Doing

    def run(self, action_id: str) -> None:
        """Do it, where it can be done now."""
        action = self._entries[action_id].action
        if action.run is not None and action.enabled():
            DONE.append(action_id)
            self.begins.emit()
            action.run()

    def qaction(self, action_id: str) -> QAction:
        """The Qt action, for a button that shows it."""
        bound = self._entries[action_id].bound
        if bound is None:
            raise KeyError(action_id)
        return bound

    def action(self, action_id: str) -> Action:
        """The action with the keys in force."""
        return self._entries[action_id].action

    def where(self, action_id: str) -> str:
        """The place where its keys work, "" for everywhere."""
        return self._entries[action_id].where

    def at(self, key: str, focus: QWidget | None) -> str | None:
        """The action that a key means while the keys are in ``focus``."""
        key = canonical(key)
        for action_id, entry in self._entries.items():
            if entry.bound is None or key not in map(canonical, entry.action.keys):
                continue
            owner = cast(QWidget, entry.bound.parent())
            if not entry.where or (focus and (owner is focus or owner.isAncestorOf(focus))):
                return action_id
        return None

    def entries(self) -> Iterator[tuple[Action, str]]:
        """Every action with the name of the place where its keys work."""
        for entry in self._entries.values():
            yield entry.action, entry.where

    def make_menus(self, bar: QMenuBar) -> dict[str, QMenu]:
        """Fill ``bar`` with the menus; actions added from now on find their place by themselves."""
        for title in MENUS:
            self._menus[title] = bar.addMenu(_(title))
            self._watch(self._menus[title])
        return self._menus

    def _within(self, menu: QMenu, action: Action) -> QMenu:
        """The menu within a menu in which an action is; made with its first one."""
        place = action.menu, action.under
        if place not in self._under:
            self._under[place] = menu.addMenu(_(action.under))
            self._watch(self._under[place])
        return self._under[place]

    def _watch(self, menu: QMenu) -> None:
        menu.setToolTipsVisible(True)
        menu.aboutToShow.connect(lambda: self._refresh(menu))
        menu.aboutToHide.connect(lambda: self._enable(menu))

    def _refresh(self, menu: QMenu) -> None:
        for bound in menu.actions():
            entry = self._entries.get(bound.objectName())
            if entry is not None:
                bound.setEnabled(entry.action.enabled())
                if entry.action.checked is not None:
                    bound.setChecked(entry.action.checked())

    def _enable(self, menu: QMenu) -> None:
        """A closed menu shows nothing, and a disabled action would swallow its key later."""
        for bound in menu.actions():
            if bound.objectName() in self._entries:
                bound.setEnabled(True)


def _show_keys(bound: QAction, action: Action) -> None:
    bound.setShortcuts([QKeySequence(key) for key in action.keys])
    keys = action.keys_text()
    bound.setToolTip(f"{action.plain} ({keys})" if keys else action.plain)
