"""The keys that the teacher chose: kept by the action's id, and in force at once."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import QObject

from chalkfret.desk.actions import Registry, canonical, meet
from chalkfret.desk.settings import Kept, Settings


class KeyChoices(QObject):
    """Changes what is kept; the registry follows, in every window of this program."""

    def __init__(self, registry: Registry, settings: Kept[Settings]) -> None:
        super().__init__(registry)
        self._registry, self._settings = registry, settings
        settings.changed.connect(self._follow)

    def _follow(self, _before: Settings, after: Settings) -> None:
        self._registry.choose_keys(after.keys)

    def is_changed(self, action_id: str) -> bool:
        """Whether an action has other keys than those it comes with."""
        return self._registry.action(action_id).keys != self._registry.default_keys(action_id)

    def changed_ids(self) -> list[str]:
        """All actions that have other keys than those they come with."""
        return [
            action.id for action, _where in self._registry.entries() if self.is_changed(action.id)
        ]

    def give(self, action_id: str, keys: tuple[str, ...]) -> OSError | None:
        """These keys, and no others, do this from now on; whoever had them goes without."""
        places = {action.id: where for action, where in self._registry.entries()}
        wanted = tuple(dict.fromkeys(map(canonical, keys)))

        def change(settings: Settings) -> Settings:
            chosen = {}
            for other, theirs in settings.keys.items():
                if meet(places.get(other, ""), places[action_id]):
                    theirs = tuple(key for key in theirs if key not in wanted)
                chosen[other] = theirs
            chosen[action_id] = wanted
            if wanted == tuple(map(canonical, self._registry.default_keys(action_id))):
                del chosen[action_id]
            return _with_keys(settings, chosen)

        return self._settings.update(change)

    def reset_all(self) -> OSError | None:
        """Every action has the keys it comes with."""
        return self._settings.update(lambda settings: _with_keys(settings, {}))


def _with_keys(settings: Settings, keys: dict[str, tuple[str, ...]]) -> Settings:
    return replace(settings, keys=keys)
