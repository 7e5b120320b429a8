"""Which channel each string has, and what sixteen channels cannot carry.

Conventions
-----------
- Channels count from 0, as on the wire; 9, which players call 10, is the click's. That leaves 15.
- A *string* is a course of a part. Each has a channel of its own while there are enough, so that
  its cents, bends and slides are its own pitch bend.
- Beyond 15, strings of one sound (program, level, pan) whose bend is one and the same all through
  share channels, no more of them than must be. Where that is not enough, the strings that bend
  least give theirs up: they share the channel nearest in pitch, and what they lose is said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import combinations, product
from math import log2
from typing import Final

from chalkfret.files.midi.playing import Played
from chalkfret.model import Fault, Lesson, Voice, Where, fault

CLICK_CHANNEL: Final = 9
CHANNELS: Final = tuple(channel for channel in range(16) if channel != CLICK_CHANNEL)

String = tuple[int, int]  # part index, course
Tuning = tuple[float, float]  # A4 in Hz, cents


@dataclass(eq=False)
class _Use:
    """What a string asks of its channel."""

    string: String
    voice: Voice
    tunings: set[Tuning] = field(default_factory=set)
    moving: int = 0  # notes whose pitch moves
    struck: set[tuple[int, int]] = field(default_factory=set)  # MIDI tick, number

    @property
    def still(self) -> bool:
        return not self.moving and len(self.tunings) == 1

    def alike(self, other: _Use) -> bool:
        """Whether two unmoving strings are the same to a channel."""
        return self.voice == other.voice and self.tuning == other.tuning

    @property
    def tuning(self) -> Tuning:
        return min(self.tunings)


@dataclass(eq=False)
class Channel:
    """One channel: its strings, and the one tuning of a shared one (None: each note its own)."""

    number: int
    voice: Voice
    strings: tuple[String, ...]
    tuning: Tuning | None


def share_out(lesson: Lesson, played: Iterable[Played]) -> tuple[tuple[Channel, ...], list[Fault]]:
    """The channels of the strings that are played, and what could not be carried."""
    uses = _uses(lesson, played)
    groups = [[use] for use in uses]
    lost: list[Fault] = []
    if len(groups) > len(CHANNELS):
        groups = _shared(uses)
    while len(groups) > len(CHANNELS):
        lost += _give_up(groups, lesson)
    channels = tuple(
        Channel(
            number,
            group[0].voice,
            tuple(use.string for use in group),
            group[0].tuning if len(group) > 1 else None,
        )
        for number, group in zip(CHANNELS, groups, strict=False)
    )
    return channels, lost


def _uses(lesson: Lesson, played: Iterable[Played]) -> list[_Use]:
    found: dict[String, _Use] = {}
    for one in played:
        string = (one.attack.part, one.attack.note.course)
        use = found.get(string)
        if use is None:
            use = found[string] = _Use(string, _sound(lesson.parts[string[0]].voice))
        use.tunings.add((one.attack.setup.a4, round(one.cents, 3)))
        use.moving += bool(one.line)
        use.struck.add((one.on, one.number))
    return [found[string] for string in sorted(found)]


def _sound(voice: Voice) -> Voice:
    """The voice with only what a channel carries."""
    return Voice(program=voice.program, level_db=voice.level_db, pan=voice.pan)


def _shared(uses: list[_Use]) -> list[list[_Use]]:
    """Groups of strings with one sound and one unmoving bend, no more joined than must be.

    Those are joined first that never strike the same number at once, then those of one part.
    """
    groups = [[use] for use in uses]
    clashes: dict[tuple[String, String], int] = {}

    def cost(pair: tuple[list[_Use], list[_Use]]) -> tuple[int, bool, int]:
        one, other = pair
        clash = 0
        for a, b in product(one, other):
            key = (a.string, b.string)
            if key not in clashes:
                clashes[key] = len(a.struck & b.struck)
            clash += clashes[key]
        apart = one[0].string[0] != other[0].string[0]
        return clash, apart, sum(len(use.struck) for use in (*one, *other))

    while len(groups) > len(CHANNELS):
        pairs = [
            (one, other)
            for one, other in combinations(groups, 2)
            if one[0].still and other[0].still and one[0].alike(other[0])
        ]
        if not pairs:
            break
        one, other = min(pairs, key=cost)
        one += other
        groups.remove(other)
    return groups


def _give_up(groups: list[list[_Use]], lesson: Lesson) -> list[Fault]:
    """Let the group that loses least share another's channel; returns what is lost."""

    def loss(group: list[_Use]) -> tuple[int, int, int]:
        return sum(use.moving for use in group), len(group), -groups.index(group)

    shareable = [
        group for group in groups if sum(other[0].voice == group[0].voice for other in groups) > 1
    ]
    loser = min(shareable, key=loss)
    groups.remove(loser)
    hosts = [group for group in groups if group[0].voice == loser[0].voice]
    host = min(hosts, key=lambda group: (not group[0].still, _apart(group[0], loser[0])))
    host_moved = len(host) == 1 and not host[0].still
    lost = [_loss(use, host[0].tuning, lesson) for use in (*loser, *(host if host_moved else ()))]
    host += loser
    return [one for one in lost if one is not None]


def _total_cents(tuning: Tuning) -> float:
    a4, cents = tuning
    return 1200 * log2(a4 / 440) + cents


def _apart(one: _Use, other: _Use) -> float:
    return abs(_total_cents(one.tuning) - _total_cents(other.tuning))


def _loss(use: _Use, tuning: Tuning, lesson: Lesson) -> Fault | None:
    """What a string loses on a channel of this tuning."""
    part, course = use.string
    where = Where(part=lesson.parts[part].name, course=course)
    if use.moving:
        return fault("midi_bends_lost", where, notes=use.moving)
    kept = _total_cents(tuning)
    off = max((_total_cents(one) - kept for one in use.tunings), key=abs)
    return fault("midi_cents_lost", where, cents=round(off, 1)) if round(off, 1) else None


def one_at_a_time(
    lesson: Lesson, played: Iterable[Played], channels: Iterable[Channel]
) -> tuple[list[Played], list[Fault]]:
    """The notes with each number sounding once at a time on a shared channel.

    The next of the same number ends the one before, a tick early, since they may stand in two
    tracks. Two at the very same time become one, which is said.
    """
    shared = {string: one.number for one in channels if one.tuning for string in one.strings}
    sounding: dict[tuple[int, int], Played] = {}
    merged: Counter[String] = Counter()
    kept = []
    for one in played:
        string = (one.attack.part, one.attack.note.course)
        if string in shared:
            key = (shared[string], one.number)
            before = sounding.get(key)
            if before is not None and before.on == one.on:
                before.off = max(before.off, one.off)
                merged[string] += 1
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
