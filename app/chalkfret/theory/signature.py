"""The key signature nearest to a key: 7 flats to 7 sharps, major or minor (MIDI 1.0 files)."""

from __future__ import annotations

from functools import lru_cache
from typing import Final, Literal

from chalkfret.model.pitch import LETTERS, alteration_of, letter_of
from chalkfret.model.section import Key
from chalkfret.theory.scales import degree_at, scale_notes

Third = Literal["major", "minor"]

_FIFTHS: Final = "FCGDAEB"  # the order in which sharps come; flats come from the other end
MOST: Final = 7  # sharps or flats of a legal signature


def signature_alteration(sharps: int, letter: str) -> int:
    """Semitones by which a signature of so many sharps (negative: flats) alters a letter."""
    return (sharps - _FIFTHS.index(letter) + 6) // 7


def _plain_sharps(tonic: str, third: Third) -> int:
    """Sharps of the plain major or minor key on a tonic, unbounded: G sharp major has eight."""
    major = _FIFTHS.index(letter_of(tonic)) - 1 + 7 * alteration_of(tonic)
    return major - 3 if third == "minor" else major


@lru_cache(maxsize=1024)
def signature(key: Key) -> tuple[int, Third]:
    """Sharps (negative: flats) from -7 to 7, and whether the key is on the major or minor side.

    The signature is the one whose letters agree with most notes of the scale, of equal ones that
    nearest to the plain major or minor key; beyond seven it is that of the same keys by their
    other names (G sharp major, eight sharps, gives four flats).
    """
    third: Third = "minor" if degree_at(key)[3] and not degree_at(key)[4] else "major"
    plain = _plain_sharps(key.tonic, third)
    notes = scale_notes(key)

    def misfit(sharps: int) -> tuple[int, int]:
        wrong = sum(alteration_of(n) != signature_alteration(sharps, letter_of(n)) for n in notes)
        return wrong, abs(sharps - plain)

    sharps = min(range(plain - len(LETTERS), plain + len(LETTERS) + 1), key=misfit)
    while sharps > MOST:
        sharps -= 12
    while sharps < -MOST:
        sharps += 12
    return sharps, third
