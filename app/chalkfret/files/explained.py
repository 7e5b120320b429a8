"""What ``explain --json`` says, as values: a public interface, so its schema is made from these.

Zero seconds is the first bar line, without count-in, at full speed, swing included. Fields that
this version does not compute are null; they are there so that readers need not change.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from chalkfret.model import Tempo


class ExplainedString(Struct, frozen=True):
    """One physical string as tuned, without capo: what it is and how it is loaded.

    ``strength_percent`` is its pull as a share of the least breaking strength of its steel, null
    for nylon and for wound strings whose core is not known; ``uncertainty_percent`` is that of
    the tension.
    """

    number: int  # of its course, from 1
    pitch: str
    hz: float
    cents: float
    gauge: float | None  # inches
    winding: str
    scale_mm: float
    tension_lb: float | None
    tension_n: float | None
    strength_percent: float | None
    uncertainty_percent: float | None


class ExplainedSetup(Struct, frozen=True):
    """The setup of a part."""

    part: str
    scale_mm: float
    capo: int | None  # its fret
    reference_hz: float
    strings: tuple[ExplainedString, ...]


class ExplainedCue(Struct, frozen=True):
    """A cue; bars from 1, beats from 1 in units of the meter's denominator, as first played."""

    id: str
    label: str
    kind: str
    part: str | None  # null: all parts
    bar: int
    beat: float
    end_bar: int | None
    end_beat: float | None


class ExplainedCandidate(Struct, frozen=True):
    """A tonic and mode that the notes allow, with the reasons, one line each.

    A reason reads "fits 19 of 19 notes", in the language that the program speaks.
    """

    tonic: str
    mode: str
    reasons: tuple[str, ...]


class ExplainedInSection(Struct, frozen=True):
    """What a part's playing in a section sounds in, and what its shapes would be called.

    Both are tonics, null for a section without one; ``shaped_as`` is also null where the strings
    lie so differently from standard tuning that there is no one answer.
    """

    part: str
    sounds_in: str | None
    shaped_as: str | None


class ExplainedSection(Struct, frozen=True):
    """A section, its times counted through all that is played before it."""

    id: str
    letter: str
    name: str
    tempo: Tempo  # as in the lesson file
    meter: str  # of its first bar: "4/4"
    times: int
    start_s: float
    end_s: float
    tonic: str | None
    mode: str | None
    scale: tuple[str, ...]
    # Found from the notes, the likeliest first; empty where there are too few.
    mode_candidates: tuple[ExplainedCandidate, ...]
    cues: tuple[ExplainedCue, ...]
    parts: tuple[ExplainedInSection, ...]


class ExplainedNote(Struct, frozen=True, gc=False, rename={"pass_": "pass"}):
    """One attack as played, repeats unrolled."""

    part: str
    section: str  # the section's letter
    # How often the music has come by, from 1: inside a repeat all its passes in all the section's
    # times are counted on, outside of one the section's times.
    pass_: int
    bar: int  # from 1 in its section
    beat: float  # from 1, in units of the meter's denominator
    start_s: float
    end_s: float
    string: int  # the course
    fret: int  # above the capo
    midi: float | None  # at the attack, cents and capo included; null for a dead note
    name: str | None
    hz: float | None
    degree: str | None
    marks: tuple[str, ...]


class Explained(Struct, frozen=True):
    """A lesson explained."""

    format: Literal["chalkfret-explain"]
    version: Literal[1]
    title: str
    setups: tuple[ExplainedSetup, ...]
    sections: tuple[ExplainedSection, ...]
    notes: tuple[ExplainedNote, ...]
