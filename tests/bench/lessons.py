"""Lessons of a given length for the rows: two guitars, eight notes a bar each, some with marks."""

import random

from chalkfret.model import Lesson, Tempo
from tests.builder import lesson, part, section, tuned

SECTION = 200
"""Bars of a section, where nothing else is said."""

_MARKS = ["", "", "", "", "m", "h", "p", ">", "l", "~", "b"]


def long_lesson(bars: int, seed: int = 1, section_bars: int = SECTION) -> Lesson:
    """So many bars in sections of ``section_bars``; 16 notes a bar over both parts.

    Another seed makes other notes, of which no cache can know anything yet.
    """
    draw = random.Random(seed)
    sections = []
    for number, start in enumerate(range(0, bars, section_bars)):
        count = min(section_bars, bars - start)
        lines = [" | ".join(_bar(draw) for _ in range(count)) for _ in range(2)]
        sections.append(
            section(_letter(number), *lines, name="Passage", tempo=_tempo(number), key="D dorian")
        )
    low = tuned("B1 F#2 B2 E3 G#3 C#4", scale_mm=685.8)
    return lesson(
        *sections, parts=(part("Low guitar", low), part("High guitar")), title=f"{bars} bars"
    )


def _tempo(number: int) -> Tempo:
    """Every other section gets faster."""
    return Tempo(90.0 + number, end=120.0 if number % 2 else None)


def _bar(draw: random.Random) -> str:
    notes = (f"{draw.randint(1, 6)}:{draw.randint(0, 15)}{draw.choice(_MARKS)}" for _ in range(8))
    return f"e {' '.join(notes)}"


def _letter(number: int) -> str:
    """A to Z, then AA, AB ..."""
    first, second = divmod(number, 26)
    return (chr(64 + first) if first else "") + chr(65 + second)
