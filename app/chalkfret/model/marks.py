"""The marks a note can carry.

A mark that needs nothing but its name is a ``Sign``; one with figures of its own is a small value.
Marks that join two notes (hammer-on, pull-off, slide, tie) stand on the note that is *reached*;
the note it comes from is the one before it on the same string of the same part.

To add a mark: give it a name here and a place in ``MARK_ORDER``; DEVELOPERS.md names the rest.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import pairwise
from typing import Annotated, Final

from msgspec import Meta

from chalkfret.model import limits
from chalkfret.model.value import Figures, Value


class Sign(StrEnum):
    """Marks that are said by their name alone."""

    TIE = "tie"  # goes on sounding from the note before: no attack
    HAMMER_ON = "hammer_on"
    PULL_OFF = "pull_off"
    TAP = "tap"
    DEAD = "dead"
    GHOST = "ghost"
    PALM_MUTE = "palm_mute"
    LET_RING = "let_ring"
    ACCENT = "accent"
    STACCATO = "staccato"
    DOWN_STROKE = "down_stroke"
    UP_STROKE = "up_stroke"


class SlideWay(StrEnum):
    """Where a slide comes from or goes to."""

    FROM_NOTE = "from_note"  # reached by sliding from the note before, and picked only once
    IN_FROM_BELOW = "in_from_below"
    IN_FROM_ABOVE = "in_from_above"
    OUT_DOWN = "out_down"
    OUT_UP = "out_up"


class FingerName(StrEnum):
    """Fretting fingers: index 1 to little 4, the thumb T (common practice)."""

    THUMB = "T"
    INDEX = "1"
    MIDDLE = "2"
    RING = "3"
    LITTLE = "4"


class Slide(Value, frozen=True, tag="slide", tag_field="mark"):
    """A slide along the string."""

    way: SlideWay


class BendPoint(Value, frozen=True, array_like=True):
    """A point of a bend's curve: ticks after the note's onset, cents above the fretted pitch."""

    tick: limits.Ticks
    cents: Annotated[int, Meta(ge=-limits.BEND_CENTS_MAX, le=limits.BEND_CENTS_MAX)]


class Bend(Value, frozen=True, tag="bend", tag_field="mark"):
    """A bend as a curve of straight lines, at least one point, ticks rising.

    Before the first point the pitch is the first point's, so a curve that starts above 0 cents at
    tick 0 is a pre-bend, and one that comes down again has a release.
    """

    curve: Annotated[tuple[BendPoint, ...], Meta(min_length=1, max_length=64)]


class Vibrato(Value, frozen=True, tag="vibrato", tag_field="mark"):
    """Vibrato, narrow or wide."""

    wide: bool = False


class NaturalHarmonic(Figures, frozen=True, tag="natural_harmonic", tag_field="mark"):
    """A harmonic over the open string (or capo), touched at ``node`` frets above it: 12, 7, 3.2."""

    node: Annotated[float, Meta(gt=0.0, le=float(limits.FRET_MAX))]


class ArtificialHarmonic(Figures, frozen=True, tag="artificial_harmonic", tag_field="mark"):
    """A harmonic over the fretted note, touched ``node`` frets above the fretting finger."""

    node: Annotated[float, Meta(gt=0.0, le=float(limits.FRET_MAX))] = 12.0


class Trill(Value, frozen=True, tag="trill", tag_field="mark"):
    """A trill between the note's fret and another on the same string."""

    fret: limits.Fret


class Tremolo(Value, frozen=True, tag="tremolo", tag_field="mark"):
    """Tremolo picking: 1 to 3 strokes through the stem, eighths to 32nds."""

    strokes: Annotated[int, Meta(ge=1, le=3)] = 3


class Finger(Value, frozen=True, tag="finger", tag_field="mark"):
    """The fretting finger."""

    finger: FingerName


Mark = (
    Sign | Slide | Bend | Vibrato | NaturalHarmonic | ArtificialHarmonic | Trill | Tremolo | Finger
)

# The one order in which a note's marks stand, so that equal notes are equal values.
MARK_ORDER: Final[tuple[str, ...]] = (
    "tie", "hammer_on", "pull_off", "slide", "tap", "dead", "ghost", "natural_harmonic",
    "artificial_harmonic", "bend", "vibrato", "trill", "tremolo", "palm_mute", "let_ring",
    "accent", "staccato", "down_stroke", "up_stroke", "finger",
)  # fmt: skip
_RANK: Final = {name: rank for rank, name in enumerate(MARK_ORDER)}
_WAY_RANK: Final = {way: rank for rank, way in enumerate(SlideWay)}


def mark_name(mark: Mark) -> str:
    """The mark's name in the file: ``palm_mute``, ``bend`` ..."""
    if isinstance(mark, Sign):
        return mark.value
    return str(mark.__struct_config__.tag)


def mark_rank(mark: Mark) -> tuple[int, int]:
    """The place of a mark among a note's marks; two marks of one rank exclude each other."""
    way = _WAY_RANK[mark.way] if isinstance(mark, Slide) else 0
    return _RANK[mark_name(mark)], way


def bends_rise(marks: tuple[Mark, ...]) -> bool:
    """Whether no bend's curve runs back in time."""
    curves = (mark.curve for mark in marks if isinstance(mark, Bend))
    return all(one.tick <= two.tick for curve in curves for one, two in pairwise(curve))


def in_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks in their one order; of two with the same rank the later wins."""
    return tuple(mark for _, mark in sorted({mark_rank(m): m for m in marks}.items()))
