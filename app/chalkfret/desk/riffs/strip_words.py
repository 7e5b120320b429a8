"""Short words for sections: their tempo and name, as ruler and strip write them."""

from __future__ import annotations

from typing import Final

from chalkfret.model import BeatUnit, Section, Tempo

# Beat units as letters that every text font has; the sheet prints real notes.
_UNITS: Final = {
    BeatUnit.HALF: "½",
    BeatUnit.DOTTED_HALF: "½.",
    BeatUnit.QUARTER: "♩",
    BeatUnit.DOTTED_QUARTER: "♩.",
    BeatUnit.EIGHTH: "♪",
    BeatUnit.DOTTED_EIGHTH: "♪.",
    BeatUnit.SIXTEENTH: "♬",
}


def tempo_text(tempo: Tempo) -> str:
    """``♩ = 96``, or ``♩ = 96 → 120``."""
    end = f" → {tempo.end:g}" if tempo.end is not None else ""
    return f"{_UNITS[tempo.unit]} = {tempo.start:g}{end}"


def section_text(section: Section) -> str:
    """``A Opening``."""
    return f"{section.head.letter} {section.head.name}".rstrip()


def clock_text(seconds: float) -> str:
    """``1:52``."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"
