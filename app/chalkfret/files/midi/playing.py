"""How an attack is played in a MIDI file: number, moving pitch, loudness and length.

Conventions
-----------
- The note number is the pitch at the attack (cents, capo, harmonic and pre-bend included) rounded
  to a semitone; what is left over is pitch bend.
- Velocities and shares of length are this program's choice: staccato sounds half, palm mute seven
  tenths, a dead note at most an eighth of a quarter at the pitch of its fret, and a ringing note
  until the next on its string, two whole notes long at most, within its section.
- A string sounds one note at a time: the next attack on a course ends what rings there.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

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
    """An attack as it is written: MIDI ticks, note number, velocity, and its pitch in cents.

    ``cents`` is how far the fretted pitch lies from the number; ``line`` moves it further.
    """

    attack: Attack
    on: int
    off: int
    number: int
    cents: float
    velocity: int
    line: Line


def play(
    lesson: Lesson, grid: Grid, attacks: Iterable[Attack], parts: frozenset[str]
) -> tuple[list[Played], list[Fault]]:
    """The attacks of these parts (ids) as written, in order of time, and what cannot be."""
    wanted = {index for index, part in enumerate(lesson.parts) if part.id in parts}
    sounds: dict[tuple[Note, int], tuple[int, float, int]] = {}
    found: list[Played] = []
    remarks: list[Fault] = []
    next_on: dict[tuple[int, int], Played] = {}
    for attack in reversed([one for one in attacks if one.part in wanted]):
        note = attack.note
        key = (note, id(attack.setup))
        sound = sounds.get(key)
        if sound is None:
            sound = sounds[key] = _sound(attack.setup, note)
        number, cents, velocity = sound
        if number not in NUMBERS:
            remarks.append(_out_of_range(lesson, attack, number))
            continue
        string = (attack.part, note.course)
        after = next_on.get(string)
        one = Played(
            attack, 0, 0, number, cents, velocity, pitch_line(attack, _reached(attack, after))
        )
        one.on = grid.sections[attack.section].onset(attack.played, attack.onset)
        one.off = _off(one, after, grid)
        next_on[string] = one
        found.append(one)
    found.reverse()
    remarks.reverse()
    return found, remarks


def _sound(setup: Setup, note: Note) -> tuple[int, float, int]:
    """Note number, cents of the fretted pitch above it, and velocity."""
    pitch = attack_pitch(setup, note)
    number = round(pitch)
    if not note.marks:
        return number, (pitch - number) * 100, VELOCITY
    bend = note.mark(Bend)
    start = 0 if bend is None else bend.curve[0].cents
    loud = float(VELOCITY)
    for mark in note.marks:
        if isinstance(mark, Sign):
            loud *= _SOFTER.get(mark, 1.0)
    if _REACHED in note.marks:
        loud *= 0.85
    return number, (pitch - number) * 100 - start, min(127, round(loud))


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


def _off(one: Played, after: Played | None, grid: Grid) -> int:
    """The MIDI tick at which a note ends."""
    attack = one.attack
    off = grid.ending(attack.end_tick)
    if attack.note.marks or attack.tied:
        off = _by_marks(one, off, grid)
    if after is not None:
        off = min(off, after.on)
    return max(off, one.on + 1)


def _by_marks(one: Played, off: int, grid: Grid) -> int:
    note = one.attack.note
    if note.has(Sign.DEAD):
        return min(off, one.on + _DEAD_TICKS)
    if note.has(Sign.STACCATO):
        return one.on + round((off - one.on) * _STACCATO)
    if note.has(Sign.PALM_MUTE):
        return one.on + round((off - one.on) * _PALM_MUTE)
    if any(each.has(Sign.LET_RING) for each in (note, *one.attack.tied)):
        return max(off, min(one.on + _RING_TICKS, grid.sections[one.attack.section].end))
    return off
