"""Who has a key already, in a place where both could be pressed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from chalkfret.desk.actions import Action, Registry, canonical, meet

_RUN: Final = re.compile(r"^(?P<held>.*?)(?P<first>\d) … (?P=held)(?P<last>\d)$")


def gesture_keys(action: Action) -> tuple[str, ...]:
    """The keys of a gesture that is written as a run of digits: "Ctrl+0 … Ctrl+9"."""
    run = _RUN.match(action.shown)
    if run is None:
        return ()
    digits = range(int(run["first"]), int(run["last"]) + 1)
    return tuple(canonical(f"{run['held']}{digit}") for digit in digits)


def holders(registry: Registry, action_id: str, key: str) -> Iterator[Action]:
    """The other actions and gestures that this key means where ``action_id`` works."""
    key = canonical(key)
    places = {action.id: where for action, where in registry.entries()}
    for action, where in registry.entries():
        if action.id == action_id or not meet(where, places[action_id]):
            continue
        keys = gesture_keys(action) if action.run is None else map(canonical, action.keys)
        if key in keys:
            yield action
