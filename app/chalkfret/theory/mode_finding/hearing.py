"""The notes of a section as the finding of modes hears them: all its parts together.

Conventions
-----------
- Onsets and lengths are ticks from the section's beginning, each bar once as it stands written.
- A dead note is not heard, a tied one makes the note before it longer. A note counts by the pitch
  that names it, without the string's cents.
"""

from __future__ import annotations

from functools import lru_cache

from chalkfret.model.bars import Bar, BarHead, Bars
from chalkfret.model.marks import Sign
from chalkfret.model.setup import Setup
from chalkfret.theory.mode_finding.evidence import Heard
from chalkfret.theory.sounding import named_fretted, named_pitch


def heard(bars: Bars, setups: tuple[Setup, ...]) -> tuple[Heard, ...]:
    """The notes of all parts in these bars, in order of onset, then from the lowest.

    ``setups`` has the setup on which each part plays.
    """
    found: list[Heard] = []
    last: dict[tuple[int, int], int] = {}  # the latest note of a part's course, by its place
    at = 0
    for number, bar in enumerate(bars):
        for note, part, course, tied in _bar(bar, setups):
            before = last.get((part, course))
            if tied and before is not None:
                one = found[before]
                found[before] = one._replace(length=one.length + note.length)
            else:
                last[part, course] = len(found)
                found.append(note._replace(onset=at + note.onset, bar=number))
        at += bar.head.ticks
    return tuple(found)


@lru_cache(maxsize=256)
def _bar(bar: Bar, setups: tuple[Setup, ...]) -> tuple[tuple[Heard, int, int, bool], ...]:
    """Each note of a bar with its part, its course, and whether it is tied; onsets in the bar."""
    found = [
        (
            Heard(
                named_pitch(setup, note),
                note.onset,
                note.length,
                strength(bar.head, note.onset),
                low_open=note.fret == 0 and note.course == _lowest(setup),
            ),
            part,
            note.course,
            note.has(Sign.TIE),
        )
        for part, (notes, setup) in enumerate(zip(bar.notes, setups, strict=True))
        for note in notes
        if not note.has(Sign.DEAD)
    ]
    return tuple(sorted(found, key=lambda one: (one[0].onset, one[0].midi, one[1])))


@lru_cache(maxsize=512)
def _lowest(setup: Setup) -> int:
    """The course that sounds lowest when open."""
    courses = range(1, len(setup.courses) + 1)
    return min(courses, key=lambda course: named_fretted(setup, course))


@lru_cache(maxsize=4096)
def strength(head: BarHead, tick: int) -> int:
    """How strong a tick of a bar is: 4 the bar line to 0, weaker than half a beat."""
    starts = head.beat_starts
    if tick == 0:
        return 4 if head.pickup is None else 2
    if tick in starts:
        beat = starts.index(tick)
        middle = head.pickup is None and len(starts) % 2 == 0 and beat == len(starts) // 2
        return 3 if middle else 2
    halves = (start + length // 2 for start, length in zip(starts, head.beats, strict=True))
    return 1 if tick in halves else 0
