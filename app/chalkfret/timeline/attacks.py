"""Attacks: every beginning of a sound, in order of time, repeats unrolled.

Conventions
-----------
- A course is one attack, however many strings it has. A note reached by hammer-on, pull-off or
  slide is an attack of its own.
- A tied note is none: it goes on from the note that ends where it begins, on the same fret of the
  same course, also over a bar line, a repeat as played and a section that follows at once on the
  same setup. A tie with nothing to go on from is an attack.
- The end is the written one, ties joined. Staccato, palm mute, let ring and dead notes change how
  long a note sounds in previews, not this. A break ends what sounds into it.
"""

from __future__ import annotations

from functools import lru_cache
from weakref import WeakValueDictionary

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model import Lesson, Note, Part, Section, Setup, Sign, setup_in
from chalkfret.timeline.clock import SectionClock, Stage, section_clock, timeline


class Attack(Struct, frozen=True, gc=False):
    """One attack. Ticks are played ticks of the lesson, ``onset`` is the note's in its bar."""

    part: int
    section: int
    played: int  # bars of the section as they sound, from 0
    bar: int  # index in the section
    pass_: int
    onset: int
    beat: float  # from 1, in units of the meter's denominator; a pickup has the last ones
    tick: int
    ticks: int  # ties joined, to a break at most
    start_s: float
    end_s: float
    note: Note
    setup: Setup
    tied: tuple[Note, ...] = ()  # the notes that go on from it

    @property
    def end_tick(self) -> int:
        """The played tick at which the note ends."""
        return self.tick + self.ticks


def attacks(lesson: Lesson) -> tuple[Attack, ...]:
    """All attacks of the lesson in order of time, then of part, then of course."""
    return _of_lesson(lesson).attacks


class SectionAttacks(Struct, frozen=True, weakref=True, eq=False):
    """The attacks of one section by itself: as section 0, from its own start."""

    attacks: tuple[Attack, ...]


class _LessonAttacks(Struct, frozen=True, eq=False):
    """The attacks of a lesson, and those of its sections, which live as long as they do."""

    attacks: tuple[Attack, ...]
    sections: tuple[SectionAttacks, ...]


_SECTIONS: WeakValueDictionary[tuple[Section, tuple[Setup, ...]], SectionAttacks] = (
    WeakValueDictionary()
)


@lru_cache(maxsize=4)
def _of_lesson(lesson: Lesson) -> _LessonAttacks:
    out: list[Attack] = []
    sections: list[SectionAttacks] = []
    before: Section | None = None
    for index, timed in enumerate(timeline(lesson).sections):
        section = timed.section
        sections.append(section_attacks(section, lesson.parts))
        placed = [
            replace(
                one,
                section=index,
                tick=one.tick + timed.start_tick,
                start_s=one.start_s + timed.start_s,
                end_s=one.end_s + timed.start_s,
            )
            for one in sections[-1].attacks
        ]
        if before is not None and not before.head.pause_s:
            placed = _joined(out, placed, timed.start_tick)
        out += placed
        before = section
    return _LessonAttacks(tuple(out), tuple(sections))


def section_attacks(section: Section, parts: tuple[Part, ...]) -> SectionAttacks:
    """The attacks of a section by itself, in order of time, part and course."""
    setups = tuple(setup_in(section, part) for part in parts)
    found = _SECTIONS.get((section, setups))
    if found is None:
        clock = section_clock(section)
        rows = [
            one for part, setup in enumerate(setups) for one in _row(section, clock, part, setup)
        ]
        rows.sort(key=lambda one: (one.tick, one.part, one.note.course))
        found = _SECTIONS[section, setups] = SectionAttacks(tuple(rows))
    return found


class _Sounding:
    """A note and what is tied to it, while its end is not known yet."""

    __slots__ = ("end_bar", "end_tick", "note", "onset_bar", "tied")

    def __init__(self, note: Note, bar: int) -> None:
        self.note = note
        self.tied: tuple[Note, ...] = ()
        self.onset_bar = self.end_bar = bar
        self.end_tick = note.end  # in the bar where it ends


def _row(section: Section, clock: SectionClock, part: int, setup: Setup) -> list[Attack]:
    """The attacks of one part in a section."""
    sounding: list[_Sounding] = []
    last: dict[int, _Sounding] = {}  # by course
    bars = tuple(section.bars)
    for played, (bar, _) in enumerate(clock.bars):
        start = clock.ticks[played]
        for note in bars[bar].notes[part]:
            if note.marks and Sign.TIE in note.marks:
                held = last.get(note.course)
                if (
                    held is not None
                    and held.note.fret == note.fret
                    and clock.ticks[held.end_bar] + held.end_tick == start + note.onset
                ):
                    held.tied = (*held.tied, note)
                    held.end_bar, held.end_tick = played, note.end
                    continue
            last[note.course] = _Sounding(note, played)
            sounding.append(last[note.course])
    return [_attack(one, clock, part, setup) for one in sounding]


def _attack(one: _Sounding, clock: SectionClock, part: int, setup: Setup) -> Attack:
    played, onset = one.onset_bar, one.note.onset
    head = clock.heads[played]
    tick = clock.ticks[played] + onset
    end = clock.ticks[one.end_bar] + one.end_tick
    end_s = clock.ending_s(one.end_bar, one.end_tick)
    cut = _break_inside(clock, tick, end)
    if cut is not None:
        end, end_s = cut
    return Attack(
        part=part,
        section=0,
        played=played,
        bar=clock.bars[played].bar,
        pass_=clock.bars[played].pass_,
        onset=onset,
        beat=1 + (head.meter.ticks - head.ticks + onset) / head.meter.unit_ticks,
        tick=tick,
        ticks=end - tick,
        start_s=clock.onset_s(played, onset),
        end_s=end_s,
        note=one.note,
        setup=setup,
        tied=one.tied,
    )


def _break_inside(clock: SectionClock, start: int, end: int) -> tuple[int, float] | None:
    """Tick and second of the first break after ``start`` and before ``end``, or None."""
    for stop in clock.stops:
        if stop.stage is Stage.BREAK and start < stop.tick < end:
            bar = clock.bar_at(stop.tick)
            return stop.tick, clock.ending_s(bar, stop.tick - clock.ticks[bar])
    return None


def _joined(before: list[Attack], placed: list[Attack], start: int) -> list[Attack]:
    """Ties over a section's start: the attack before grows, and the tied note is none."""
    tied = [one for one in placed if one.tick == start and one.note.has(Sign.TIE)]
    if not tied:
        return placed
    ending = {
        (one.part, one.note.course): at for at, one in enumerate(before) if one.end_tick == start
    }
    joined = set()
    for one in tied:
        at = ending.get((one.part, one.note.course))
        if at is None:
            continue
        last = before[at]
        if last.note.fret == one.note.fret and last.setup == one.setup:
            before[at] = replace(
                last,
                ticks=last.ticks + one.ticks,
                end_s=one.end_s,
                tied=(*last.tied, one.note, *one.tied),
            )
            joined.add(one)
    return [one for one in placed if one not in joined]
