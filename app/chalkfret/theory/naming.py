"""How notes are written and read: English, German with H and B, or solfège.

Conventions
-----------
- Written with the signs ♯ ♭ 𝄪 𝄫 in the chosen naming (the namings are common practice).
- Read in all three namings, whichever is chosen: ``Eb``, ``e flat``, ``Es``, ``Mib``, ``F♯``,
  ``Fis``, ``Fa#``. The chosen one only decides what a bare B is: B flat to a German, B natural to
  everyone else.
- A tuning is typed low to high, with any separators or none: ``C G C F A D``, ``C-G-C-F-A-D``,
  ``CGCFAD``, ``Eb Ab Db Gb Bb Eb``, ``c2 g2 c3 f3 a3 d4``. In a run of small letters without
  separators a ``b`` is the note.
- What is read comes back in the model's ASCII names; what cannot be read raises ``CannotRead``.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import product
from typing import Final

from chalkfret.model.faults import Fault, fault
from chalkfret.model.lesson import NoteNaming
from chalkfret.model.limits import COURSES_MAX, COURSES_MIN
from chalkfret.model.pitch import OCTAVE_MAX, OCTAVE_MIN, alteration_of, letter_of, midi_of
from chalkfret.model.standards import GUITAR, STANDARDS, nearest_standard

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


class CannotRead(Exception):
    """What was typed is no note or tuning; ``fault`` says which part of it and why."""

    def __init__(self, why: Fault) -> None:
        super().__init__(why.code)
        self.fault = why


_SHARP_WORDS: Final = "sharp|dièse|diese|diesis|sostenido"
_FLAT_WORDS: Final = "flat|bémol|bemolle|bemol"
_SIGNS: Final = (
    (re.compile(rf"[\s-]*double[\s-]*(?:{_SHARP_WORDS})", re.IGNORECASE), "##"),
    (re.compile(rf"[\s-]*double[\s-]*(?:{_FLAT_WORDS})", re.IGNORECASE), "♭♭"),
    (re.compile(rf"[\s-]*(?:{_SHARP_WORDS})", re.IGNORECASE), "#"),
    (re.compile(rf"[\s-]*(?:{_FLAT_WORDS})", re.IGNORECASE), "♭"),
    (re.compile("𝄪"), "##"),
    (re.compile("♯"), "#"),
    (re.compile("𝄫"), "♭♭"),
    (re.compile("♮"), ""),
)
_SEPARATORS: Final = re.compile(r"[\s,;/|·>→–—-]+")
_TOKEN: Final = re.compile(r"(.*?)(-?\d{1,3})?", re.DOTALL)
_SHOWN_MAX: Final = 40  # characters of what was typed that a sentence repeats
# A capital may be followed by a flat written b; after a small letter b is the next note.
_RUN_NOTE: Final = re.compile(r"(?:[A-H](?:bb?|♭♭?|##?)?|[a-h](?:♭♭?|##?)?)\d?")

_TYPED_SOLFEGE: Final = {
    "do": "C", "ut": "C", "re": "D", "ré": "D", "mi": "E", "fa": "F", "sol": "G", "so": "G",
    "la": "A", "si": "B", "ti": "B",
}  # fmt: skip
_SUFFIXES: Final = {
    "": "", "#": "#", "##": "##", "x": "##", "b": "b", "♭": "b", "bb": "bb", "♭♭": "bb",
}  # fmt: skip


def _all_names() -> dict[str, str]:
    """Every way of typing a note that means the same in all namings, in small letters."""
    letters = {letter.lower(): letter for letter in "CDEFGA"} | _TYPED_SOLFEGE | {"h": "B"}
    names = {
        typed + suffix: letter + sign
        for (typed, letter), (suffix, sign) in product(letters.items(), _SUFFIXES.items())
    }
    for typed, letter in zip("cdfgh", "CDFGB", strict=True):
        names |= {typed + "es": letter + "b", typed + "eses": letter + "bb"}
    for typed, letter in zip("cdefgah", "CDEFGAB", strict=True):
        names |= {typed + "is": letter + "#", typed + "isis": letter + "##"}
    return names | {"es": "Eb", "eses": "Ebb", "as": "Ab", "ases": "Abb", "asas": "Abb"}


_NAMES: Final = _all_names()
_BARE_B: Final = {"b" + suffix: "B" + sign for suffix, sign in _SUFFIXES.items()}
_GERMAN_B: Final = {"b": "Bb", "bb": "Bb", "b♭": "Bb", "bes": "Bb"}


def _normal(text: str) -> str:
    for pattern, sign in _SIGNS:
        text = pattern.sub(sign, text)
    return text.strip()


def _token(text: str, naming: NoteNaming) -> tuple[str, int | None]:
    """A note name and its octave, if one is typed. Raises CannotRead."""
    match = _TOKEN.fullmatch(text)
    assert match is not None  # it matches every text
    typed, digits = match[1].lower().strip(), match[2]
    name = _NAMES.get(typed)
    if name is None:
        name = (_GERMAN_B if naming is NoteNaming.GERMAN else _BARE_B).get(typed)
    if name is None:
        raise CannotRead(fault("note_unreadable", text=text[:_SHOWN_MAX]))
    if digits is not None and not OCTAVE_MIN <= int(digits) <= OCTAVE_MAX:
        raise CannotRead(
            fault("octave_range", text=text[:_SHOWN_MAX], least=OCTAVE_MIN, most=OCTAVE_MAX)
        )
    return name, None if digits is None else int(digits)


def read_note(text: str, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """The note that was typed, with its octave where one is: ``read_note("e flat 2") == "Eb2"``.

    Raises CannotRead with the fault ``note_unreadable`` or ``octave_range``.
    """
    name, octave = _token(_normal(text), naming)
    return name if octave is None else f"{name}{octave}"


def read_tuning(text: str, naming: NoteNaming = NoteNaming.ENGLISH) -> tuple[str, ...]:
    """The pitches of a tuning typed low to high: ``read_tuning("C G C F A D")``.

    Octaves that are not typed are guessed: rising, and as near as can be to the standard tuning
    of so many courses, rather below it than above. A tuning that goes down somewhere (a high
    string among the low ones) needs its octaves typed.

    Raises CannotRead: ``note_unreadable``, ``octave_range`` or ``tuning_count``.
    """
    normal = _normal(text)
    tokens = [token for token in _SEPARATORS.split(normal) if token]
    if len(tokens) == 1 and _is_run(tokens[0]):
        tokens = _RUN_NOTE.findall(tokens[0])
    notes = [_token(token, naming) for token in tokens]
    if not COURSES_MIN <= len(notes) <= COURSES_MAX:
        raise CannotRead(
            fault("tuning_count", count=len(notes), least=COURSES_MIN, most=COURSES_MAX)
        )
    # Six strings are a guitar's, however low: a six-string bass needs its octaves typed.
    standards = (GUITAR,) if len(notes) == len(GUITAR) else STANDARDS[len(notes)]
    guesses = [_guess(notes, standard) for standard in standards]
    return guesses[nearest_standard([cost for cost, _ in guesses])][1]


def _is_run(token: str) -> bool:
    return len(token) > 1 and "".join(_RUN_NOTE.findall(token)) == token


_OCTAVES: Final = range(OCTAVE_MIN, OCTAVE_MAX + 1)
_DESCENT: Final = 1_000  # costs more than any octaves do; taken only where none are left
_FREE_RISE: Final = 3  # semitones a string is readily tuned up; more strains it (common practice)


def _cost(midi: int, standard: int) -> int:
    """How unlikely it is that a string with this standard pitch is tuned to ``midi``."""
    rise = midi - standard
    return -rise if rise < 0 else rise + 3 * max(0, rise - _FREE_RISE)


def _guess(
    notes: list[tuple[str, int | None]], standard: tuple[str, ...]
) -> tuple[float, tuple[str, ...]]:
    """The likeliest octaves against one standard, and what they cost (dynamic programming)."""
    best: dict[str, tuple[float, tuple[str, ...]]] = {"": (0.0, ())}
    guessed_before = False
    for (name, octave), usual in zip(notes, standard, strict=True):
        ahead: dict[str, tuple[float, tuple[str, ...]]] = {}
        for candidate in _OCTAVES if octave is None else (octave,):
            pitch = f"{name}{candidate}"
            here = _cost(midi_of(pitch), midi_of(usual))
            ordered = guessed_before or octave is None
            ahead[pitch] = min(
                (cost + here + _descent(before, pitch, ordered), (*path, pitch))
                for before, (cost, path) in best.items()
            )
        best = ahead
        guessed_before = octave is None
    return min(best.values())


@lru_cache(maxsize=4096)
def _descent(before: str, pitch: str, ordered: bool) -> int:
    return _DESCENT if ordered and before and midi_of(pitch) < midi_of(before) else 0
