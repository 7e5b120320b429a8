"""Stretching a line: springs that share a width (Gourlay, "Spacing a line of music", 1987).

Each spring is at least ``least`` long and otherwise ``ideal`` times a force that all springs of
the line share, so equal durations get equal room wherever nothing is in the way.
"""

from __future__ import annotations

from collections.abc import Sequence


def stretched(ideal: Sequence[float], least: Sequence[float], width: float) -> tuple[float, ...]:
    """The lengths of the springs that add up to ``width``.

    Where the width is below the sum of the least lengths, all shrink alike: nothing may leave
    the line.
    """
    smallest = sum(least)
    if smallest >= width:
        return tuple(length * width / smallest for length in least)
    # Springs that the force would make shorter than their least stand still; the more of them
    # stand, the less is left for the others, so the set only grows.
    standing = [False] * len(ideal)
    while True:
        rest = width - sum(low for low, stands in zip(least, standing, strict=True) if stands)
        free = sum(one for one, stands in zip(ideal, standing, strict=True) if not stands)
        force = rest / free if free else 0.0
        again = [
            stands or one * force < low
            for one, low, stands in zip(ideal, least, standing, strict=True)
        ]
        if again == standing:
            break
        standing = again
    return tuple(
        low if stands else one * force
        for one, low, stands in zip(ideal, least, standing, strict=True)
    )
