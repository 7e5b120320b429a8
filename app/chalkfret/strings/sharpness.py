"""How sharp a note goes because pressing and striking stretch the string.

Conventions
-----------
- A relative stretch e raises the pull by kappa e, kappa = E A / T, and the pitch by
  600 log2(1 + kappa e) cents. E of music wire is 203.4 GPa, 29.5 million lb/in², below .032 in
  (Shigley, *Mechanical Engineering Design*, table 10-5). Half the pull doubles the sharpness.
- Pressed at fret n, with g = 2^(n/12), scale X, nut b, saddle c above the nut, finger d behind the
  fret, all mm: e = (g b + (g-1) c)² / (2 (g-1) X²) * (1 + g²/(g-1) d/X) (Anderson and Beausoleil,
  "Classical guitar intonation and compensation: the well-tempered guitar", JASA 156(1):683, 2024).
  It is the stretch alone: what nut and bridge take back by their placing is not reckoned, and no
  compensation is advised.
- Struck h mm high at the share p of its length, on the mean over a vibration:
  e = h² / (4 X² p (1-p)): half the stretch of the triangle from which the string is let go.
- ``nut_height_mm`` and ``saddle_height_mm`` of a setup are above the plane of the fret tops. Where
  they are not told, and for the finger and a hard stroke, usual figures stand in (common
  practice): they are constants below.
- A wound string's core carries the stretch. Where nobody told it, it is taken as 35 to 50 % of the
  gauge (common practice, from memory), so the result is a span, and an estimate.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

from msgspec import Struct

from chalkfret.model.setup import GuitarString, Setup, Winding
from chalkfret.strings.strength import area_in2, core_of
from chalkfret.strings.tension import tension

ELASTICITY: Final = 29.5e6  # lb/in²
USUAL_NUT_MM: Final = 0.5
USUAL_SADDLE_MM: Final = 3.0
USUAL_FINGER_MM: Final = 5.0
HARD_STROKE_MM: Final = 4.0
HARD_STROKE_AT: Final = 0.2  # of the string's length
FRETS: Final = 24
_CORE_LEAST: Final = 0.35
_CORE_MOST: Final = 0.50


class Cents(Struct, frozen=True):
    """Cents sharp: two equal figures, or a span where the core is not known."""

    least: float
    most: float


class Sharpness(Struct, frozen=True):
    """How sharp a string goes: at frets 1 to 24, and open when struck hard."""

    fretted: tuple[Cents, ...]
    struck: Cents
    estimate: bool  # wound: the core is guessed, or the chart does not vouch for it
    usual_heights: bool  # nut and saddle are not told

    def at(self, fret: int) -> Cents:
        """Cents sharp at a fret, 1 to 24."""
        return self.fretted[fret - 1]


def fret_stretch(
    fret: int, scale_mm: float, nut_mm: float, saddle_mm: float, finger_mm: float
) -> float:
    """The relative stretch of a string pressed at a fret; ``saddle_mm`` is above the nut."""
    ratio = 2.0 ** (fret / 12)
    high = ratio * nut_mm + (ratio - 1) * saddle_mm
    press = 1 + ratio**2 / (ratio - 1) * finger_mm / scale_mm
    return float(high**2 / (2 * (ratio - 1) * scale_mm**2) * press)


def stroke_stretch(height_mm: float, scale_mm: float, place: float) -> float:
    """The mean relative stretch of a string let go ``height_mm`` high at a share of its length."""
    return height_mm**2 / (4 * scale_mm**2 * place * (1 - place))


def cents_sharp(kappa: float, stretch: float) -> float:
    """Cents by which a relative stretch raises the pitch."""
    return 600 * math.log2(1 + kappa * stretch)


@lru_cache(maxsize=1024)
def sharpness(string: GuitarString, setup: Setup) -> Sharpness | None:
    """How sharp one of the setup's strings goes; None for nylon and where the pull is unknown."""
    pull, cores = tension(string, setup), _cores(string)
    if pull is None or cores is None:
        return None
    least, most = (ELASTICITY * area_in2(core) / pull.lb for core in cores)
    length = setup.scale_of(string) * 2.0 ** (-string.first_fret / 12)
    nut = USUAL_NUT_MM if setup.nut_height_mm is None else setup.nut_height_mm
    told = setup.saddle_height_mm
    saddle = max(0.0, (USUAL_SADDLE_MM if told is None else told) - nut)

    def sharp(stretch: float) -> Cents:
        return Cents(cents_sharp(least, stretch), cents_sharp(most, stretch))

    return Sharpness(
        fretted=tuple(
            sharp(fret_stretch(fret, length, nut, saddle, USUAL_FINGER_MM))
            for fret in range(1, FRETS + 1)
        ),
        struck=sharp(stroke_stretch(HARD_STROKE_MM, length, HARD_STROKE_AT)),
        estimate=string.winding is not Winding.PLAIN,
        usual_heights=setup.nut_height_mm is None or told is None,
    )


def _cores(string: GuitarString) -> tuple[float, float] | None:
    core = core_of(string)
    if core is not None:
        return core, core
    if string.gauge is None or string.winding in (Winding.NYLON, Winding.OTHER):
        return None
    return _CORE_LEAST * string.gauge, _CORE_MOST * string.gauge
