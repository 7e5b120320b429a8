"""What can be set on each effect that a preview can sound: names, units, bounds, usual values.

A cue's settings name their knobs by these names, in these units. A free cue has knobs of the
teacher's own naming, without unit. The effects and their knobs are common practice; the usual
values are where a player would start turning.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from msgspec import Struct

from chalkfret.model.section import CueKind


class Unit(StrEnum):
    """Units of knobs."""

    PERCENT = "percent"
    HERTZ = "hertz"
    MILLISECONDS = "milliseconds"
    SECONDS = "seconds"
    SEMITONES = "semitones"


class Knob(Struct, frozen=True):
    """One knob: its name in the file, its unit, its bounds and where one begins."""

    name: str
    unit: Unit
    low: float
    high: float
    usual: float


def _share(name: str, usual: float) -> Knob:
    return Knob(name, Unit.PERCENT, 0.0, 100.0, usual)


KNOBS: Final[dict[CueKind, tuple[Knob, ...]]] = {
    CueKind.DRIVE: (_share("amount", 60.0),),
    CueKind.PHASE: (Knob("rate", Unit.HERTZ, 0.05, 10.0, 0.5), _share("depth", 60.0)),
    CueKind.TREMOLO: (Knob("rate", Unit.HERTZ, 0.5, 20.0, 5.0), _share("depth", 60.0)),
    CueKind.DELAY: (
        Knob("time", Unit.MILLISECONDS, 20.0, 2000.0, 350.0),
        _share("feedback", 30.0),
        _share("mix", 35.0),
    ),
    CueKind.REVERB: (Knob("length", Unit.SECONDS, 0.2, 12.0, 2.0), _share("mix", 30.0)),
    CueKind.SWEEP: (
        Knob("from", Unit.HERTZ, 200.0, 5000.0, 400.0),
        Knob("to", Unit.HERTZ, 200.0, 5000.0, 1800.0),
    ),
    CueKind.OCTAVE: (Knob("interval", Unit.SEMITONES, -24.0, 24.0, -12.0), _share("mix", 50.0)),
    CueKind.FREE: (),
}


def knob_of(kind: CueKind, name: str) -> Knob | None:
    """The knob with this name, or None where the teacher named one of their own."""
    return next((knob for knob in KNOBS[kind] if knob.name == name), None)
