"""The name of a sounding note in a key.

The rule, in this order:

1. the teacher's wish, where it names the pitch that sounds;
2. a note of the scale is spelled as the scale spells it (F sharp Lydian has B sharp);
3. any other note is a degree of the major scale on the tonic, raised or lowered, by the names
   players use: flat 2, flat 3, sharp 4, flat 6, flat 7, and the plain degrees (common practice).
   So a raised seventh in A sharp minor is G double sharp;
4. without a key, the twelve names players use most.

With the wish for simple names a note with a double accidental takes its plain name instead; its
degree stays what it is.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from chalkfret.model.pitch import octave_of, pitch_class
from chalkfret.model.section import Key
from chalkfret.theory.scales import degree_at, is_simple, note_of_degree, plain_name

_CHROMATIC: Final = ("1", "b2", "2", "b3", "3", "4", "#4", "5", "b6", "6", "b7", "7")


@lru_cache(maxsize=8192)
def degree(midi: int, key: Key | None) -> str:
    """The degree of a note in a key, ``"b3"``; empty without a key."""
    if key is None:
        return ""
    semitones = (midi - pitch_class(key.tonic)) % 12
    return degree_at(key)[semitones] or _CHROMATIC[semitones]


@lru_cache(maxsize=8192)
def spell(midi: int, key: Key | None, wish: str | None = None, simple: bool = False) -> str:
    """The note name, without octave, of a MIDI number in a key: ``spell(51, key)`` ``"Eb"``.

    ``wish`` is the teacher's note name, ignored where it does not name this pitch.
    """
    if wish is not None and (pitch_class(wish) - midi) % 12 == 0:
        return wish
    if key is None:
        return plain_name(midi)
    name = note_of_degree(key.tonic, degree(midi, key))
    return plain_name(midi) if simple and not is_simple(name) else name


def pitch_name(midi: int, key: Key | None, wish: str | None = None, simple: bool = False) -> str:
    """The pitch name, with octave: ``pitch_name(39, key)`` gives ``"Eb2"``."""
    name = spell(midi, key, wish, simple)
    return f"{name}{octave_of(midi, name)}"
