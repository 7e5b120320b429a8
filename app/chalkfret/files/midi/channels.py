"""Which channel each string has, and what sixteen channels cannot carry.

Conventions
-----------
- Channels count from 0, as on the wire; 9, which players call 10, is the click's. That leaves 15.
- A *string* is a physical string: of a part, a course, and its place in the course from 0. Each
  has a channel of its own while there are enough, so that its cents, bends and slides are its own.
- Beyond 15, strings of one sound (program, level, pan) share channels, no more of them than must
  be, and those first that lose least by it. The strings of a course move together, so they share
  one that bends with the first of them; others share one with a single unmoving bend. Strings
  whose bend is equal lose nothing; what the others lose is said.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from math import log2
from typing import Final

from chalkfret.files.midi.playing import Played
from chalkfret.model import Fault, Lesson, Voice, Where, fault

CLICK_CHANNEL: Final = 9
CHANNELS: Final = tuple(channel for channel in range(16) if channel != CLICK_CHANNEL)

String = tuple[int, int, int]  # part index, course, string in the course
Tuning = tuple[float, float]  # A4 in Hz, cents
_Cost = tuple[int, float, int, bool, int]


def string_of(one: Played) -> String:
    """The string that sounds."""
    return one.attack.part, one.attack.note.course, one.string


@dataclass(eq=False)
class _Use:
    """What a string asks of its channel."""

    string: String
    voice: Voice
    tunings: dict[int, Tuning] = field(default_factory=dict)  # by MIDI tick of its attacks
    moving: int = 0  # notes whose pitch moves


@dataclass(eq=False)
class _Group:
    """Strings that share a channel; ``flat``: with one unmoving bend, that of the first's."""

    uses: list[_Use]
    tuning: Tuning
    moving: int  # notes whose pitch moves
    cents: Counter[float]  # how many strings are tuned to so many cents, A4 included
    flat: bool = False

    @property
    def course(self) -> tuple[int, int]:
        """Part and course of the first string."""
        return self.uses[0].string[:2]

    def lost(self, kept: float | None = None) -> tuple[int, float]:
        """Moving notes and cents that are lost on a channel of an unmoving bend of so many cents.

        None: as the group stands now.
        """
        if kept is None:
            if not self.flat:
                return 0, sum(_off_lead(self.uses[0], use) for use in self.uses[1:])
            kept = total_cents(self.tuning)
        return self.moving, sum(abs(one - kept) * count for one, count in self.cents.items())


@dataclass(eq=False)
class Channel:
    """One channel: its strings, and the one tuning of an unmoving one.

    None: it bends with its string, or with the first of a course's.
    """

    number: int
    voice: Voice
    strings: tuple[String, ...]
    tuning: Tuning | None


def share_out(lesson: Lesson, played: Iterable[Played]) -> tuple[tuple[Channel, ...], list[Fault]]:
    """The channels of the strings that are played, and what could not be carried."""
    played = tuple(played)
    groups = [_alone(use) for use in _uses(lesson, played)]
    if len(groups) > len(CHANNELS):
        groups = _shared(groups, _clashes(played))
    channels = tuple(
        Channel(
            number,
            group.uses[0].voice,
            tuple(use.string for use in group.uses),
            group.tuning if group.flat else None,
        )
        for number, group in zip(CHANNELS, groups, strict=False)
    )
    return channels, [one for group in groups for one in _said(group, lesson)]


def _uses(lesson: Lesson, played: Iterable[Played]) -> list[_Use]:
    found: dict[String, _Use] = {}
    for one in played:
        string = string_of(one)
        use = found.get(string)
        if use is None:
            use = found[string] = _Use(string, _sound(lesson.parts[string[0]].voice))
        use.tunings[one.on] = (one.attack.setup.a4, round(one.cents, 3))
        use.moving += bool(one.line)
    return [found[string] for string in sorted(found)]


def _sound(voice: Voice) -> Voice:
    """The voice with only what a channel carries."""
    return Voice(program=voice.program, level_db=voice.level_db, pan=voice.pan)


def _alone(use: _Use) -> _Group:
    tunings = set(use.tunings.values())
    return _Group([use], min(tunings), use.moving, Counter(map(total_cents, tunings)))


def total_cents(tuning: Tuning) -> float:
    """Cents from A4 = 440 Hz."""
    a4, cents = tuning
    return round(1200 * log2(a4 / 440) + cents, 3)


def _off_lead(lead: _Use, use: _Use) -> float:
    """The most cents that a string of a course lies apart from the first one where both sound."""
    both = {(tuning, lead.tunings[on]) for on, tuning in use.tunings.items() if on in lead.tunings}
    return max((abs(total_cents(a) - total_cents(b)) for a, b in both), default=0.0)


def _clashes(played: Iterable[Played]) -> Counter[frozenset[String]]:
    """How often two strings of different courses strike the same number at once."""
    at: dict[tuple[int, int], list[String]] = defaultdict(list)
    for one in played:
        at[one.on, one.number].append(string_of(one))
    found: Counter[frozenset[String]] = Counter()
    for strings, count in Counter(tuple(each) for each in at.values() if len(each) > 1).items():
        for a, b in combinations(strings, 2):
            if a[:2] != b[:2]:
                found[frozenset((a, b))] += count
    return found


def _shared(groups: list[_Group], clashes: Counter[frozenset[String]]) -> list[_Group]:
    """The groups joined, pair by pair, until there are channels for all.

    Of pairs that lose the same, those are joined first that never strike the same number at once,
    then those of one part. Strings of different sound stay apart.
    """
    left = dict(enumerate(groups))
    clash = {
        (a, b): clashes[frozenset((groups[a].uses[0].string, groups[b].uses[0].string))]
        for a, b in combinations(left, 2)
    }

    def cost(pair: tuple[int, int]) -> _Cost:
        one, other = left[pair[0]], left[pair[1]]
        apart = one.course[0] != other.course[0]
        size = sum(len(use.tunings) for use in (*one.uses, *other.uses))
        return *_loss(one, other), clash[pair], apart, size

    costs = {
        (a, b): cost((a, b)) for a, b in clash if groups[a].uses[0].voice == groups[b].uses[0].voice
    }
    while len(left) > len(CHANNELS) and costs:
        one, other = min(costs, key=costs.__getitem__)
        _join(left[one], left.pop(other))
        costs = {pair: value for pair, value in costs.items() if other not in pair}
        for third in left:
            if third != one:
                pair, gone = _pair(one, third), _pair(other, third)
                clash[pair] += clash[gone]
                if pair in costs:
                    costs[pair] = cost(pair)
    return list(left.values())


def _pair(one: int, other: int) -> tuple[int, int]:
    return min(one, other), max(one, other)


def _of_one_course(one: _Group, other: _Group) -> bool:
    return one.course == other.course and not one.flat and not other.flat


def _loss(one: _Group, other: _Group) -> tuple[int, float]:
    """Moving notes and cents that are lost when these join, beyond what is lost already."""
    if _of_one_course(one, other):
        return 0, round(sum(_off_lead(one.uses[0], use) for use in other.uses), 3)
    kept = total_cents(one.tuning)
    before, after = (one.lost(), other.lost()), (one.lost(kept), other.lost(kept))
    moving = sum(notes for notes, _ in after) - sum(notes for notes, _ in before)
    cents = sum(off for _, off in after) - sum(off for _, off in before)
    return moving, round(cents, 3)


def _join(one: _Group, other: _Group) -> None:
    one.flat = not _of_one_course(one, other)
    one.uses += other.uses
    one.moving += other.moving
    one.cents += other.cents


def _said(group: _Group, lesson: Lesson) -> Iterator[Fault]:
    """What the strings of a group lose."""
    kept = total_cents(group.tuning)
    lead = group.uses[0]
    for use in group.uses:
        part, course, _ = use.string
        where = Where(part=lesson.parts[part].name, course=course)
        if not group.flat:
            off = _off_lead(lead, use)
        elif use.moving:
            yield fault("midi_bends_lost", where, notes=use.moving)
            continue
        else:
            off = max(abs(total_cents(one) - kept) for one in set(use.tunings.values()))
        if round(off, 1):
            yield fault("midi_cents_lost", where, cents=round(off, 1))


def one_at_a_time(
    lesson: Lesson, played: Iterable[Played], channels: Iterable[Channel]
) -> tuple[list[Played], list[Fault]]:
    """The notes with each number sounding once at a time on a shared channel.

    The next of the same number ends the one before, a tick early, since they may stand in two
    tracks. Two at the very same time become one that is as loud as both: of two strings of a
    course that is all there is to hear; of two courses it is said.
    """
    shared = {
        string: one.number for one in channels if len(one.strings) > 1 for string in one.strings
    }
    sounding: dict[tuple[int, int], Played] = {}
    merged: Counter[tuple[int, int]] = Counter()
    kept = []
    for one in played:
        string = string_of(one)
        if string in shared:
            key = (shared[string], one.number)
            before = sounding.get(key)
            if before is not None and before.on == one.on:
                before.off = max(before.off, one.off)
                before.velocity = min(127, round((before.velocity**4 + one.velocity**4) ** 0.25))
                if one.attack is not before.attack:
                    merged[string[:2]] += 1
                continue
            if before is not None and before.off >= one.on:
                before.off = max(before.on + 1, one.on - 1)
            sounding[key] = one
        kept.append(one)
    return kept, [
        fault(
            "midi_unisons_merged", Where(part=lesson.parts[part].name, course=course), notes=count
        )
        for (part, course), count in sorted(merged.items())
    ]
