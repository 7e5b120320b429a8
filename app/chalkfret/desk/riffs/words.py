"""Words of the Riffs page: marks, beats, notes and modes as a teacher calls them."""

from __future__ import annotations

from bisect import bisect_right
from typing import Final

from chalkfret.model import (
    BarHead,
    BeatUnit,
    CueKind,
    Key,
    Lesson,
    Note,
    SwingUnit,
    TempoShape,
    mark_name,
)
from chalkfret.theory.degrees import degree
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.spelling import pitch_name
from chalkfret.words.text import _

MARKS: Final = {
    "tie": _("tied"),
    "hammer_on": _("hammer-on"),
    "pull_off": _("pull-off"),
    "slide": _("slide"),
    "tap": _("tap"),
    "dead": _("dead note"),
    "ghost": _("ghost note"),
    "natural_harmonic": _("natural harmonic"),
    "artificial_harmonic": _("artificial harmonic"),
    "bend": _("bend"),
    "vibrato": _("vibrato"),
    "trill": _("trill"),
    "tremolo": _("tremolo picking"),
    "palm_mute": _("palm mute"),
    "let_ring": _("let ring"),
    "accent": _("accent"),
    "staccato": _("staccato"),
    "down_stroke": _("down stroke"),
    "up_stroke": _("up stroke"),
    "finger": _("finger"),
}

BEAT_UNITS: Final = {
    BeatUnit.HALF: _("half"),
    BeatUnit.DOTTED_HALF: _("dotted half"),
    BeatUnit.QUARTER: _("quarter"),
    BeatUnit.DOTTED_QUARTER: _("dotted quarter"),
    BeatUnit.EIGHTH: _("eighth"),
    BeatUnit.DOTTED_EIGHTH: _("dotted eighth"),
    BeatUnit.SIXTEENTH: _("sixteenth"),
}

TEMPO_SHAPES: Final = {
    TempoShape.OVER_BEATS: _("by beats"),
    TempoShape.OVER_TIME: _("by time"),
}

SWING_UNITS: Final = {SwingUnit.EIGHTH: _("eighths"), SwingUnit.SIXTEENTH: _("sixteenths")}

CUE_KINDS: Final = {
    CueKind.DRIVE: _("drive"),
    CueKind.PHASE: _("phase"),
    CueKind.TREMOLO: _("tremolo"),
    CueKind.DELAY: _("delay"),
    CueKind.REVERB: _("reverb"),
    CueKind.SWEEP: _("sweep"),
    CueKind.OCTAVE: _("octave"),
    CueKind.FREE: _("in words"),
}


def mark_words(note: Note) -> list[str]:
    """The note's marks in words."""
    return [MARKS[mark_name(mark)] for mark in note.marks]


def beat_text(head: BarHead, tick: int) -> str:
    """The beat of a tick as a number from 1, with its fraction: ``2``, ``3½``, ``1 + 1/12``."""
    starts = head.beat_starts
    beat = max(0, bisect_right(starts, tick) - 1)
    inside, length = tick - starts[beat], head.beats[beat]
    if inside == 0:
        return str(beat + 1)
    from fractions import Fraction

    part = Fraction(inside, length)
    short = {(1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 3): "⅓", (2, 3): "⅔"}
    sign = short.get((part.numerator, part.denominator))
    return f"{beat + 1}{sign}" if sign else f"{beat + 1} + {part}"


def note_text(lesson: Lesson, key: Key | None, note: Note, pitch: int | None) -> str:
    """The note's name and degree, as the lesson names notes: ``F♯2, ♭3``."""
    if pitch is None:
        return ""
    name = shown(
        pitch_name(pitch, key, note.spelling, lesson.head.simple_names), lesson.head.note_naming
    )
    return f"{name}, {degree_shown(degree(pitch, key))}" if key is not None else name
