"""The bar of a section that is hardest for a hand, and why.

Conventions
-----------
- A bar is judged beat by beat, each time it is played; the hardest time counts. Open strings, dead
  and tapped notes do not bind the fretting hand.
- *Stretch* is the distance in frets between the lowest and the highest fretted note of one beat; a
  slide moves the hand, so what follows it counts by itself.
- *Jump* is how far the lowest fretted note moves from one beat to the very next.
- *Speed* counts attacks of one part a second within a beat; what is struck together is one.
- The bar's hardness is the sum of the three, each against a measure: a stretch of four frets (one
  finger a fret covers three; common practice), a jump of five frets, six attacks a second. The
  last two and the sum are our judgement. Where no measure is reached, or all bars are equally
  hard, none is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from msgspec import Struct

from chalkfret.model.faults import Where
from chalkfret.model.lesson import Lesson
from chalkfret.model.marks import Sign, Slide, SlideWay
from chalkfret.timeline.attacks import Attack, section_attacks
from chalkfret.timeline.clock import SectionClock, section_clock
from chalkfret.words.talk.facts import Fact, HardBar

STRETCH: Final = 4  # frets, beyond one finger a fret
JUMP: Final = 5  # frets
SPEED: Final = 6.0  # attacks a second


class _Beat(Struct, frozen=True):
    speed: float
    low: int  # of the widest stretch; 0: nothing is fretted
    high: int
    first: int  # lowest fretted note
    begins: int  # played ticks of the section
    ends: int


def of_hard_bars(lesson: Lesson, index: int) -> Iterator[Fact]:
    """The hardest bar of a section for each part that plays in it."""
    section = lesson.sections[index]
    clock = section_clock(section)
    struck = section_attacks(section, lesson.parts).attacks
    for at, part in enumerate(lesson.parts):
        hard = _hardest([one for one in struck if one.part == at], clock, part.name)
        if hard is None:
            continue
        where = Where(section=section.head.letter, bar=hard.bar, part=part.name)
        names = ("bars", "head.tempo", "head.times", "head.swing", "head.retunes")
        paths = (*(f"sections[{index}].{name}" for name in names), f"parts[{at}].setup")
        yield Fact(hard, section.id, part.id, where, paths)


def _hardest(struck: Sequence[Attack], clock: SectionClock, part: str) -> HardBar | None:
    """The hardest of the bars; None where there is but one, all are alike, or none is hard."""
    bars: dict[int, list[HardBar]] = {}
    before: _Beat | None = None
    for played, run in groupby(struck, key=lambda one: one.played):
        beats = list(_beats(list(run), clock, played))
        bar = _bar(beats, before, part, clock.bars[played].bar + 1)
        bars.setdefault(bar.bar, []).append(bar)
        before = beats[-1]
    worst = [max(passes, key=hardness) for passes in bars.values()]
    if len(worst) < 2 or len({round(hardness(bar), 6) for bar in worst}) == 1:
        return None
    hardest = max(worst, key=lambda bar: (hardness(bar), -bar.bar))
    return hardest if max(_measures(hardest)) >= 1 else None


def hardness(bar: HardBar) -> float:
    """How hard a bar is: its stretch, jump and speed, each by its measure."""
    return sum(_measures(bar))


def _measures(bar: HardBar) -> tuple[float, float, float]:
    jump = abs(bar.jump_to - bar.jump_from)
    return (bar.high - bar.low) / STRETCH, jump / JUMP, bar.speed / SPEED


def _bar(beats: Sequence[_Beat], before: _Beat | None, part: str, bar: int) -> HardBar:
    """A bar by its widest stretch, farthest jump (0 to 0: none) and fastest beat."""
    widest = max(beats, key=lambda beat: beat.high - beat.low)
    jump = (0, 0)
    for beat in beats:
        at_once = before is not None and before.ends == beat.begins
        if before is not None and at_once and before.first and beat.first:
            jump = max(jump, (before.first, beat.first), key=lambda one: abs(one[1] - one[0]))
        before = beat
    speed = round(max(beat.speed for beat in beats), 1)
    return HardBar(part, bar, widest.low, widest.high, *jump, speed)


def _beats(struck: Sequence[Attack], clock: SectionClock, played: int) -> Iterator[_Beat]:
    """The beats of a played bar in which a part strikes something."""
    head, tick = clock.heads[played], clock.ticks[played]
    starts = head.beat_starts

    def beat_of(one: Attack) -> int:
        return sum(1 for start in starts if start <= one.onset) - 1

    for beat, run in groupby(struck, key=beat_of):
        notes = list(run)
        begins = clock.onset_s(played, starts[beat])
        ends, until = clock.bar_s[played + 1], head.ticks
        if beat + 1 < len(starts):
            until = starts[beat + 1]
            ends = clock.onset_s(played, until)
        onsets = len({one.onset for one in notes})
        low, high = _stretch(notes)
        frets = _frets(notes)
        speed = onsets / (ends - begins) if ends > begins else 0.0
        yield _Beat(speed, low, high, min(frets, default=0), tick + starts[beat], tick + until)


def _stretch(notes: Sequence[Attack]) -> tuple[int, int]:
    """The lowest and highest fret of the widest run between slides; 0 and 0 for none."""
    runs: list[list[Attack]] = [[]]
    for one in notes:
        if Slide(SlideWay.FROM_NOTE) in one.note.marks:
            runs.append([])
        runs[-1].append(one)
    spans = [(min(frets), max(frets)) for run in runs if (frets := _frets(run))]
    return max(spans, key=lambda span: span[1] - span[0], default=(0, 0))


def _frets(notes: Sequence[Attack]) -> list[int]:
    """The frets, from the nut, that the fretting hand presses."""
    return [
        one.note.fret + one.setup.capo_fret(one.note.course)
        for one in notes
        if one.note.fret and not one.note.has(Sign.DEAD) and not one.note.has(Sign.TAP)
    ]
