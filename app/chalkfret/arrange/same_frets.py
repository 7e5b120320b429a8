"""The same frets on another setup: what sounds then, and whether the riff is still itself.

Conventions
-----------
- Strings keep their numbers, from the treble side. A note whose string or fret the setup has not is
  *missing*.
- Shifts are semitones by the names of notes; dead notes have none. A shape is what is struck
  together, two notes or more; it changes where its notes do not all shift alike.
- A riff is *whole* where everything shifts alike, *in key* where the notes differ but all fit the
  section's scale, moved by the shift that most notes have; else it is *broken*.
"""

from __future__ import annotations

from collections import Counter
from enum import StrEnum

from msgspec import Struct

from chalkfret.model.bars import Note, Notes
from chalkfret.model.lesson import Lesson, setup_in
from chalkfret.model.marks import Sign
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.scales import scale_notes
from chalkfret.theory.sounding import named_pitch


class Verdict(StrEnum):
    """Whether the same frets still give the riff."""

    SAME = "same"  # nothing differs
    WHOLE = "whole"
    IN_KEY = "in_key"
    BROKEN = "broken"
    SILENT = "silent"  # the section has no pitches to judge by


class Changed(Struct, frozen=True):
    """A note that does not shift with most others, or (``shift`` None) is missing.

    ``pitch`` is its MIDI number as written; None of a dead note.
    """

    bar: int
    onset: int
    course: int
    shift: int | None
    pitch: int | None


class ChangedShape(Struct, frozen=True):
    """Notes struck together: their MIDI numbers, low to high, as written and as they sound."""

    bar: int
    onset: int
    before: tuple[int, ...]
    after: tuple[int, ...]


class SectionFrets(Struct, frozen=True):
    """What the same frets give in a section; ``shift`` is that of most notes."""

    section: int
    verdict: Verdict
    shift: int
    notes: int  # with a pitch
    changed: tuple[Changed, ...]
    shapes: tuple[ChangedShape, ...]


class SameFrets(Struct, frozen=True):
    """The same frets on another setup: its notes, bar by bar, and what they give."""

    setup: Setup
    notes: tuple[tuple[int, int, Notes], ...]  # section, bar and the notes that can be played
    sections: tuple[SectionFrets, ...]

    @property
    def missing(self) -> int:
        """How many notes cannot be played at all."""
        return sum(one.shift is None for part in self.sections for one in part.changed)

    @property
    def shift(self) -> int | None:
        """The shift of the whole part, where nothing is missing and all shifts alike."""
        judged = [one for one in self.sections if one.verdict is not Verdict.SILENT]
        shifts = {one.shift for one in judged}
        whole = all(one.verdict in (Verdict.SAME, Verdict.WHOLE) for one in judged)
        return shifts.pop() if whole and len(shifts) == 1 and not self.missing else None


def same_frets(lesson: Lesson, part: int, setup: Setup) -> SameFrets:
    """What a part's frets give on another setup."""
    notes: list[tuple[int, int, Notes]] = []
    found: list[SectionFrets] = []
    for index, section in enumerate(lesson.sections):
        before = setup_in(section, lesson.parts[part])
        for at, bar in enumerate(section.bars):
            row = tuple(note for note in bar.notes[part] if _has(setup, note))
            notes.append((index, at, row))
        found.append(_section(section, index, part, before, setup))
    return SameFrets(setup, tuple(notes), tuple(found))


def _has(setup: Setup, note: Note) -> bool:
    if note.course > len(setup.courses):
        return False
    return note.fret <= setup.fret_count - setup.capo_fret(note.course)


def _section(section: Section, index: int, part: int, before: Setup, after: Setup) -> SectionFrets:
    shifts: dict[tuple[int, int, int], tuple[int | None, int | None]] = {}  # and the pitch
    shapes: dict[tuple[int, int], list[tuple[int, int]]] = {}
    sounds: list[int] = []
    for at, bar in enumerate(section.bars):
        for note in bar.notes[part]:
            place = at, note.onset, note.course
            if not _has(after, note):
                shifts[place] = None, None if note.has(Sign.DEAD) else named_pitch(before, note)
            elif not note.has(Sign.DEAD):
                was, now = named_pitch(before, note), named_pitch(after, note)
                shifts[place] = now - was, was
                shapes.setdefault((at, note.onset), []).append((was, now))
                sounds.append(now)
    counted = Counter(shift for shift, _ in shifts.values() if shift is not None)
    most = max(counted, key=lambda one: (counted[one], -abs(one)), default=0)
    changed = tuple(
        Changed(*place, shift, pitch) for place, (shift, pitch) in shifts.items() if shift != most
    )
    verdict = _verdict(section.head.key, sounds, most, changed)
    return SectionFrets(
        index, verdict, most, len(sounds), changed,
        tuple(_shapes(shapes)),
    )  # fmt: skip


def _verdict(
    key: Key | None, sounds: list[int], shift: int, changed: tuple[Changed, ...]
) -> Verdict:
    if not sounds and not changed:
        return Verdict.SILENT
    if not changed:
        return Verdict.WHOLE if shift else Verdict.SAME
    missing = any(one.shift is None for one in changed)
    if key is None or missing:
        return Verdict.BROKEN
    scale = {(pitch_class(name) + shift) % 12 for name in scale_notes(key)}
    return Verdict.IN_KEY if all(sound % 12 in scale for sound in sounds) else Verdict.BROKEN


def _shapes(shapes: dict[tuple[int, int], list[tuple[int, int]]]) -> list[ChangedShape]:
    found = []
    for (bar, onset), pairs in shapes.items():
        if len({now - was for was, now in pairs}) > 1:
            before, after = sorted(was for was, _ in pairs), sorted(now for _, now in pairs)
            found.append(ChangedShape(bar, onset, tuple(before), tuple(after)))
    return found
