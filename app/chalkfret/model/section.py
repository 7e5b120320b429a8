"""A section: a riff or passage with its tempo, key, cues and bars.

Conventions
-----------
- Bars and ticks of cues count from 0 within the section.
- The tempo counts beats of its own unit a minute. A change of tempo runs from the section's first
  beat to its last, through all the times it is played.
- ``Key`` without a mode is a tonic alone; with ``degrees`` it is a scale of the teacher's own.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from msgspec import Meta

from chalkfret.model import limits
from chalkfret.model.bars import Bars
from chalkfret.model.meter import QUARTER
from chalkfret.model.pitch import NoteName
from chalkfret.model.setup import Setup
from chalkfret.model.value import Figures, Value


class BeatUnit(StrEnum):
    """The note that a tempo counts."""

    HALF = "half"
    DOTTED_HALF = "dotted_half"
    QUARTER = "quarter"
    DOTTED_QUARTER = "dotted_quarter"
    EIGHTH = "eighth"
    DOTTED_EIGHTH = "dotted_eighth"
    SIXTEENTH = "sixteenth"

    @property
    def ticks(self) -> int:
        """Length in ticks."""
        return _UNIT_TICKS[self]


_UNIT_TICKS = {
    BeatUnit.HALF: 2 * QUARTER,
    BeatUnit.DOTTED_HALF: 3 * QUARTER,
    BeatUnit.QUARTER: QUARTER,
    BeatUnit.DOTTED_QUARTER: QUARTER * 3 // 2,
    BeatUnit.EIGHTH: QUARTER // 2,
    BeatUnit.DOTTED_EIGHTH: QUARTER * 3 // 4,
    BeatUnit.SIXTEENTH: QUARTER // 4,
}


class TempoShape(StrEnum):
    """How a gradual change runs: the tempo rises evenly with the beats, or with the clock."""

    OVER_BEATS = "over_beats"
    OVER_TIME = "over_time"


class Tempo(Figures, frozen=True):
    """Beats a minute at the start, and at the end where it changes gradually."""

    start: limits.BeatsPerMinute
    unit: BeatUnit = BeatUnit.QUARTER
    end: limits.BeatsPerMinute | None = None
    shape: TempoShape = TempoShape.OVER_BEATS


class SwingUnit(StrEnum):
    """The notes that swing in pairs."""

    EIGHTH = "eighth"
    SIXTEENTH = "sixteenth"

    @property
    def ticks(self) -> int:
        """Length in ticks of one written note."""
        return QUARTER // 2 if self is SwingUnit.EIGHTH else QUARTER // 4


class Swing(Figures, frozen=True):
    """Pairs of written-equal notes sound long and short: ratio 2 is the triplet feel."""

    unit: SwingUnit = SwingUnit.EIGHTH
    ratio: Annotated[float, Meta(ge=1.0, le=4.0)] = 2.0


class Mode(StrEnum):
    """The scales the trade names; theory/scales.py has their degrees."""

    MAJOR = "major"
    DORIAN = "dorian"
    PHRYGIAN = "phrygian"
    LYDIAN = "lydian"
    MIXOLYDIAN = "mixolydian"
    MINOR = "minor"
    LOCRIAN = "locrian"
    HARMONIC_MINOR = "harmonic_minor"
    MELODIC_MINOR = "melodic_minor"
    DORIAN_FLAT_2 = "dorian_flat_2"
    LYDIAN_AUGMENTED = "lydian_augmented"
    LYDIAN_DOMINANT = "lydian_dominant"
    MIXOLYDIAN_FLAT_6 = "mixolydian_flat_6"
    LOCRIAN_NATURAL_2 = "locrian_natural_2"
    ALTERED = "altered"
    LOCRIAN_NATURAL_6 = "locrian_natural_6"
    IONIAN_AUGMENTED = "ionian_augmented"
    DORIAN_SHARP_4 = "dorian_sharp_4"
    PHRYGIAN_DOMINANT = "phrygian_dominant"
    LYDIAN_SHARP_2 = "lydian_sharp_2"
    MAJOR_PENTATONIC = "major_pentatonic"
    MINOR_PENTATONIC = "minor_pentatonic"
    BLUES = "blues"
    MAJOR_BLUES = "major_blues"
    WHOLE_TONE = "whole_tone"
    DIMINISHED_WHOLE_HALF = "diminished_whole_half"
    DIMINISHED_HALF_WHOLE = "diminished_half_whole"
    DOUBLE_HARMONIC = "double_harmonic"


DegreeName = Annotated[str, Meta(pattern=r"^(bb|b|##|#)?[1-7]$(?!\n)")]


class Key(Value, frozen=True, weakref=True, cache_hash=True):
    """A tonic with its mode, or with a scale typed as degrees (``("1", "b2", "3", "5")``)."""

    tonic: NoteName
    mode: Mode | None = None
    degrees: Annotated[tuple[DegreeName, ...], Meta(max_length=12)] = ()


class CueKind(StrEnum):
    """Effects that the preview can sound, or free words."""

    DRIVE = "drive"
    PHASE = "phase"
    TREMOLO = "tremolo"
    DELAY = "delay"
    REVERB = "reverb"
    SWEEP = "sweep"
    OCTAVE = "octave"
    FREE = "free"


class Place(Value, frozen=True, array_like=True, order=True):
    """A point of a section: its bar and the tick within it, both from 0."""

    bar: limits.Index
    tick: limits.Ticks


class Setting(Figures, frozen=True, array_like=True):
    """One knob of an effect: its name and its value."""

    name: limits.Name
    value: Annotated[float, Meta(ge=-1e6, le=1e6)]


class Cue(Value, frozen=True):
    """An effect switched on at a place, for one part or (part None) all of them."""

    id: limits.Id
    label: limits.Name
    kind: CueKind
    start: Place
    end: Place | None = None  # None: to the end of the section
    part: limits.Id | None = None
    settings: Annotated[tuple[Setting, ...], Meta(max_length=16)] = ()


class Retune(Value, frozen=True):
    """In this section a part plays on another setup, with as many courses as its own."""

    part: limits.Id
    setup: Setup


class SectionShow(Value, frozen=True):
    """What the sheet shows for a section beside its tab."""

    degrees: bool = False
    scale_diagram: bool = False
    hand_shapes: bool = False
    notation: bool = False
    count: bool = False
    differences: bool = False
    practice_plan: bool = False


class SectionHead(Figures, frozen=True, weakref=True, cache_hash=True):
    """All that is said of a section but its bars."""

    letter: Annotated[str, Meta(min_length=1, max_length=4, pattern=limits.ONE_LINE)]
    name: limits.Line
    tempo: Tempo
    swing: Swing | None = None
    key: Key | None = None
    shape_key: NoteName | None = None  # the teacher's wish for what the shapes are called
    times: limits.Times = 1
    pause_s: limits.Seconds = 0.0  # silence after the section, in seconds
    difficulty: Annotated[int, Meta(ge=1, le=5)] | None = None
    notes: limits.Text = ""  # the teacher's notes, Markdown
    cues: Annotated[tuple[Cue, ...], Meta(max_length=200)] = ()
    retunes: Annotated[tuple[Retune, ...], Meta(max_length=limits.PARTS_MAX)] = ()
    show: SectionShow = SectionShow()


class Section(Value, frozen=True, weakref=True, cache_hash=True):
    """A riff or passage of the lesson."""

    id: limits.Id
    head: SectionHead
    bars: Bars
