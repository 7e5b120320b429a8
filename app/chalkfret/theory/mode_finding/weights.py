"""What each kind of evidence weighs, and how usual each mode is.

Conventions
-----------
- Weights add up to the logarithm of how likely a tonic and mode are against the others: a
  difference of 0.7 is two to one, of 2.3 ten to one.
- A note's *role* in a mode is its degree by number; the perfect fifth and a third of either kind
  have roles of their own whatever the mode calls them. Roles are the same for all modes: no
  mode has weights of its own, but one figure for how usual it is.

How they came about
-------------------
A conditional logit over all tonics and modes (``tests/reference/modes/fitting.py``), fitted to
dance tunes, Palestrina's outer voices (weight 0.1) and the made riffs (0.2) together, with rare
modes weighted up (a tune counts by the power -0.4 of its mode's number), rounded to one decimal.
Set by judgement afterwards, since no labelled music has them: ``BASS`` and ``LOW_OPEN`` (one voice
has no bass and no strings), ``USUAL`` drawn 15 % towards equal modes, because riffs are less often
major than old dance tunes are, and the double harmonic below Phrygian dominant, the commoner one.
``python -m tests.reference.modes`` prints how often the answer is right.
"""

from __future__ import annotations

from enum import IntEnum
from typing import Final, NamedTuple

from chalkfret.model.section import Mode


class Role(IntEnum):
    """What a note is in a mode; the last two are not of the scale."""

    HOME = 0
    SECOND = 1
    THIRD = 2
    FOURTH = 3
    FIFTH = 4
    SIXTH = 5
    SEVENTH = 6
    ALTERED_FIFTH = 7
    LEADING = 8  # a semitone below the tonic
    OUTSIDE = 9


# By role: for the share of the length (times the root of the number of notes), and for being there.
SHARE: Final = (2.5, 0.1, 0.5, -0.2, 1.4, -0.7, 0.2, 0.1, -1.6, -1.9)
PRESENT: Final = (1.2, 2.0, 1.8, 1.9, 2.4, 1.2, 1.1, 3.1, -1.7, -2.2)
MOST_NOTES: Final = 48  # more of them do not make the share surer: riffs repeat


class AtPlace(NamedTuple):
    """What the tonic and its fifth weigh at a place of their own."""

    home: float
    fifth: float


BASS: Final = AtPlace(0.5, 0.3)
FIRST: Final = AtPlace(0.9, 0.8)
LAST: Final = AtPlace(2.1, 0.0)
LOW_OPEN: Final = AtPlace(6.0, -2.8)

USUAL: Final = {
    Mode.MAJOR: 2.4,
    Mode.DORIAN: 0.9,
    Mode.PHRYGIAN: 0.6,
    Mode.LYDIAN: 0.1,
    Mode.MIXOLYDIAN: 1.0,
    Mode.MINOR: 1.6,
    Mode.LOCRIAN: -0.2,
    Mode.HARMONIC_MINOR: -0.8,
    Mode.MELODIC_MINOR: -0.7,
    Mode.DORIAN_FLAT_2: -0.5,
    Mode.LYDIAN_AUGMENTED: -0.2,
    Mode.LYDIAN_DOMINANT: -0.8,
    Mode.MIXOLYDIAN_FLAT_6: -0.8,
    Mode.LOCRIAN_NATURAL_2: -0.2,
    Mode.ALTERED: -0.6,
    Mode.LOCRIAN_NATURAL_6: -0.3,
    Mode.IONIAN_AUGMENTED: -0.3,
    Mode.DORIAN_SHARP_4: -0.7,
    Mode.PHRYGIAN_DOMINANT: -0.4,
    Mode.LYDIAN_SHARP_2: -0.6,
    Mode.MAJOR_PENTATONIC: 0.7,
    Mode.MINOR_PENTATONIC: 0.8,
    Mode.BLUES: -0.8,
    Mode.MAJOR_BLUES: -0.1,
    Mode.WHOLE_TONE: 0.0,
    Mode.DIMINISHED_WHOLE_HALF: -0.5,
    Mode.DIMINISHED_HALF_WHOLE: -1.5,
    Mode.DOUBLE_HARMONIC: -0.7,
}
