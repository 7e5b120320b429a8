"""What a note does in its key: home, frame, colour or outside.

- *home* is the tonic;
- *frame* is the third and the perfect fifth of the scale;
- *colour* are the degrees that tell this scale from plain major (where it has a major third) or
  plain minor (where it has not): sharp 4 in Lydian, 6 in Dorian, flat 5 in blues;
- *outside* is every note that is not of the scale;
- *plain* is the rest, and every note where no scale is known.
"""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache

from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Key, Mode
from chalkfret.theory.scales import degree_at, degree_semitones, degrees_of, mode_intervals
from chalkfret.theory.spelling import degree

__all__ = ["Role", "colour_degrees", "degree", "role"]


class Role(StrEnum):
    """The four roles by which notes are tinted, and none of them."""

    HOME = "home"
    FRAME = "frame"
    COLOUR = "colour"
    OUTSIDE = "outside"
    PLAIN = "plain"


@lru_cache(maxsize=1024)
def colour_degrees(key: Key) -> tuple[str, ...]:
    """The degrees that tell the key's scale from plain major or minor, in the scale's order."""
    plain = mode_intervals(Mode.MAJOR if degree_at(key)[4] else Mode.MINOR)
    if not degree_at(key)[4] and not degree_at(key)[3]:
        plain += mode_intervals(Mode.MAJOR)  # without a third it may be either
    return tuple(one for one in degrees_of(key) if degree_semitones(one) not in plain)


@lru_cache(maxsize=8192)
def role(midi: int, key: Key | None) -> Role:
    """The role of a note in a key."""
    if key is None:
        return Role.PLAIN
    semitones = (midi - pitch_class(key.tonic)) % 12
    if semitones == 0:
        return Role.HOME
    known = key.mode is not None or bool(key.degrees)
    here = degree_at(key)[semitones]
    if known and here is None:
        return Role.OUTSIDE
    if known and here in colour_degrees(key):
        return Role.COLOUR
    return Role.FRAME if semitones in (3, 4, 7) else Role.PLAIN
