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
``LINK``         50.0    each hammer-on, pull-off or slide that is not on the string of its start,
                         or on whose string something else came between
===============  ======  ==========================================================================

*hurry* is 1 + 0.25 s / (seconds since the event before), at most 5: a stretch or a shift costs more
when there is no time. The first event has no hurry (1), and the first position is free. The hand
does not move over an event of open strings alone. Fingers that hold earlier notes count by their
reach only.

Of more than ``STATES_MAX`` ways to stand after an event the cheapest are followed; only chords that
ring on into chords have so many, and only then may there be a fingering that costs less.
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
STATES_MAX: Final = 300

_Roots: TypeAlias = tuple[tuple[int, int], ...]  # note and its course, 0 where it was lost

_MOVED: Final = tuple(LEAVE * (frets > 0) + SHIFT * frets for frets in range(64))
_ENDLESS: Final = float("inf")
_NOTHING: Final[tuple[tuple[int, ...], _Roots]] = ((), ())
_COST: Final = itemgetter(0)
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
    """A shape and what it costs wherever the hand comes from."""

    shape: Shape
    base: float
    positions: tuple[tuple[int, float, int], ...]  # position, its cost, frets of stretch


class _Links(NamedTuple):
    """What comes of a note that others start from."""

    last: int  # the event of the last of them
    courses: frozenset[int]  # where they have places


def hurry(after_s: float) -> float:
    """How much dearer a movement is that has so many seconds."""
    if after_s * (HURRY_MAX - 1) <= HURRY_S:
        return HURRY_MAX
    return 1 + HURRY_S / after_s


def cheapest(events: Sequence[Event]) -> Fingering:
    """The fingering of least cost.

    Every event must have a shape (``reach.shapes_of``), or ValueError.
    """
    links = _links(events)
    paces = [1.0, *(hurry(event.after_s) for event in events[1:])]
    later = [*accumulate(reversed(paces), max)][::-1]
    states = [_State(0.0, _FREE, 0, 0, (), (), None, None, ())]
    for index, event in enumerate(events):
        options = _options(
            tuple([ask.places for _, ask in event.asks]),
            tuple([ask.rings_open for _, ask in event.asks]),
        )
        if not options:
            raise ValueError(f"event {index} has no shape")
        states = _step(states, index, event, options, paces[index], links)
        states = _worth_keeping(states, later[index])[:STATES_MAX]
    return _traced(states[0], events)


def _links(events: Sequence[Event]) -> dict[int, _Links]:
    """By the number of each note that others start from."""
    found: dict[int, _Links] = {}
    for index, event in enumerate(events):
        for _, ask in event.asks:
            if ask.root is not None:
                courses = frozenset(course for course, _ in ask.places)
                known = found.get(ask.root)
                found[ask.root] = _Links(index, courses | known.courses if known else courses)
    return found


@lru_cache(maxsize=8192)
def _options(
    asked: tuple[tuple[Place, ...], ...], rings_open: tuple[bool, ...]
) -> tuple[_Option, ...]:
    found = []
    for shape in shapes_of(asked):
        base = FRETTED * shape.fretted + BARRE * shape.barres
        for (_, fret), rings in zip(shape.places, rings_open, strict=True):
            base += CLOSED * (rings and fret > 0)
        positions = tuple((at, HEIGHT * at, stretch) for at, stretch in shape.positions)
        found.append(_Option(shape, base, positions))
    return tuple(found)


def _step(
    states: list[_State],
    index: int,
    event: Event,
    options: tuple[_Option, ...],
    pace: float,
    links: dict[int, _Links],
) -> list[_State]:
    """The best state after an event for each position, struck strings, held notes and starts."""
    alike: dict[tuple[tuple[_Held, ...], _Roots], list[_State]] = {}
    for state in states:  # by rising cost
        alike.setdefault((state.held, state.roots), []).append(state)
    linked = any(ask.root is not None or number in links for number, ask in event.asks)
    rings = any(ask.until > index for _, ask in event.asks)
    found: dict[tuple[object, ...], _State] = {}
    for (held, roots), group in alike.items():
        for shape, base, positions in options:
            broken, starts = _NOTHING
            if linked or roots:
                broken, starts = _roots_after(roots, event, index, shape, links)
            base += LINK * len(broken)
            arrivals = _arrivals(group, shape, pace)
            reached = arrivals
            if positions:
                reached = [_moved(arrivals, pace, *position) for position in positions]
            for cost, position, came in reached:
                cost += base
                held_now: tuple[_Held, ...] = ()
                if held or rings:
                    cuts, held_now = _held_after(held, event, index, shape, position)
                    cost += CUT * cuts
                key = position, shape.low, shape.high, held_now, starts
                known = found.get(key)
                if known is None or cost < known.cost:
                    found[key] = _State(cost, *key, came, shape, broken)
    return list(found.values())


def _arrivals(group: list[_State], shape: Shape, pace: float) -> list[tuple[float, int, _State]]:
    """For each position that the hand may come from the cheapest state, its crossing paid."""
    low, high, cross = shape.low, shape.high, CROSS * pace
    best: dict[int, tuple[float, int, _State]] = {}
    for state in group:
        cost, position, before_low, before_high = state[:4]
        if before_low:
            if low > before_high:
                cost += cross * (low - before_high)
            elif before_low > high:
                cost += cross * (before_low - high)
        known = best.get(position)
        if known is None or cost < known[0]:
            best[position] = cost, position, state
    return sorted(best.values(), key=_COST)


def _moved(
    arrivals: list[tuple[float, int, _State]], pace: float, position: int, own: float, stretch: int
) -> tuple[float, int, _State]:
    """The cheapest way to a position."""
    came, best = arrivals[0][2], _ENDLESS
    for cost, at, state in arrivals:
        if cost >= best:
            break
        if at:
            cost += _MOVED[position - at if position > at else at - position] * pace
        if cost < best:
            came, best = state, cost
    return best + own + STRETCH * stretch * pace, position, came


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
    roots: _Roots, event: Event, index: int, shape: Shape, links: dict[int, _Links]
) -> tuple[tuple[int, ...], _Roots]:
    """The notes that lost their start, and the starts of later ones.

    A start on a string where none of its later notes has a place is as good as lost.
    """
    courses, broken = dict(roots), []
    struck = {course for course, _ in shape.places}
    kept = [
        (number, 0 if course in struck else course)
        for number, course in roots
        if links[number].last > index
    ]
    for (number, ask), (course, _) in zip(event.asks, shape.places, strict=True):
        if ask.root is not None and courses.get(ask.root, 0) != course:
            broken.append(number)
        if number in links and links[number].last > index:
            kept.append((number, course if course in links[number].courses else 0))
    return tuple(broken), tuple(sorted(kept))


def _reaches(position: int, fret: int) -> bool:
    return position <= fret <= position + SPAN + STRETCH_MAX


def _worth_keeping(states: list[_State], later: float) -> list[_State]:
    """The states by rising cost, without those that the best one of the same roots surely beats.

    From there the best one could go on with the other's very shapes and positions: it would pay at
    most one more movement, one more crossing, each in the most ``later`` hurry, and the notes that
    it holds cut, where the other does not hold the same.
    """
    states.sort(key=_COST)
    best: dict[object, _State] = {}
    for state in states:
        best.setdefault(state.roots, state)
        best.setdefault((state.roots, state.held), state)
    kept = []
    for state in states:
        by, alike = best[state.roots], best[state.roots, state.held]
        if by is not state and _is_beaten(state, by, later):
            continue
        if alike is not by and alike is not state and _is_beaten(state, alike, later):
            continue
        kept.append(state)
    return kept


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
