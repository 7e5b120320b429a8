"""Ranked candidates of tonic and mode, each with its reasons.

Conventions
-----------
- Notes are ``evidence.Heard``; a candidate is a ``Key`` with a mode. Scores are logarithms of
  likelihood (``weights``), the best first.
- ``ended`` says that the last note is where the music ends; a riff that loops has no such note.
- Candidates *tie* where the notes do not tell them apart: the first and another one are nearly as
  likely, or have the same tonic, fit every note, and differ only in degrees that are not played.
- Reasons are values with their figures; ``words.reasons`` makes sentences of them. Which kind of
  evidence is measured and which is reasoned stands at the head of ``evidence``.
- Two bars suffice; fewer than three notes, or a single pitch, give no candidate.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from math import sqrt
from typing import Final

from msgspec import Struct

from chalkfret.model.pitch import alteration_of
from chalkfret.model.section import Key, Mode
from chalkfret.theory.mode_finding.evidence import Counts, Heard, count
from chalkfret.theory.mode_finding.reasons import Reason, reasons
from chalkfret.theory.mode_finding.weights import (
    BASS,
    FIRST,
    LAST,
    LOW_OPEN,
    MOST_NOTES,
    PRESENT,
    SHARE,
    USUAL,
    Role,
)
from chalkfret.theory.scales import degree_at, mode_intervals, scale_notes

_NEAR: Final = 0.4  # in logarithms: three to two
_LEAST_NOTES: Final = 3
_SHOWN: Final = 3
_BY_DEGREE: Final = {
    "1": Role.HOME,
    "2": Role.SECOND,
    "3": Role.THIRD,
    "4": Role.FOURTH,
    "5": Role.ALTERED_FIFTH,
    "6": Role.SIXTH,
    "7": Role.SEVENTH,
}


class Candidate(Struct, frozen=True):
    """A tonic and mode that the notes allow, how likely it is, and why."""

    key: Key
    score: float
    reasons: tuple[Reason, ...]


class Finding(Struct, frozen=True):
    """The candidates, the best first; the first ``tied`` of them the notes do not tell apart."""

    candidates: tuple[Candidate, ...] = ()
    tied: int = 0


@lru_cache(maxsize=64)
def roles(mode: Mode) -> tuple[Role, ...]:
    """The role of the note at each of the twelve semitones above the tonic."""
    found: list[Role] = []
    for semitones, degree in enumerate(degree_at(Key("C", mode))):
        if degree is None:
            found.append(Role.LEADING if semitones == 11 else Role.OUTSIDE)
        elif semitones in (3, 4, 7):
            found.append(Role.FIFTH if semitones == 7 else Role.THIRD)
        else:
            found.append(_BY_DEGREE[degree[-1]])
    return tuple(found)


def scores(counts: Counts, usual: Mapping[Mode, float] = USUAL) -> list[tuple[float, int, Mode]]:
    """Score, tonic (a pitch class) and mode of every candidate, the best first."""
    weight = sqrt(min(counts.notes, MOST_NOTES))
    heard: list[tuple[int, list[float]]] = []
    for pitch, present in enumerate(counts.present):
        if not (present or counts.bass[pitch] or counts.first[pitch] or counts.last[pitch]):
            continue
        share = counts.share[pitch] * weight
        row = [share * one + present * two for one, two in zip(SHARE, PRESENT, strict=True)]
        for place, here in (
            (BASS, counts.bass), (FIRST, counts.first),
            (LAST, counts.last), (LOW_OPEN, counts.low_open),
        ):  # fmt: skip
            row[Role.HOME] += place.home * here[pitch]
            row[Role.FIFTH] += place.fifth * here[pitch]
        heard.append((pitch, row))
    found: list[tuple[float, int, Mode]] = []
    modes = [(mode, bias, roles(mode)) for mode, bias in usual.items()]
    for tonic in range(12):
        above = [((pitch - tonic) % 12, row) for pitch, row in heard]
        for mode, score, role in modes:
            for semitones, row in above:
                score += row[role[semitones]]
            found.append((score, tonic, mode))
    found.sort(key=lambda one: -one[0])
    return found


def candidates(notes: Sequence[Heard], ended: bool = False) -> Finding:
    """The three likeliest tonics and modes, or more where more of them tie."""
    pitches = {note.midi % 12 for note in notes}
    if len(notes) < _LEAST_NOTES or len(pitches) < 2:
        return Finding()
    ranked = scores(count(notes, ended))
    best = ranked[0]
    ties = [one for one in ranked[1 : 2 * _SHOWN] if _tie(best, one, pitches)]
    first = [best, *ties]
    shown = first + [one for one in ranked[:_SHOWN] if one not in first][: _SHOWN - len(first)]
    tied = len(first) if ties else 0
    return Finding(
        tuple(
            Candidate(key, score, reasons(notes, key, shown_keys, ended))
            for (score, _tonic, _mode), key, shown_keys in _with_keys(shown)
        ),
        tied,
    )


def _with_keys(
    shown: list[tuple[float, int, Mode]],
) -> list[tuple[tuple[float, int, Mode], Key, tuple[Key, ...]]]:
    """Each candidate with its key and the keys of the others."""
    keys = [spelled(tonic, mode) for _score, tonic, mode in shown]
    return [
        (one, key, tuple(other for other in keys if other is not key))
        for one, key in zip(shown, keys, strict=True)
    ]


def _tie(best: tuple[float, int, Mode], other: tuple[float, int, Mode], pitches: set[int]) -> bool:
    if best[0] - other[0] < _NEAR:
        return True
    same = best[1] == other[1] and len(mode_intervals(best[2])) == len(mode_intervals(other[2]))
    return same and all(_fits(one[1], one[2], pitches) for one in (best, other))


def _fits(tonic: int, mode: Mode, pitches: set[int]) -> bool:
    scale = mode_intervals(mode)
    return all((pitch - tonic) % 12 in scale for pitch in pitches)


@lru_cache(maxsize=1024)
def spelled(tonic: int, mode: Mode) -> Key:
    """The key on a pitch class by the tonic's name that needs the fewest accidentals."""
    names = ("C", "C#", "Db", "D", "D#", "Eb", "E", "F", "F#", "Gb", "G", "G#", "Ab", "A", "A#",
             "Bb", "B")  # fmt: skip
    semitones = (0, 1, 1, 2, 3, 3, 4, 5, 6, 6, 7, 8, 8, 9, 10, 10, 11)
    keys = [Key(name, mode) for name, at in zip(names, semitones, strict=True) if at == tonic]
    return min(keys, key=lambda key: sum(abs(alteration_of(n)) for n in scale_notes(key)))
