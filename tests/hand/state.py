"""Where the hand is while it writes: the cursor and what is in force, with the keys so far.

Conventions
-----------
- Keys are portable key sequences. A key counts one however many modifiers are held with it; in
  ``strict`` each modifier that has to go down counts too (one that stays down from the key before
  does not).
- Ticks count from the bar line; ``grid`` are the steps of each beat of the cursor's bar.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

Keys = tuple[str, ...]
_MODIFIERS = ("Ctrl", "Shift", "Alt")


def modifiers(key: str) -> frozenset[str]:
    """What is held with a key."""
    return frozenset(key.split("+")[:-1]) & frozenset(_MODIFIERS)


def strict(keys: Iterable[str], held: frozenset[str] = frozenset()) -> int:
    """How many keys go down, modifiers included."""
    count = 0
    for key in keys:
        now = modifiers(key)
        count += 1 + len(now - held)
        held = now
    return count


@dataclass(frozen=True)
class Hand:
    """A state of the hand; equal ones differ only in how they were reached."""

    course: int = 1
    tick: int = 0
    paces: tuple[int | None, int | None] = (None, None)
    chord: tuple[int, int] | None = None  # strings that stay selected
    follows: bool = False  # the cursor is right behind what was written
    voice: int = 0  # of the fret before
    forced: int | None = None  # the voice that all frets of the bar get
    typed_here: bool = False  # a fret was typed in this section and part
    model: tuple[int, int] | None = None  # of the bar before
    grid: tuple[int, ...] = ()
    held: frozenset[str] = frozenset()

    def after(self, keys: Keys, **fields: object) -> Hand:
        """The hand after some keys."""
        return replace(self, held=modifiers(keys[-1]) if keys else self.held, **fields)


@dataclass(frozen=True)
class Way:
    """A way to a state: what it cost and the keys, newest first."""

    cost: int
    keys: Keys
    before: Way | None = None

    def then(self, hand: Hand, keys: Keys) -> Way:
        """The way on from a state by some keys."""
        return Way(self.cost + _PRICE * len(keys) + strict(keys, hand.held), keys, self)

    def all_keys(self) -> list[str]:
        """The keys from the beginning."""
        found: list[Keys] = []
        way: Way | None = self
        while way is not None:
            found.append(way.keys)
            way = way.before
        return [key for keys in reversed(found) for key in keys]


_PRICE = 20  # a key against a modifier that goes down: of equal ways the one with fewer modifiers
Ways = dict[Hand, Way]
_WIDTH = 60  # states kept from note to note


def best(found: Iterable[tuple[Hand, Way]]) -> Ways:
    """The cheapest way to each state, of the cheapest states."""
    ways: Ways = {}
    for hand, way in found:
        known = ways.get(hand)
        if known is None or way.cost < known.cost:
            ways[hand] = way
    if len(ways) <= _WIDTH:
        return ways
    return dict(sorted(ways.items(), key=lambda pair: pair[1].cost)[:_WIDTH])
