"""The cheapest fingering of notes whose possible places are known.

Notes that begin together are one *event*. A fingering chooses for each event a shape and a hand
position; its cost is the sum over all events of what is listed here, and ``cheapest`` finds the
least there is (dynamic programming; the tests hold it against trying all).

===============  ======  ==========================================================================
weight           points  for
===============  ======  ==========================================================================
``FRETTED``      0.2     each fretted note of the event
``HEIGHT``       0.05    each fret of the hand's position, where the event has a fretted note
``BARRE``        1.0     each finger that presses several strings
``STRETCH``      3.0     each fret that a finger reaches beyond the four under the hand, x hurry
``SHIFT``        1.0     each fret that the position moves since the event before, x hurry
``LEAVE``        0.5     moving at all, x hurry
``CROSS``        0.3     each string from the nearest one struck in the event before, x hurry
``CUT``          3.0     each earlier note that should still sound and cannot: its string is struck
                         again, or it is fretted and lies outside the hand's reach
``CLOSED``       0.8     each note that rings on an open string as written, now fretted
``LINK``         50.0    each hammer-on, pull-off or slide that is not on the string of its start, or
                         on whose string something else came between
===============  ======  ==========================================================================

*hurry* is 1 + 0.25 s / (seconds since the event before), at most 5: a stretch or a shift costs more
when there is no time. The first event has no hurry (1), and the first position is free. The hand
does not move over an event of open strings alone. Fingers that hold earlier notes count by their
reach only.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import accumulate
from operator import itemgetter
from typing import Final, NamedTuple, TypeAlias

from chalkfret.arrange.reach import SPAN, STRETCH_MAX, Place, Shape, shapes_of

FRETTED: Final = 0.2
HEIGHT: Final = 0.05
BARRE: Final = 1.0
STRETCH: Final = 3.0
SHIFT: Final = 1.0
LEAVE: Final = 0.5
CROSS: Final = 0.3
CUT: Final = 3.0
CLOSED: Final = 0.8
LINK: Final = 50.0
HURRY_S: Final = 0.25
HURRY_MAX: Final = 5.0

_MOVED: Final = tuple(LEAVE * (frets > 0) + SHIFT * frets for frets in range(64))
_FREE: Final = 0  # the position of a hand that has fretted nothing yet


class Ask(NamedTuple):
    """A note to be placed."""

    places: tuple[Place, ...]
    until: int  # the last event at whose beginning it should still sound; its own where none
    root: int | None = None  # the number of the note that it is hammered, pulled or slid from
    rings_open: bool = False  # as written it rings on an open string


class Event(NamedTuple):
    """Notes that begin together; ``asks`` by the numbers of the notes, each with a place."""

    after_s: float  # seconds since the event before
    asks: tuple[tuple[int, Ask], ...]


class Fingering(NamedTuple):
    """The places by the numbers of the notes, the hand's position at each event, and the cost."""

    places: dict[int, Place]
    positions: tuple[int, ...]
    cost: float
    broken: tuple[int, ...]  # notes whose hammer-on, pull-off or slide could not stay on its string


class _Held(NamedTuple):
    """What an earlier note still asks of the hand."""

    until: int
    course: int
    fret: int


_Roots: TypeAlias = tuple[tuple[int, int], ...]  # note and its course, 0 where it was lost


class _State(NamedTuple):
    cost: float
    position: int
    low: int
    high: int
    held: tuple[_Held, ...]
    roots: _Roots
    before: _State | None
    shape: Shape | None
    broken: tuple[int, ...]


class _Option(NamedTuple):
    base: float
    position: int  # _FREE: all open, the hand stays
    stretch: int
    shape: Shape


def hurry(after_s: float) -> float:
    """How much dearer a movement is that has so many seconds."""
    if after_s * (HURRY_MAX - 1) <= HURRY_S:
        return HURRY_MAX
    return 1 + HURRY_S / after_s


def cheapest(events: Sequence[Event]) -> Fingering:
    """The fingering of least cost.

    Every event must have a shape (``reach.shapes_of``), or ValueError.
    """
    linked_at = _linked_at(events)
    paces = [1.0, *(hurry(event.after_s) for event in events[1:])]
    later = [*accumulate(reversed(paces), max)][::-1]
    states = [_State(0.0, _FREE, 0, 0, (), (), None, None, ())]
    for index, event in enumerate(events):
        options = _options(
            tuple(ask.places for _, ask in event.asks),
            tuple(ask.rings_open for _, ask in event.asks),
        )
        if not options:
            raise ValueError(f"event {index} has no shape")
        linked = any(ask.root is not None or number in linked_at for number, ask in event.asks)
        rings = any(ask.until > index for _, ask in event.asks)
        if linked or rings or any(state.held or state.roots for state in states):
            both = paces[index], later[index]
            states = _step(states, index, event, options, both, linked_at)
        else:
            states = _plain_step(states, options, paces[index])
        states.sort(key=itemgetter(0))
    return _traced(states[0], events)


def _linked_at(events: Sequence[Event]) -> dict[int, int]:
    """For each note that others start from, the last event where one does."""
    return {
        ask.root: index
        for index, event in enumerate(events)
        for _, ask in event.asks
        if ask.root is not None
    }


@lru_cache(maxsize=8192)
def _options(
    asked: tuple[tuple[Place, ...], ...], rings_open: tuple[bool, ...]
) -> tuple[_Option, ...]:
    """Each shape at each position, with what it costs wherever the hand comes from."""
    found = []
    for shape in shapes_of(asked):
        base = FRETTED * shape.fretted + BARRE * shape.barres
        for (_, fret), rings in zip(shape.places, rings_open, strict=True):
            base += CLOSED * (rings and fret > 0)
        if not shape.positions:
            found.append(_Option(base, _FREE, 0, shape))
        for position, stretch in shape.positions:
            found.append(_Option(base + HEIGHT * position, position, stretch, shape))
    return tuple(found)


def _plain_step(states: list[_State], options: tuple[_Option, ...], pace: float) -> list[_State]:
    """The best state for each option where no earlier note matters; states by rising cost."""
    found: list[_State] = []
    stays: dict[tuple[int, int, int], _State] = {}
    rough = [(state[0], state[1], state[2], state[3], state) for state in states]
    cross, moved = CROSS * pace, _MOVED
    for base, position, stretch, shape in options:
        low, high = shape[4], shape[5]
        if not position:
            for cost, at, before_low, before_high, state in rough:
                gap = low - before_high if low > before_high else before_low - high
                whole = cost + base + (cross * gap if gap > 0 and before_low else 0.0)
                known = stays.get((at, low, high))
                if known is None or whole < known[0]:
                    stays[at, low, high] = _State(whole, at, low, high, (), (), state, shape, ())
            continue
        best, came = 1e30, None
        for cost, at, before_low, before_high, state in rough:
            if cost >= best:
                break
            gap = low - before_high if low > before_high else before_low - high
            if gap > 0 and before_low:
                cost += cross * gap
            if at:
                cost += moved[position - at if position > at else at - position] * pace
            if cost < best:
                best, came = cost, state
        best += base + STRETCH * stretch * pace
        found.append(_State(best, position, low, high, (), (), came, shape, ()))
    found += stays.values()
    return found


def _step(
    states: list[_State],
    index: int,
    event: Event,
    options: tuple[_Option, ...],
    paces: tuple[float, float],
    linked_at: dict[int, int],
) -> list[_State]:
    """The states after an event in which earlier notes hold, or are the start of others.

    ``paces``: the hurry of this event, and the most of any later one.
    """
    pace, later = paces
    alike: dict[tuple[tuple[_Held, ...], _Roots], list[_State]] = {}
    for state in states:  # by rising cost
        alike.setdefault((state.held, state.roots), []).append(state)
    found: dict[tuple[object, ...], _State] = {}
    for (held, roots), group in alike.items():
        for option in options:
            shape = option.shape
            broken, new_roots = _roots_after(roots, event, index, shape, linked_at)
            if option.position:
                base = option.base + STRETCH * option.stretch * pace
                came, cost = _came_from(group, option.position, shape, pace)
                starts = ((came, option.position, cost + base),)
            else:
                starts = tuple(
                    (one, one.position, one.cost + option.base + _crossing(one, shape) * pace)
                    for one in group
                )
            for came, position, cost in starts:
                cuts, new_held = _held_after(held, event, index, shape, position)
                cost += CUT * cuts + LINK * len(broken)
                key = position, shape.low, shape.high, new_held, new_roots
                known = found.get(key)
                if known is None or cost < known.cost:
                    found[key] = _State(cost, *key, came, shape, broken)
    return _worth_keeping(list(found.values()), later)


def _came_from(
    group: list[_State], position: int, shape: Shape, pace: float
) -> tuple[_State, float]:
    """From which of the states, by rising cost, one comes cheapest to a position and shape."""
    came, best = group[0], 1e30
    for one in group:
        if one.cost >= best:
            break
        cost = one.cost + _crossing(one, shape) * pace
        if one.position:
            cost += _MOVED[abs(position - one.position)] * pace
        if cost < best:
            came, best = one, cost
    return came, best


def _crossing(state: _State, shape: Shape) -> float:
    gap = max(shape.low - state.high, state.low - shape.high)
    return CROSS * gap if gap > 0 and state.low else 0.0


def _held_after(
    held: tuple[_Held, ...], event: Event, index: int, shape: Shape, position: int
) -> tuple[int, tuple[_Held, ...]]:
    """How many earlier notes are cut, and what is held from here."""
    struck = {course for course, _ in shape.places}
    cuts, kept = 0, []
    for one in held:
        if one.course in struck or (one.fret and not _reaches(position, one.fret)):
            cuts += 1
        elif one.until > index:
            kept.append(one)
    for (_, ask), (course, fret) in zip(event.asks, shape.places, strict=True):
        if ask.until > index:
            kept.append(_Held(ask.until, course, fret))
    return cuts, tuple(sorted(kept))


def _roots_after(
    roots: _Roots, event: Event, index: int, shape: Shape, linked_at: dict[int, int]
) -> tuple[tuple[int, ...], _Roots]:
    """The notes that lost their start, and the starts of later ones."""
    courses, broken = dict(roots), []
    struck = {course for course, _ in shape.places}
    kept = [
        (number, 0 if course in struck else course)
        for number, course in roots
        if linked_at[number] > index
    ]
    for (number, ask), (course, _) in zip(event.asks, shape.places, strict=True):
        if ask.root is not None and courses.get(ask.root, 0) != course:
            broken.append(number)
        if linked_at.get(number, index) > index:
            kept.append((number, course))
    return tuple(broken), tuple(sorted(kept))


def _reaches(position: int, fret: int) -> bool:
    return position <= fret <= position + SPAN + STRETCH_MAX


def _worth_keeping(states: list[_State], later: float) -> list[_State]:
    """The states without those that the best one of the same roots surely beats.

    From there the best one could go on with the other's very shapes and positions: it would pay at
    most one more movement, one more crossing, each in the most ``later`` hurry, and the notes that
    it holds cut, where the other does not hold the same.
    """
    best: dict[object, _State] = {}
    for state in states:
        for key in (state.roots, (state.roots, state.held)):
            known = best.get(key)
            if known is None or state.cost < known.cost:
                best[key] = state
    return [
        state
        for state in states
        if not _is_beaten(state, best[state.roots], later)
        and not _is_beaten(state, best[state.roots, state.held], later)
    ]


def _is_beaten(state: _State, by: _State, later: float) -> bool:
    if not (state.position and by.position):
        return False
    away = _MOVED[abs(state.position - by.position)]
    across = CROSS * max(by.low - state.low, state.high - by.high, 0)
    cut = 0.0 if by.held == state.held else CUT * len(by.held)
    return state.cost > by.cost + (away + across) * later + cut


def _traced(last: _State, events: Sequence[Event]) -> Fingering:
    places: dict[int, Place] = {}
    positions: list[int] = []
    broken: list[int] = []
    state, index = last, len(events)
    while state.before is not None and state.shape is not None:
        index -= 1
        for (number, _), place in zip(events[index].asks, state.shape.places, strict=True):
            places[number] = place
        positions.append(state.position)
        broken += state.broken
        state = state.before
    return Fingering(places, tuple(reversed(positions)), last.cost, tuple(sorted(broken)))
