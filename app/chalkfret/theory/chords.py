"""Intervals, dyads and chords named from what sounds.

Conventions
-----------
- Sounds are MIDI numbers; doublings in other octaves do not change a name. The lowest sound is the
  bass. Roots and basses are pitch classes: whoever says them spells them by the key.
- One pitch class is a unison or octaves, two make an interval; a fifth with doublings is a power
  chord (a fourth upside down). From three pitch classes on the table of qualities decides.
- A quality is a name of common practice (Kostka & Payne, *Tonal Harmony*; Levine, *The Jazz Theory
  Book*; from memory): its degrees above the root, and of which of them a guitarist may leave the
  fifth or the third out.
- Of several roots the bass is preferred, then the plainer quality. So C E G A is a sixth chord over
  C and a minor seventh over A; a sus4 over its bass, else what has its root there.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise
from typing import Final

from msgspec import Struct


class ChordKind(StrEnum):
    """What sounds together, in the most general terms."""

    SINGLE = "single"
    UNISON = "unison"
    OCTAVE = "octave"
    INTERVAL = "interval"
    POWER = "power"
    CHORD = "chord"
    UNNAMED = "unnamed"


class Quality(StrEnum):
    """The kinds of chord, by the symbol that stands behind the root; plainer ones first."""

    MAJOR = ""
    MINOR = "m"
    DOMINANT_7 = "7"
    MINOR_7 = "m7"
    MAJOR_7 = "maj7"
    SUS_4 = "sus4"
    SUS_2 = "sus2"
    DIMINISHED = "dim"
    AUGMENTED = "aug"
    HALF_DIMINISHED = "m7♭5"
    DIMINISHED_7 = "dim7"
    MINOR_MAJOR_7 = "m(maj7)"
    DOMINANT_7_SUS_4 = "7sus4"
    SIX = "6"
    MINOR_SIX = "m6"
    ADD_9 = "add9"
    MINOR_ADD_9 = "m(add9)"
    DOMINANT_9 = "9"
    MINOR_9 = "m9"
    MAJOR_9 = "maj9"
    DOMINANT_7_FLAT_9 = "7♭9"
    DOMINANT_7_SHARP_9 = "7♯9"
    SIX_9 = "6/9"
    ADD_11 = "add11"
    MINOR_ADD_11 = "m(add11)"
    AUGMENTED_7 = "7♯5"
    DOMINANT_7_FLAT_5 = "7♭5"
    AUGMENTED_MAJOR_7 = "maj7♯5"
    FLAT_5 = "(♭5)"


# Semitones above the root.
_TONES: Final[dict[Quality, tuple[int, ...]]] = {
    Quality.MAJOR: (0, 4, 7),
    Quality.MINOR: (0, 3, 7),
    Quality.DOMINANT_7: (0, 4, 7, 10),
    Quality.MINOR_7: (0, 3, 7, 10),
    Quality.MAJOR_7: (0, 4, 7, 11),
    Quality.SUS_4: (0, 5, 7),
    Quality.SUS_2: (0, 2, 7),
    Quality.DIMINISHED: (0, 3, 6),
    Quality.AUGMENTED: (0, 4, 8),
    Quality.HALF_DIMINISHED: (0, 3, 6, 10),
    Quality.DIMINISHED_7: (0, 3, 6, 9),
    Quality.MINOR_MAJOR_7: (0, 3, 7, 11),
    Quality.DOMINANT_7_SUS_4: (0, 5, 7, 10),
    Quality.SIX: (0, 4, 7, 9),
    Quality.MINOR_SIX: (0, 3, 7, 9),
    Quality.ADD_9: (0, 2, 4, 7),
    Quality.MINOR_ADD_9: (0, 2, 3, 7),
    Quality.DOMINANT_9: (0, 2, 4, 7, 10),
    Quality.MINOR_9: (0, 2, 3, 7, 10),
    Quality.MAJOR_9: (0, 2, 4, 7, 11),
    Quality.DOMINANT_7_FLAT_9: (0, 1, 4, 7, 10),
    Quality.DOMINANT_7_SHARP_9: (0, 3, 4, 7, 10),
    Quality.SIX_9: (0, 2, 4, 7, 9),
    Quality.ADD_11: (0, 4, 5, 7),
    Quality.MINOR_ADD_11: (0, 3, 5, 7),
    Quality.AUGMENTED_7: (0, 4, 8, 10),
    Quality.DOMINANT_7_FLAT_5: (0, 4, 6, 10),
    Quality.AUGMENTED_MAJOR_7: (0, 4, 8, 11),
    Quality.FLAT_5: (0, 4, 6),
}


class Missing(StrEnum):
    """A chord tone that is left out."""

    THIRD = "third"
    FIFTH = "fifth"


_MAY_MISS: Final = {
    Missing.FIFTH: frozenset({
        Quality.DOMINANT_7, Quality.MINOR_7, Quality.MAJOR_7, Quality.MINOR_MAJOR_7,
        Quality.ADD_9, Quality.MINOR_ADD_9, Quality.DOMINANT_9, Quality.MINOR_9, Quality.MAJOR_9,
        Quality.SIX_9, Quality.DOMINANT_7_FLAT_9, Quality.DOMINANT_7_SHARP_9,
        Quality.DOMINANT_7_SUS_4,
    }),
    Missing.THIRD: frozenset({
        Quality.DOMINANT_7, Quality.MAJOR_7, Quality.SIX, Quality.DOMINANT_9, Quality.MAJOR_9,
    }),
}  # fmt: skip
# A whole chord in any inversion comes before one that leaves a tone out.
_ORDER: Final[tuple[tuple[Missing | None, bool], ...]] = (
    (None, True),
    (None, False),
    (Missing.FIFTH, True),
    (Missing.THIRD, True),
    (Missing.FIFTH, False),
    (Missing.THIRD, False),
)


class Named(Struct, frozen=True):
    """What sounds: ``semitones`` is the plain interval of two pitch classes, bass to upper one.

    ``root`` and ``bass`` are pitch classes; the root is None where nothing but an interval or no
    name was found. ``steps`` has each sound's semitones above the lowest, rising.
    """

    kind: ChordKind
    bass: int
    steps: tuple[int, ...]
    root: int | None = None
    quality: Quality = Quality.MAJOR
    missing: Missing | None = None
    semitones: int = 0

    @property
    def inverted(self) -> bool:
        """Whether the root is not the lowest note."""
        return self.root is not None and self.root != self.bass


def chord(midis: Iterable[int]) -> Named | None:
    """What sounds together; None for silence."""
    sounds = tuple(sorted(midis))
    return _chord(sounds) if sounds else None


@lru_cache(maxsize=4096)
def _chord(sounds: tuple[int, ...]) -> Named:
    bass = sounds[0] % 12
    steps = tuple(one - sounds[0] for one in sounds)
    classes = {one % 12 for one in sounds}
    if len(sounds) == 1:
        return Named(ChordKind.SINGLE, bass, steps, bass)
    if len(classes) == 1:
        return Named(ChordKind.OCTAVE if steps[-1] else ChordKind.UNISON, bass, steps, bass)
    if len(classes) == 2:
        return _two(sounds, bass, steps, max((one - bass) % 12 for one in classes))
    for missing, roots in _ORDER:
        found = _rooted(classes, bass, missing, over_bass=roots)
        if found is not None:
            root, quality = found
            return Named(ChordKind.CHORD, bass, steps, root, quality, missing)
    return Named(ChordKind.UNNAMED, bass, steps)


def _two(sounds: tuple[int, ...], bass: int, steps: tuple[int, ...], semitones: int) -> Named:
    if semitones in (5, 7):
        kind = ChordKind.POWER if len(sounds) > 2 else ChordKind.INTERVAL
        root = bass if semitones == 7 else (bass + 5) % 12
        return Named(kind, bass, steps, root, semitones=semitones)
    return Named(ChordKind.INTERVAL, bass, steps, semitones=semitones)


def _rooted(
    classes: set[int], bass: int, missing: Missing | None, over_bass: bool
) -> tuple[int, Quality] | None:
    """The plainest quality that has these tones over the bass, or over another of them."""
    roots = (bass,) if over_bass else tuple(sorted(classes - {bass}))
    for quality, tones in _TONES.items():
        if missing is not None and quality not in _MAY_MISS[missing]:
            continue
        for root in roots:
            if {(root + tone) % 12 for tone in _without(tones, missing)} == classes:
                return root, quality
    return None


def _without(tones: tuple[int, ...], missing: Missing | None) -> tuple[int, ...]:
    left_out = {None: (), Missing.FIFTH: (7,), Missing.THIRD: (3, 4)}[missing]
    return tuple(tone for tone in tones if tone not in left_out)


@lru_cache(maxsize=4096)
def fingers(frets: tuple[tuple[int, int], ...]) -> int:
    """The fewest fingers that hold a shape, given as (course, fret) with open strings at fret 0.

    One finger can lie across strings at one fret, where no string between them sounds from a
    lower one (common practice). Frets count from the capo.
    """
    count = 0
    held = dict(frets)
    for fret in {one for one in held.values() if one > 0}:
        courses = sorted(course for course, one in held.items() if one == fret)
        count += 1
        for low, high in pairwise(courses):
            between = (held[course] for course in range(low + 1, high) if course in held)
            count += any(one < fret for one in between)
    return count
