"""The cheapest fingering is the cheapest: held against trying all, by the stated cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from random import Random

import pytest

from chalkfret.arrange.fingering import Ask, Event, cheapest
from chalkfret.arrange.reach import Place, places_of, shape_of
from chalkfret.model.setup import Setup
from tests.builder import tuned

CASES = 2_000
SETUPS = [tuned("E2 A2 D3 G3 B3 E4"), tuned("D2 G2 D3 G3 B3 D4"), tuned("G3 C4 E4"),
          tuned("C2 G2 C3 F3")]  # fmt: skip


def price(events: Sequence[Event], choice: Sequence[tuple[tuple[Place, ...], int]]) -> float:
    """The cost of places and positions (0: never fretted yet), counted event by event."""
    total, position_before, struck_before = 0.0, 0, ()
    where: dict[int, Place] = {}  # of notes that sound or are started from
    alive: dict[int, int] = {}  # notes that still sound: until when
    spoilt: set[int] = set()  # notes on whose string something came since
    for index, (event, (places, position)) in enumerate(zip(events, choice, strict=True)):
        pace = 1.0 if index == 0 else min(5.0, 1 + 0.25 / max(event.after_s, 1e-9))
        frets = [fret for _, fret in places if fret]
        struck = [course for course, _ in places]
        total += 0.2 * len(frets)
        if frets:
            total += 0.05 * position + 1.0 * shape_of(places).barres
            total += 3.0 * pace * max(0, max(frets) - position - 3)
        if position_before and position != position_before:
            total += (0.5 + abs(position - position_before)) * pace
        if struck_before:
            nearest = min(abs(one - two) for one in range(min(struck), max(struck) + 1)
                          for two in range(min(struck_before), max(struck_before) + 1))  # fmt: skip
            total += 0.3 * pace * nearest
        for number in list(alive):
            course, fret = where[number]
            out = fret and not position <= fret <= position + 4
            if course in struck or out:
                total += 3.0
                del alive[number]
            elif alive[number] <= index:
                del alive[number]
        for (_number, ask), place in zip(event.asks, places, strict=True):
            total += 0.8 * (ask.rings_open and place[1] > 0)
            if ask.root is not None:
                start = where.get(ask.root)
                fits = start is not None and start[0] == place[0] and ask.root not in spoilt
                total += 0.0 if fits else 50.0
        spoilt |= {number for number, (course, _) in where.items() if course in struck}
        for (number, ask), place in zip(event.asks, places, strict=True):
            where[number] = place
            if ask.until > index:
                alive[number] = ask.until
        position_before, struck_before = position, struck
    return total


def ways(event: Event) -> list[tuple[tuple[Place, ...], tuple[int, ...]]]:
    """All that a hand can do at an event: places, and where it may lie (none: it stays)."""
    found = []
    for places in product(*(ask.places for _, ask in event.asks)):
        shape = shape_of(places)
        if shape is not None:
            found.append((places, tuple(position for position, _ in shape.positions)))
    return found


def all_of(events: Sequence[Event]) -> Iterator[list[tuple[tuple[Place, ...], int]]]:
    def go_on(
        index: int, before: int, so_far: list[tuple[tuple[Place, ...], int]]
    ) -> Iterator[list[tuple[tuple[Place, ...], int]]]:
        if index == len(events):
            yield so_far
            return
        for places, positions in ways(events[index]):
            for position in positions or (before,):
                yield from go_on(index + 1, position, [*so_far, (places, position)])

    return go_on(0, 0, [])


def random_events(dice: Random) -> list[Event]:
    setup: Setup = dice.choice(SETUPS)
    count = dice.randint(2, 4)
    low = dice.randint(40, 60)
    events: list[Event] = []
    number = 0
    for index in range(count):
        asks = []
        for _ in range(1 if dice.random() < 0.75 else 2):
            places = places_of(setup, low + dice.randint(0, 14))
            places = tuple(dice.sample(places, min(len(places), 2 if count > 3 else 3)))
            until = min(count - 1, index + (dice.randint(0, 2) if dice.random() < 0.5 else 0))
            root = dice.randrange(number) if number and dice.random() < 0.3 else None
            if places and (not asks or ways(Event(0.0, ((0, asks[0][1]), (1, Ask(places, 0)))))):
                asks.append((number + len(asks), Ask(places, until, root, dice.random() < 0.3)))
        number += len(asks)
        if asks:
            events.append(Event(dice.choice([0.0, 0.05, 0.2, 0.5, 2.0]), tuple(asks)))
    return events


@pytest.mark.parametrize("part", range(4))
def test_cheapest_is_as_cheap_as_trying_all(part: int) -> None:
    tried = 0
    dice = Random(4_000 + part)
    while tried < CASES // 4:
        events = random_events(dice)
        if not events:
            continue
        options = 1
        for event in events:
            options *= sum(max(1, len(positions)) for _, positions in ways(event))
        if options > 1_200:
            continue
        least = min(price(events, choice) for choice in all_of(events))
        found = cheapest(events)
        assert found.cost == pytest.approx(least)
        chosen = [
            (tuple(found.places[number] for number, _ in event.asks), position)
            for event, position in zip(events, found.positions, strict=True)
        ]
        assert price(events, chosen) == pytest.approx(least)
        tried += 1
