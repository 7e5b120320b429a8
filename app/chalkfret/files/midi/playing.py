"""How an attack is played in a MIDI file: number, moving pitch, loudness and length.

Conventions
-----------
- The note number is the pitch at the attack (cents, capo, harmonic and pre-bend included) rounded
  to a semitone; what is left over is pitch bend.
- Velocities and shares of length are this program's choice: staccato sounds half, palm mute seven
  tenths, a dead note at most an eighth of a quarter at the pitch of its fret, and a ringing note
  until the next on its string, two whole notes long at most, within its section.
- A course sounds all its strings, each at its own pitch. Together they are as loud as one: n notes
  carry n times the power of one, and General MIDI's loudness is 40 log10 of the velocity's share.
- A string sounds one note at a time: the next attack on a course ends what rings there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, NamedTuple

from chalkfret.files.midi.curves import Line, pitch_line
from chalkfret.files.midi.grid import Grid
from chalkfret.model import (
    QUARTER,
    Bend,
    Fault,
    Lesson,
    Note,
    Setup,
    Sign,
    Slide,
    SlideWay,
    Where,
    fault,
)
from chalkfret.theory.sounding import attack_pitch
from chalkfret.timeline.attacks import Attack

VELOCITY: Final = 92
_SOFTER: Final = {
    Sign.GHOST: 0.5,
    Sign.DEAD: 0.7,
    Sign.HAMMER_ON: 0.85,
    Sign.PULL_OFF: 0.8,
    Sign.TAP: 0.9,
    Sign.PALM_MUTE: 0.9,
    Sign.ACCENT: 1.25,
}
_REACHED: Final = Slide(SlideWay.FROM_NOTE)
_STACCATO: Final = 0.5
_PALM_MUTE: Final = 0.7
_DEAD_TICKS: Final = QUARTER // 8
_RING_TICKS: Final = 8 * QUARTER
NUMBERS: Final = range(128)


@dataclass(slots=True)
class Played:
    """An attack of one string as it is written: MIDI ticks, number, velocity, pitch in cents.

    ``string`` counts from 0 in the course. ``cents`` is how far the fretted pitch lies from the
    number; ``line`` moves it further, the same for all strings of a course.
    """

    attack: Attack
    string: int
    on: int
    off: int
    number: int
    cents: float
    velocity: int
    line: Line


class _Sound(NamedTuple):
    """What one string of a course sounds when a note is struck."""

    string: int
    number: int
    cents: float
    velocity: int


def play(
    lesson: Lesson, grid: Grid, attacks: Iterable[Attack], parts: frozenset[str]
) -> tuple[list[Played], list[Fault]]:
    """The attacks of these parts (ids) as written, in order of time, and what cannot be.

    Strings of a course follow each other, the first one first.
    """
    wanted = {index for index, part in enumerate(lesson.parts) if part.id in parts}
    sounds: dict[tuple[Note, int], tuple[_Sound, ...]] = {}
    found: list[Played] = []
    remarks: list[Fault] = []
    next_on: dict[tuple[int, int], Played] = {}
    for attack in reversed([one for one in attacks if one.part in wanted]):
        note = attack.note
        key = (note, id(attack.setup))
        strings = sounds.get(key)
        if strings is None:
            strings = sounds[key] = _sounds(attack.setup, note)
        course = (attack.part, note.course)
        after = next_on.get(course)
        line = pitch_line(attack, _reached(attack, after))
        on = grid.sections[attack.section].onset(attack.played, attack.onset)
        off = _off(attack, on, after, grid)
        for string, number, cents, velocity in strings:
            if number not in NUMBERS:
                remarks.append(_out_of_range(lesson, attack, number))
                continue
            one = Played(attack, string, on, off, number, cents, velocity, line)
            next_on[course] = one
            found.append(one)
    found.reverse()
    remarks.reverse()
    return found, remarks


def _sounds(setup: Setup, note: Note) -> tuple[_Sound, ...]:
    """Number, cents of the fretted pitch above it and velocity of each string, the last first."""
    strings = len(setup.course(note.course).strings)
    loud = VELOCITY * strings**-0.25
    bend = note.mark(Bend)
    start = 0 if bend is None else bend.curve[0].cents
    for mark in note.marks:
        if isinstance(mark, Sign):
            loud *= _SOFTER.get(mark, 1.0)
    if _REACHED in note.marks:
        loud *= 0.85
    velocity = min(127, round(loud))
    found = []
    for string in reversed(range(strings)):
        pitch = attack_pitch(setup, note, string)
        number = round(pitch)
        found.append(_Sound(string, number, (pitch - number) * 100 - start, velocity))
    return tuple(found)


def _out_of_range(lesson: Lesson, attack: Attack, number: int) -> Fault:
    where = Where(
        section=lesson.sections[attack.section].head.letter,
        bar=attack.bar + 1,
        part=lesson.parts[attack.part].name,
        course=attack.note.course,
    )
    return fault("midi_pitch_range", where, number=number, most=NUMBERS[-1])


def _reached(attack: Attack, after: Played | None) -> Note | None:
    """The note to which an attack slides."""
    if after is None or attack.end_tick != after.attack.tick:
        return None
    return after.attack.note if _REACHED in after.attack.note.marks else None


def _off(attack: Attack, on: int, after: Played | None, grid: Grid) -> int:
    """The MIDI tick at which a note ends."""
    off = grid.ending(attack.end_tick)
    if attack.note.marks or attack.tied:
        off = _by_marks(attack, on, off, grid)
    if after is not None:
        off = min(off, after.on)
    return max(off, on + 1)


def _by_marks(attack: Attack, on: int, off: int, grid: Grid) -> int:
    note = attack.note
    if note.has(Sign.DEAD):
        return min(off, on + _DEAD_TICKS)
    if note.has(Sign.STACCATO):
        return on + round((off - on) * _STACCATO)
    if note.has(Sign.PALM_MUTE):
        return on + round((off - on) * _PALM_MUTE)
    if any(each.has(Sign.LET_RING) for each in (note, *attack.tied)):
        return max(off, min(on + _RING_TICKS, grid.sections[attack.section].end))
    return off
