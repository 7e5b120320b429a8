"""The keys that put marks on notes that are written: guitar after guitar, bar after bar.

One mark on notes that follow one another in a bar is one selection. Figures that no key makes (a
bend of one's own, a harmonic over another fret) are typed in the panel; such notes are counted.
This is an upper bound: whoever marks a bar before writing it again marks it once.
"""

from __future__ import annotations

from dataclasses import dataclass

from chalkfret.desk.riffs.columns import step_at
from chalkfret.desk.riffs.mark_cycles import FINGERS, SLIDES, TREMOLOS, bends
from chalkfret.model import (
    ArtificialHarmonic,
    Lesson,
    Mark,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Trill,
    Vibrato,
)

_KEYS: dict[Mark, str] = {
    Sign.HAMMER_ON: "H",
    Sign.PULL_OFF: "P",
    Slide(SlideWay.FROM_NOTE): "S",
    Vibrato(): "V",
    Vibrato(wide=True): "Shift+V",
    Sign.DEAD: "X",
    Sign.GHOST: "G",
    Sign.PALM_MUTE: "M",
    Sign.LET_RING: "L",
    Sign.TAP: "T",
    Sign.ACCENT: "A",
    Sign.STACCATO: "Shift+A",
    Sign.DOWN_STROKE: "D",
    Sign.UP_STROKE: "U",
    ArtificialHarmonic(): "Shift+N",
}


@dataclass
class Marks:
    """The keys, how many marks they put, and how many are left for the panel."""

    keys: list[str]
    put: int = 0
    left: int = 0


def mark_keys(note: Note, mark: Mark) -> list[str] | None:
    """The keys that put one mark on a note under the cursor; None: its figures are typed."""
    if mark in _KEYS:
        return [_KEYS[mark]]
    for key, kinds in (("B", bends(note)), ("Shift+S", SLIDES), ("Shift+T", TREMOLOS),
                       ("F", FINGERS)):  # fmt: skip
        if mark in kinds:
            return [key] * (list(kinds).index(mark) + 1)
    if isinstance(mark, NaturalHarmonic):
        return ["N"] if mark == NaturalHarmonic(float(note.fret or 12)) else None
    if isinstance(mark, Trill) and 1 <= mark.fret - note.fret <= 4:
        return ["R"] * (mark.fret - note.fret)
    return None


def plan_marks(now: Lesson, wanted: Lesson) -> Marks:
    """The keys for all marks of ``wanted`` in a lesson with its notes, ties aside."""
    found = Marks([])
    for part in range(len(wanted.parts)):
        found.keys += ["Escape", "Ctrl+Home", *("Ctrl+Up",) * len(wanted.parts)]
        found.keys += ["Ctrl+Down"] * part
        walk = _Walk(now, part, found.keys)
        for section in range(len(wanted.sections)):
            for bar, one in enumerate(wanted.sections[section].bars):
                _mark_bar(walk, found, section, bar, one.notes[part])
    return found


def _mark_bar(walk: _Walk, found: Marks, section: int, bar: int, notes: tuple[Note, ...]) -> None:
    kinds = {mark: None for note in notes for mark in note.marks if mark is not Sign.TIE}
    for mark in kinds:
        for run in _runs(notes, mark):
            keys = mark_keys(run[0], mark)
            if keys is None:
                found.left += len(run)
                continue
            found.put += len(run)
            low, high = min(n.course for n in run), max(n.course for n in run)
            walk.go(section, bar, run[0].onset, low)
            walk.select(run[-1].onset, high)
            found.keys += keys


def _runs(notes: tuple[Note, ...], mark: Mark) -> list[list[Note]]:
    """Notes in a row that all have a mark; marks of several kinds go note by note."""
    runs: list[list[Note]] = []
    onsets = sorted({note.onset for note in notes})
    open_run: list[Note] | None = None
    for onset in onsets:
        chord = [note for note in notes if note.onset == onset]
        marked = [note for note in chord if mark in note.marks]
        if len(marked) == len(chord) and mark in _KEYS:
            if open_run is None:
                open_run = []
                runs.append(open_run)
            open_run += marked
        else:
            open_run = None
            runs += [[note] for note in marked]
    return runs


class _Walk:
    """Where the cursor is on its way through one guitar."""

    def __init__(self, lesson: Lesson, part: int, keys: list[str]) -> None:
        self._lesson, self._part, self._keys = lesson, part, keys
        self._section = self._bar = self._step = 0
        self._course: int | None = None  # not known before the first move

    def _step_of(self, onset: int) -> int:
        return step_at(self._lesson.sections[self._section].bars[self._bar].head, onset)

    def go(self, section: int, bar: int, onset: int, course: int) -> None:
        """To a cell, by the longest strides."""
        keys, selected = self._keys, len(self._keys)
        if section > self._section:
            keys += ["PgDown"] * (section - self._section)
            self._section, self._bar, self._step = section, 0, 0
        if bar > self._bar:
            keys += ["Ctrl+Right"] * (bar - self._bar)
            self._bar, self._step = bar, 0
        step = self._step_of(onset)
        keys += ["Right" if step > self._step else "Left"] * abs(step - self._step)
        self._step = step
        if self._course is None or abs(course - self._course) > 2:
            keys += ["Q", str(course)] if course < 10 else ["Q", f"Ctrl+{course - 10}"]
        else:
            keys += ["Down" if course > self._course else "Up"] * abs(course - self._course)
        self._course = course
        if len(keys) == selected:
            keys.append("Escape")  # nothing is selected any more

    def select(self, onset: int, course: int) -> None:
        """From the cell where the cursor is to another one of the bar."""
        step = self._step_of(onset)
        assert self._course is not None
        self._keys += ["Shift+Right"] * (step - self._step)
        self._keys += ["Shift+Down"] * (course - self._course)
        self._step, self._course = step, course
