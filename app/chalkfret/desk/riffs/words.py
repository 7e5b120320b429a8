"""Words of the Riffs page: marks, beats, notes and modes as a teacher calls them."""

from __future__ import annotations

from bisect import bisect_right
from typing import Final

from chalkfret.edits.place import Spot
from chalkfret.model import (
    QUARTER,
    BarHead,
    BeatUnit,
    CueKind,
    Key,
    Lesson,
    Note,
    Setup,
    SwingUnit,
    TempoShape,
    Vibrato,
    mark_name,
    setup_in,
)
from chalkfret.model.pitch import octave_of
from chalkfret.strings.retune import standard_of
from chalkfret.theory.names import between, note_degree
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.shapes import shape_at
from chalkfret.theory.sounding import named_pitch
from chalkfret.theory.spelling import name_of
from chalkfret.words.names import shape_words
from chalkfret.words.text import N_, _

MARKS: Final = {
    "tie": N_("tied"),
    "hammer_on": N_("hammer-on"),
    "pull_off": N_("pull-off"),
    "slide": N_("slide"),
    "tap": N_("tap"),
    "dead": N_("dead note"),
    "ghost": N_("ghost note"),
    "natural_harmonic": N_("natural harmonic"),
    "artificial_harmonic": N_("artificial harmonic"),
    "bend": N_("bend"),
    "vibrato": N_("vibrato"),
    "trill": N_("trill"),
    "tremolo": N_("tremolo picking"),
    "palm_mute": N_("palm mute"),
    "let_ring": N_("let ring"),
    "accent": N_("accent"),
    "staccato": N_("staccato"),
    "down_stroke": N_("down stroke"),
    "up_stroke": N_("up stroke"),
    "finger": N_("finger"),
}

WIDE_VIBRATO: Final = N_("wide vibrato")

BEAT_UNITS: Final = {
    BeatUnit.HALF: N_("half"),
    BeatUnit.DOTTED_HALF: N_("dotted half"),
    BeatUnit.QUARTER: N_("quarter"),
    BeatUnit.DOTTED_QUARTER: N_("dotted quarter"),
    BeatUnit.EIGHTH: N_("eighth"),
    BeatUnit.DOTTED_EIGHTH: N_("dotted eighth"),
    BeatUnit.SIXTEENTH: N_("sixteenth"),
}

LENGTHS: Final = {
    4 * QUARTER: N_("whole"),
    3 * QUARTER: N_("dotted half"),
    2 * QUARTER: N_("half"),
    QUARTER * 3 // 2: N_("dotted quarter"),
    QUARTER: N_("quarter"),
    QUARTER * 3 // 4: N_("dotted eighth"),
    QUARTER // 2: N_("eighth"),
    QUARTER // 3: N_("eighth of a triplet"),
    QUARTER * 3 // 8: N_("dotted sixteenth"),
    QUARTER // 4: N_("sixteenth"),
    QUARTER // 8: N_("thirty-second"),
}

TEMPO_SHAPES: Final = {
    TempoShape.OVER_BEATS: N_("by beats"),
    TempoShape.OVER_TIME: N_("by time"),
}

SWING_UNITS: Final = {SwingUnit.EIGHTH: N_("eighths"), SwingUnit.SIXTEENTH: N_("sixteenths")}

CUE_KINDS: Final = {
    CueKind.DRIVE: N_("drive"),
    CueKind.PHASE: N_("phase"),
    CueKind.TREMOLO: N_("tremolo"),
    CueKind.DELAY: N_("delay"),
    CueKind.REVERB: N_("reverb"),
    CueKind.SWEEP: N_("sweep"),
    CueKind.OCTAVE: N_("octave"),
    CueKind.FREE: N_("in words"),
}


def pace_words(ticks: int | None) -> str:
    """The length that the next fret gets, in words; "" where it is a step or has no name."""
    name = LENGTHS.get(ticks or 0)
    return _("next: {length}").format(length=_(name)) if name else ""


def mark_words(note: Note) -> list[str]:
    """The note's marks in words."""
    return [_(WIDE_VIBRATO if mark == Vibrato(wide=True) else MARKS[mark_name(mark)])
            for mark in note.marks]  # fmt: skip


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


def note_text(lesson: Lesson, section: int, bar: int, part: int, note: Note) -> str:
    """A note's name and degree, as the lesson names notes: ``F♯2, ♭3``; empty for a dead one."""
    found = lesson.sections[section]
    setup = setup_in(found, lesson.parts[part])
    degree = note_degree(found, bar, part, setup, note)
    if degree is None:
        return ""
    name = note_name(lesson, found.head.key, setup, note, degree)
    return f"{name}, {degree_shown(degree)}" if degree else name


def note_name(lesson: Lesson, key: Key | None, setup: Setup, note: Note, degree: str) -> str:
    """The pitch of a note that is this degree of the key, as the lesson names notes: ``F♯2``."""
    pitch, head = named_pitch(setup, note), lesson.head
    name = name_of(pitch, degree, key, note.spelling, head.simple_names)
    return shown(f"{name}{octave_of(pitch, name)}", head.note_naming)


def together_text(lesson: Lesson, spot: Spot, tick: int) -> str:
    """The chord or interval that sounds at a tick of a spot's bar: ``C5, one finger``."""
    section, part = lesson.sections[spot.section], lesson.parts[spot.part]
    setup = setup_in(section, part)
    shape = shape_at(
        between(section, spot.bar, spot.part), tick, setup, section.head.key, standard_of(setup)
    )
    return "" if shape is None else shape_words(shape, lesson.head.note_naming)
