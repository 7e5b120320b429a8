"""What the notes of a section say of its tonic and mode, cached by its bars and the setups.

Of a long section the first 128 bars are heard (two chunks): a key that these do not settle is not
settled by more of the same, and whoever types in bar 1,900 is not to wait for it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from msgspec.structs import replace

from chalkfret.model.bars import Bars
from chalkfret.model.lesson import Part, setup_in
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.mode_finding.candidates import Finding, candidates
from chalkfret.theory.mode_finding.contradiction import Contradiction, contradiction
from chalkfret.theory.mode_finding.hearing import heard

_CHUNKS: Final = 2


def found_in(section: Section, parts: tuple[Part, ...]) -> Finding:
    """The candidates for a section: a riff, which loops and so has no last note."""
    return _found(_first(section.bars), tuple(setup_in(section, part) for part in parts))


@lru_cache(maxsize=64)
def _found(bars: Bars, setups: tuple[Setup, ...]) -> Finding:
    return candidates(heard(bars, setups))


def _first(bars: Bars) -> Bars:
    return Bars(bars.chunks[:_CHUNKS])


def contradicted(section: Section, parts: tuple[Part, ...]) -> Contradiction | None:
    """What in the notes contradicts the section's key; None without a key or where nothing does."""
    key = section.head.key
    if key is None:
        return None
    setups = tuple(setup_in(section, part) for part in parts)
    return _contradicted(_first(section.bars), setups, key)


@lru_cache(maxsize=64)
def _contradicted(bars: Bars, setups: tuple[Setup, ...], key: Key) -> Contradiction | None:
    return contradiction(heard(bars, setups), key, _found(bars, setups))


def as_chosen(found: Key, chosen: Key | None) -> Key:
    """A key that was found with the tonic's name as the teacher wrote it, where it is the same."""
    if chosen is not None and pitch_class(chosen.tonic) == pitch_class(found.tonic):
        return replace(found, tonic=chosen.tonic)
    return found
