"""The bar of a section that is hardest for a hand, and why.

Conventions
-----------
- A bar is judged beat by beat, each time it is played; the hardest time counts. Open strings, dead
  and tapped notes do not bind the fretting hand.
- *Stretch* is the distance in frets between the lowest and the highest fretted note of one beat; a
  slide moves the hand, so what follows it counts by itself.
- *Jump* is how far the lowest fretted note moves from one beat to the very next.
- *Speed* counts attacks of one part a second within a beat; what is struck together is one,
  and what is tied is none.
- The bar's hardness is the sum of the three, each against a measure: a stretch of four frets (one
  finger a fret covers three; common practice), a jump of five frets, six attacks a second. The
  last two and the sum are our judgement. Where no measure is reached, or all bars are equally
  hard, none is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct

from chalkfret.model.bars import BarHead, Note, Notes
from chalkfret.model.faults import Where
from chalkfret.model.lesson import Lesson, setup_in
from chalkfret.model.marks import Sign, Slide, SlideWay
from chalkfret.model.section import Section
from chalkfret.model.setup import Setup
from chalkfret.timeline.clock import SectionClock, section_clock
from chalkfret.words.talk.facts import Fact, HardBar

STRETCH: Final = 4  # frets, beyond one finger a fret
JUMP: Final = 5  # frets
SPEED: Final = 6.0  # attacks a second
_SLIDE: Final = Slide(SlideWay.FROM_NOTE)


class _Beat(Struct, frozen=True):
    """What one part strikes in a beat: ticks of the bar, attacks, and frets (0: none)."""

    begins: int
    ends: int
    attacks: int
    low: int  # of the widest stretch
    high: int
    first: int  # the lowest fretted note


def of_hard_bars(lesson: Lesson, index: int) -> Iterator[Fact]:
    """The hardest bar of a section for each part that plays in it."""
    section = lesson.sections[index]
    for at, part in enumerate(lesson.parts):
        hard = _hardest(section, setup_in(section, part), part.name, at)
        if hard is None:
            continue
        where = Where(section=section.head.letter, bar=hard.bar, part=part.name)
        names = ("bars", "head.tempo", "head.times", "head.swing", "head.retunes")
        paths = (*(f"sections[{index}].{name}" for name in names), f"parts[{at}].setup")
        yield Fact(hard, section.id, part.id, where, paths)


def _hardest(section: Section, setup: Setup, name: str, part: int) -> HardBar | None:
    """The hardest of the bars; None where there is but one, all are alike, or none is hard."""
    clock, bars = section_clock(section), tuple(section.bars)
    worst: dict[int, HardBar] = {}
    before, until = 0, -1  # the lowest fret of the last beat, and the played tick of its end
    for played, (index, _pass) in enumerate(clock.bars):
        beats = _beats(bars[index].notes[part], bars[index].head, setup)
        if not beats:
            continue
        jump, tick = (0, 0), clock.ticks[played]
        for beat in beats:
            if until == tick + beat.begins and before and beat.first:
                jump = max(jump, (before, beat.first), key=lambda one: abs(one[1] - one[0]))
            before, until = beat.first, tick + beat.ends
        widest = max(beats, key=lambda beat: beat.high - beat.low)
        speed = max(_speed(beat, clock, played) for beat in beats)
        bar = HardBar(name, index + 1, widest.low, widest.high, *jump, round(speed, 1))
        if index not in worst or hardness(bar) > hardness(worst[index]):
            worst[index] = bar
    if len(worst) < 2 or len({round(hardness(bar), 6) for bar in worst.values()}) == 1:
        return None
    hardest = max(worst.values(), key=lambda bar: (hardness(bar), -bar.bar))
    return hardest if max(_measures(hardest)) >= 1 else None


def _speed(beat: _Beat, clock: SectionClock, played: int) -> float:
    ends = (
        clock.bar_s[played + 1]
        if beat.ends == clock.heads[played].ticks
        else clock.onset_s(played, beat.ends)
    )
    seconds = ends - clock.onset_s(played, beat.begins)
    return beat.attacks / seconds if seconds > 0 else 0.0


def hardness(bar: HardBar) -> float:
    """How hard a bar is: its stretch, jump and speed, each by its measure."""
    return sum(_measures(bar))


def _measures(bar: HardBar) -> tuple[float, float, float]:
    jump = abs(bar.jump_to - bar.jump_from)
    return (bar.high - bar.low) / STRETCH, jump / JUMP, bar.speed / SPEED


@lru_cache(maxsize=2048)
def _beats(notes: Notes, head: BarHead, setup: Setup) -> tuple[_Beat, ...]:
    """The beats of a bar in which a part strikes something."""
    struck = [note for note in notes if not note.has(Sign.TIE)]
    found = []
    for begins, ends in pairwise((*head.beat_starts, head.ticks)):
        inside = [note for note in struck if begins <= note.onset < ends]
        if inside:
            attacks = len({note.onset for note in inside})
            first = min(_frets(inside, setup), default=0)
            found.append(_Beat(begins, ends, attacks, *_stretch(inside, setup), first))
    return tuple(found)


def _stretch(notes: Sequence[Note], setup: Setup) -> tuple[int, int]:
    """The lowest and highest fret of the widest run between slides; 0 and 0 for none."""
    runs: list[list[Note]] = [[]]
    for note in notes:
        if _SLIDE in note.marks:
            runs.append([])
        runs[-1].append(note)
    spans = [(min(frets), max(frets)) for run in runs if (frets := _frets(run, setup))]
    return max(spans, key=lambda span: span[1] - span[0], default=(0, 0))


def _frets(notes: Sequence[Note], setup: Setup) -> list[int]:
    """The frets, from the nut, that the fretting hand presses."""
    return [
        note.fret + setup.capo_fret(note.course)
        for note in notes
        if note.fret and not note.has(Sign.DEAD) and not note.has(Sign.TAP)
    ]
