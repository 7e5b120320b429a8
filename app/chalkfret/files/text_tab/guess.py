"""Which tuning a tab is in, from the names before its lines and from what its words say.

A text that says its tuning is believed, unless the names before the lines are others and not the
usual ones. Names give pitches as ``theory.naming`` guesses them. Without either it is the usual
tuning of so many strings.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from chalkfret.model import NoteNaming
from chalkfret.model.pitch import note_of, pitch_class
from chalkfret.model.standards import STANDARDS
from chalkfret.strings.tunings import TUNINGS, named
from chalkfret.theory.naming import CannotRead, read_note, read_tuning

_SAYS_TUNING: Final = re.compile(
    r"\b(tun(?:ing|ed)|stimmung|afinaci[oó]n)\b\s*(?:to|in|:|=|is)?\s*", re.IGNORECASE
)
_NAMED: Final = re.compile(
    r"\b(?:double )?drop(?:ped)?[ -]?[a-g](?: ?(?:#|sharp|b\b|flat))?(?![a-z])"
    r"|\bopen [a-g](?: ?minor|m\b|6)?(?![a-z])"
    r"|\bdadgad\b|\b[a-g] ?(?:#|b|flat|sharp)? standard\b|\b(?:half|whole)[ -]step down\b"
    r"|\bstandard tuning\b",
    re.IGNORECASE,
)  # fmt: skip
_STEPS: Final = {"half step down": "E flat standard", "whole step down": "D standard",
                 "standard tuning": "Standard"}  # fmt: skip


def said_tuning(text: str) -> tuple[str, ...] | None:
    """The pitches of the tuning that a line speaks of, low to high, or None."""
    match = _NAMED.search(text)
    if match is not None:
        name = match[0].lower().replace("-", " ").replace("dropped", "drop")
        name = re.sub(r"^(double drop|drop|open) ?([a-g])", r"\1 \2", name)
        name = re.sub(r"(?<=[a-g]) ?#", " sharp", name)
        name = re.sub(r"(?<=[a-g])b\b", " flat", re.sub(r"([a-g])m$", r"\1 minor", name))
        tuning = named(_STEPS.get(name, name))
        if tuning is not None and all(len(course) == 1 for course in tuning.courses):
            return tuning.pitches
    says = _SAYS_TUNING.search(text)
    if says is None:
        return None
    rest = text[says.end() :].strip(" .:").split("(")[0].strip(" .,")
    rest = re.sub(r"\s*\(.*|,.*capo.*", "", rest)
    tuning = named(rest)
    if tuning is not None:
        return tuning.pitches
    try:
        return read_tuning(rest)
    except CannotRead:
        return None


def lowest_on_top(names: Sequence[str]) -> bool:
    """Whether names from the top down stand lowest first: numbers fall, or the notes say so."""
    if all(name.isdigit() for name in names):
        numbers = list(map(int, names))
        return numbers == sorted(numbers, reverse=True) and numbers[0] != numbers[-1]
    notes = [_class_of(name) for name in names]
    if None in notes:
        return False
    kept = [one for one in notes if one is not None]
    return _far(kept) < _far(kept[::-1])


def _class_of(name: str) -> int | None:
    try:
        return pitch_class(note_of(read_note(name)))
    except CannotRead:
        return None


def _far(low_to_high: list[int]) -> int:
    """Semitones that lie between a row of notes and the nearest tuning of the trade."""
    same = [t.pitches for t in TUNINGS if len(t.courses) == len(low_to_high)]
    same += STANDARDS[len(low_to_high)]
    return min(
        sum(min((pitch_class(p) - one) % 12, (one - pitch_class(p)) % 12)
            for p, one in zip(pitches, low_to_high, strict=True))
        for pitches in same
    )  # fmt: skip


def tuning_of(names: Sequence[str], said: tuple[str, ...] | None) -> tuple[str, ...]:
    """The pitches, low to high, of strings with these names from the lowest one up."""
    usual = STANDARDS[len(names)][0]
    if said is not None and len(said) != len(names):
        said = None
    notes = [None if name.isdigit() or not name else _class_of(name) for name in names]
    if None in notes:
        return said or usual
    if said is not None:
        told = [pitch_class(pitch) for pitch in said]
        if notes in (told, [pitch_class(pitch) for pitch in usual]):
            return said
    if notes == [pitch_class(pitch) for pitch in usual]:
        return usual
    try:
        spelled = " ".join(name[0].upper() + name[1:] for name in names)
        return read_tuning(spelled, NoteNaming.ENGLISH)
    except CannotRead:
        return said or usual
