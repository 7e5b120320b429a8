"""The standard tunings that other tunings are reckoned from, for each number of courses.

Low to high, as players name tunings. The first of a count is the usual one. All are common
practice; from ten courses on there is none, and the fourths are carried on upwards and downwards.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

GUITAR: Final = ("E2", "A2", "D3", "G3", "B3", "E4")

STANDARDS: Final[dict[int, tuple[tuple[str, ...], ...]]] = {
    3: (("G2", "D3", "G3"),),  # three-string box guitar
    4: (
        ("E1", "A1", "D2", "G2"),  # bass
        ("C3", "G3", "D4", "A4"),  # tenor guitar
        GUITAR[2:],  # the first four of a guitar
    ),
    5: (
        ("B0", "E1", "A1", "D2", "G2"),  # bass
        GUITAR[1:],  # a guitar without its sixth
    ),
    6: (
        GUITAR,
        ("E1", "A1", "D2", "G2", "B2", "E3"),  # six-string bass an octave below the guitar
        ("B0", "E1", "A1", "D2", "G2", "C3"),  # six-string bass in fourths
    ),
    7: (("B1", *GUITAR),),
    8: (("F#1", "B1", *GUITAR),),
    9: (("C#1", "F#1", "B1", *GUITAR),),
    10: (("C#1", "F#1", "B1", *GUITAR, "A4"),),
    11: (("G#0", "C#1", "F#1", "B1", *GUITAR, "A4"),),
    12: (("G#0", "C#1", "F#1", "B1", *GUITAR, "A4", "D5"),),
}


def nearest_standard(costs: Sequence[float]) -> int:
    """Which of a count's standards a tuning belongs to, by what each costs in retuning.

    The usual one, unless another costs less than half as much: a baritone guitar is a guitar
    tuned down, not a six-string bass tuned up.
    """
    best = min(range(len(costs)), key=lambda index: costs[index])
    return best if costs[best] < costs[0] / 2 else 0
