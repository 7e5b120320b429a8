"""How notes are written and read: English, German with H and B, or solfège.

Written with the signs ♯ ♭ 𝄪 𝄫; ``reading`` is the way back. The namings are common practice.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from chalkfret.model.lesson import NoteNaming
from chalkfret.model.pitch import alteration_of, letter_of

SIGNS: Final = {-2: "𝄫", -1: "♭", 0: "", 1: "♯", 2: "𝄪"}
_SOLFEGE: Final = {"C": "Do", "D": "Re", "E": "Mi", "F": "Fa", "G": "Sol", "A": "La", "B": "Si"}


@lru_cache(maxsize=4096)
def shown(name: str, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """A note or pitch name with proper signs: ``shown("Eb2") == "E♭2"``.

    In German B natural is H and B flat is B; octave numbers stay those of scientific notation.
    """
    letter, shift = letter_of(name), alteration_of(name)
    octave = name[len(letter) + abs(shift) :]
    if naming is NoteNaming.SOLFEGE:
        return _SOLFEGE[letter] + SIGNS[shift] + octave
    if naming is NoteNaming.GERMAN and letter == "B":
        return ("B" if shift == -1 else "H" + SIGNS[shift]) + octave
    return letter + SIGNS[shift] + octave


def degree_shown(degree: str) -> str:
    """A degree with proper signs: ``degree_shown("b3") == "♭3"``."""
    if not degree:
        return ""
    return SIGNS[degree.count("#") - degree.count("b")] + degree[-1]
