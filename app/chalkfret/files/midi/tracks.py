"""The tracks of the parts and of the click.

Conventions
-----------
- A channel is set up at tick 0: program, level, pan, range of the pitch bend, and where A4 is not
  440 Hz its tuning (RPN 0, 1 and 2); a section that retunes a string to another A4 sets it anew.
- Pitch bend counts from -8192 to 8191 over the channel's range.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import log2
from typing import Final

from chalkfret.files.midi.channels import CLICK_CHANNEL, Channel, string_of
from chalkfret.files.midi.curves import steps
from chalkfret.files.midi.grid import Grid
from chalkfret.files.midi.playing import Played
from chalkfret.files.midi.smf import (
    CONTROL,
    META,
    OFF,
    ON,
    Event,
    controller,
    message,
    meta,
    note_off,
    note_on,
    registered,
)
from chalkfret.model import QUARTER, Part, Voice
from chalkfret.timeline.attacks import Attack
from chalkfret.timeline.clicks import Accent, CountIn, bar_clicks

# Semitones of the bend range: the least that carries a channel. Range 12 resolves 0.15 cent.
_RANGES: Final = (2, 12, 24, 48)
_RANGE_RPN, _FINE_RPN, _COARSE_RPN = 0, 1, 2
_LEVEL, _PAN = 7, 10
_FULL_LEVEL: Final = 100  # of 127, at 0 dB
_WHEEL: Final = 8192

# General MIDI 1 percussion: wood blocks. The bar's is the high one.
_HIGH_BLOCK, _LOW_BLOCK = 76, 77
_CLICKS: Final = {
    Accent.BAR: (_HIGH_BLOCK, 120),
    Accent.BEAT: (_LOW_BLOCK, 100),
    Accent.PULSE: (_LOW_BLOCK, 64),
}
_CLICK_TICKS: Final = QUARTER // 8


def part_tracks(
    parts: Sequence[tuple[int, Part]],
    played: Sequence[Played],
    channels: Sequence[Channel],
    grid: Grid,
) -> list[list[Event]]:
    """A track for each of the parts (index in the lesson, part)."""
    by_part: dict[int, list[Event]] = {
        index: [Event(0, META, meta("track_name", name=part.name))] for index, part in parts
    }
    of_string = {string: channel for channel in channels for string in channel.strings}
    notes: dict[int, list[Played]] = defaultdict(list)
    for one in played:
        notes[of_string[string_of(one)].number].append(one)
    for channel in channels:
        for part, event in _channel(channel, notes[channel.number], grid):
            by_part[part].append(event)
    return list(by_part.values())


def _channel(channel: Channel, notes: Sequence[Played], grid: Grid) -> Iterator[tuple[int, Event]]:
    """The events of one channel, each with the index of the part whose track it is in."""
    number, shared = channel.number, channel.tuning
    reach = _range(notes) if shared is None else _range_of(abs(shared[1]))
    part = channel.strings[0][0]
    for data in (*_voice(number, channel.voice), *registered(number, _RANGE_RPN, reach)):
        yield part, Event(0, CONTROL, data)
    a4, wheel = 440.0, 0
    before: Attack | None = None
    for one in notes:
        part, on = one.attack.part, one.on
        if one.attack is before and shared is None:  # another string of the course moves with it
            yield part, Event(on, ON, note_on(number, one.number, one.velocity))
            yield part, Event(one.off, OFF, note_off(number, one.number))
            continue
        before = one.attack
        wanted = one.attack.setup.a4 if shared is None else shared[0]
        if wanted != a4:
            first = a4 == 440.0 and one is notes[0]
            a4 = wanted
            for data in _tuning(number, a4):
                yield part, Event(0 if first else on, CONTROL, data)
        line = one.line if shared is None else ()
        cents = one.cents if shared is None else shared[1]
        turned = _bend(cents + (line[0][1] if line else 0), reach)
        if turned != wheel:
            wheel = turned
            yield part, Event(on, CONTROL, pitch_wheel(number, wheel))
        yield part, Event(on, ON, note_on(number, one.number, one.velocity))
        if line:
            for tick, turned in _moves(one, cents, reach, grid):
                if turned != wheel:
                    wheel = turned
                    yield part, Event(tick, CONTROL, pitch_wheel(number, wheel))
        yield part, Event(one.off, OFF, note_off(number, one.number))


def _moves(one: Played, cents: float, reach: int, grid: Grid) -> Iterator[tuple[int, int]]:
    """MIDI tick and wheel of a moving pitch, behind its attack and before its end."""
    for offset, moved in steps(one.line):
        tick = grid.at(one.attack.tick + offset)
        if one.on < tick < one.off:
            yield tick, _bend(cents + moved, reach)


def _bend(cents: float, reach: int) -> int:
    turned = round(cents / (100 * reach) * _WHEEL)
    return min(max(turned, -_WHEEL), _WHEEL - 1)


@lru_cache(maxsize=8192)
def pitch_wheel(channel: int, value: int) -> bytes:
    """A pitch bend message, -8192 to 8191."""
    return message("pitchwheel", channel, pitch=value)


def _range(notes: Sequence[Played]) -> int:
    """The range in semitones that carries these notes' bends."""
    return _range_of(
        max(
            max(abs(one.cents + cents) for _, cents in one.line) if one.line else abs(one.cents)
            for one in notes
        )
    )


def _range_of(cents: float) -> int:
    return next((reach for reach in _RANGES if cents <= 100 * reach), _RANGES[-1])


def _voice(channel: int, voice: Voice) -> tuple[bytes, ...]:
    """Program, level (GM2's curve: 40 log10 of the controller's share) and pan."""
    level = min(127, max(1, round(_FULL_LEVEL * 10 ** (voice.level_db / 40))))
    return (
        message("program_change", channel, program=voice.program),
        controller(channel, _LEVEL, level),
        controller(channel, _PAN, min(127, round(64 + 63.5 * voice.pan))),
    )


def _tuning(channel: int, a4: float) -> tuple[bytes, ...]:
    """Channel coarse and fine tuning (MIDI 1.0, RPN 2 and 1) for this A4."""
    semitones = 12 * log2(a4 / 440)
    whole = round(semitones)
    fine = min(16_383, round(_WHEEL + (semitones - whole) * _WHEEL))
    return (
        *registered(channel, _COARSE_RPN, 64 + whole),
        *registered(channel, _FINE_RPN, fine >> 7, fine & 0x7F),
    )


def click_track(grid: Grid, counted: CountIn, *, through: bool) -> list[Event]:
    """The click: the count-in, and with ``through`` all bars."""
    events = [Event(0, META, meta("track_name", name="Click"))]
    for at, accent in counted.clicks:
        events += _click(round(at), accent)
    if through:
        for section in grid.sections:
            unit = section.timed.section.head.tempo.unit.ticks
            for bar, head in enumerate(section.timed.clock.heads):
                for tick, accent in bar_clicks(head, unit):
                    events += _click(section.onset(bar, tick), accent)
    return events


def _click(tick: int, accent: Accent) -> tuple[Event, Event]:
    note, velocity = _CLICKS[accent]
    return (
        Event(tick, ON, note_on(CLICK_CHANNEL, note, velocity)),
        Event(tick + _CLICK_TICKS, OFF, note_off(CLICK_CHANNEL, note)),
    )
