"""What is counted of the notes before any tonic or mode is thought of.

Conventions
-----------
- A ``Heard`` note is a MIDI number, an onset and a length in any one unit, a metric strength (4 the
  bar line, 3 the middle of the bar, 2 another beat, 1 half a beat, 0 weaker), its bar, and whether
  it is an open string of the lowest course. Notes
  stand in order of onset, those struck together from the lowest.
- Every count is a row of twelve figures, one a pitch class from C, and lies between 0 and 1.
- A long note counts four times the usual one at most: a held chord says no more than a note that
  is struck and heard.

What is measured and what is reasoned
-------------------------------------
That length, the first strong note and (of a whole tune) the last one tell the tonic is measured on
labelled tunes (``tests/reference/modes``). That the bass on strong beats and a repeated
low open string do, that the middle one of three notes a semitone apart is only passed through, and
that octave and fifth of a power chord are the shadow of its root (the hand does not ask the mode
whether it has that fifth), is reasoned from what guitar riffs are like: tunes for one voice cannot
show it. A loop has no last
note; the last one counts only where the caller says that the music ends there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import groupby
from typing import Final, NamedTuple

Row = list[float]

STRONG: Final = 3  # the least strength of a strong beat
_LONGEST: Final = 4.0  # times the middle one of the notes' lengths
_PASSED: Final = 0.25  # what a note that is passed through counts
_SHADOWS: Final = (0, 7)  # semitones of a power chord's upper notes above its root
_SHADOW: Final = 0.2  # what they count
_PRESENT: Final = 16.0  # one part in sixteen of the whole makes a note fully present


class Heard(NamedTuple):
    """One note as it counts here."""

    midi: int
    onset: int
    length: int
    strength: int
    bar: int = 0
    low_open: bool = False


class Counts(NamedTuple):
    """The evidence: what share of the music each pitch class has, in six ways of counting."""

    notes: int
    share: Row  # of the length that sounds
    present: Row  # 1: surely there, 0: not at all
    bass: Row  # of the lowest notes struck on strong beats
    first: Row  # the lowest note of the first bar line
    last: Row  # the lowest note struck last, where the music ends there
    low_open: Row  # of all notes: the lowest course, open, where it comes again


def count(notes: Sequence[Heard], ended: bool) -> Counts:
    """The counts of at least one note."""
    lengths = sorted([note.length for note in notes])
    most = _LONGEST * lengths[len(lengths) // 2]
    share, low_open = [0.0] * 12, [0.0] * 12
    last = len(notes) - 1
    root = root_onset = -1
    for at, (midi, onset, length, strength, _bar, is_open) in enumerate(notes):
        weight = min(most, length)
        if onset == root_onset:
            if (midi - root) % 12 in _SHADOWS:
                weight *= _SHADOW
        else:
            root, root_onset = midi, onset
            if strength < STRONG and 0 < at < last:
                step = midi - notes[at - 1][0]
                if (step == 1 or step == -1) and notes[at + 1][0] - midi == step:
                    weight *= _PASSED
        pitch = midi % 12
        share[pitch] += weight
        if is_open:
            low_open[pitch] += 1
    share = _of_one(share)
    return Counts(
        len(notes),
        share,
        [min(1.0, _PRESENT * one) for one in share],
        *_ends(notes, ended),
        [one / len(notes) if one > 1 else 0.0 for one in low_open],
    )


def _of_one(row: Row) -> Row:
    whole = sum(row)
    return [one / whole for one in row] if whole else row


def _ends(notes: Sequence[Heard], ended: bool) -> tuple[Row, Row, Row]:
    """Bass, first and last."""
    bass, first, last = [0.0] * 12, [0.0] * 12, [0.0] * 12
    begun = False
    for _onset, pitch, strength in lowest_struck(notes):
        bass[pitch] += 1.0
        if not begun and strength > STRONG:
            first[pitch], begun = 1.0, True
    if not begun:
        first[notes[0].midi % 12] = 1.0
    if ended:
        onset = notes[-1].onset
        end = [note.midi for note in notes[-8:] if note.onset == onset]
        last[min(end) % 12] = 1.0
    return _of_one(bass), first, last


def lowest_struck(notes: Sequence[Heard]) -> list[tuple[int, int, int]]:
    """Onset, pitch class and strength of the lowest note struck on each strong beat."""
    found: list[tuple[int, int, int]] = []
    onset, low = -1, 0
    for note in notes:
        if note[3] < STRONG:
            continue
        if note[1] != onset or not found:
            onset, low = note[1], note[0]
            found.append((onset, low % 12, note[3]))
        elif note[0] < low:
            low = note[0]
            found[-1] = (onset, low % 12, note[3])
    return found


def lowest_by_bar(notes: Sequence[Heard]) -> Counter[int]:
    """For how many bars each pitch class is that of the lowest note struck on a strong beat."""
    bars: Counter[int] = Counter()
    strong = (note for note in notes if note.strength >= STRONG)
    for _bar, run in groupby(strong, key=lambda note: note.bar):
        bars[min(note.midi for note in run) % 12] += 1
    return bars
