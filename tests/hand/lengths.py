"""Keys that give a note its length, as the window understands them."""

from __future__ import annotations

from collections import deque
from functools import lru_cache

from chalkfret.model import BarHead
from chalkfret.model.meter import bar_steps, usual_steps
from tests.hand.state import Keys

STEP = 1260


def usual_grid(head: BarHead) -> tuple[int, ...]:
    """The steps of each beat of a bar that nobody cut."""
    return tuple(map(usual_steps, head.beats))


@lru_cache(maxsize=4096)
def lines(head: BarHead, grid: tuple[int, ...]) -> tuple[int, ...]:
    """Where steps begin in a bar and, by sixteenths, in the next; its end is last."""
    inside = [start for start, _ in bar_steps(head.beats, grid)]
    return (*inside, *range(head.ticks, 2 * head.ticks + 1, STEP))


def beat_of(head: BarHead, tick: int) -> int:
    """The beat, from 0, in which a tick lies."""
    return max(at for at, start in enumerate(head.beat_starts) if start <= tick)


@lru_cache(maxsize=65536)
def length_keys(
    head: BarHead, grid: tuple[int, ...], onset: int, now: int, wanted: int
) -> Keys | None:
    """The fewest keys from a length to another one of the note just typed; None: too many."""
    stops = lines(head, grid)
    queue: deque[tuple[int, Keys]] = deque([(now, ())])
    seen = {now}
    while queue:
        length, keys = queue.popleft()
        if length == wanted:
            return keys
        if len(keys) == 6:
            continue
        end = onset + length
        later = next((at for at in stops if at > end), None)
        earlier = next((at for at in reversed(stops) if onset < at < end), None)
        steps = [
            (".", None if later is None else later - onset),
            (",", None if earlier is None else earlier - onset),
            ("Alt+.", length * 2),
            ("Alt+,", length // 2),
        ]
        for key, other in steps:
            if other and onset + other <= stops[-1] and other not in seen:
                seen.add(other)
                queue.append((other, (*keys, key)))
    return None
