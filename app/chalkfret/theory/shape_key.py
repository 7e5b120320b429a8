"""What a part sounds in, what a player would call its shapes, and the frets counted as proof.

Conventions
-----------
- It *sounds in* the section's tonic. It is *shaped as* the tonic that the same frets would give on
  strings in standard tuning without a capo: what the hand's habit calls them.
- ``standard`` is the standard tuning from which the setup is reckoned, as pitch names low to high
  (``strings.retune.standard_of``).
- Each string answers for itself, by how far it lies from its standard. Asked are the strings on
  which the part plays the tonic; where it never does, all strings it plays on. The answer is what
  more than half of them say. In a mixed tuning there may be none, and then there is no one answer.
- A fret is named as it is played (above the capo, where one lies over the string) and as it sounds.
"""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.model.bars import Bar
from chalkfret.model.lesson import Part, setup_in
from chalkfret.model.pitch import alteration_of, midi_of, pitch_class
from chalkfret.model.section import Key, Section
from chalkfret.model.setup import Setup
from chalkfret.theory.roots import Root, roots_on_neck, roots_played
from chalkfret.theory.scales import plain_name, scale_notes
from chalkfret.theory.sounding import named_fretted
from chalkfret.theory.spelling import pitch_name


class Counted(Struct, frozen=True):
    """The proof on one string: from its open pitch up to the fret that sounds the tonic."""

    course: int
    open: str  # pitch name as tuned, without capo
    capo: int  # the capo's fret over the string, or 0
    at_capo: str  # the pitch name that the capo makes of it; the open one without
    fret: int  # as played: above the capo
    sounds: str  # pitch name
    standard_open: str  # the same string in standard tuning
    standard: str  # the pitch name habit gives that fret


class ShapeKey(Struct, frozen=True):
    """What a part sounds in and is shaped as; ``shaped`` is None where there is no one answer.

    ``proof`` has the strings that were asked, ``others`` the strings in use whose habit says
    another tonic, each with it.
    """

    sounds: str
    shaped: str | None
    wished: bool  # the teacher's own name for it
    proof: tuple[Counted, ...]
    others: tuple[tuple[int, str], ...]


def shape_key(
    section: Section, part: Part, index: int, standard: tuple[str, ...]
) -> ShapeKey | None:
    """What a part sounds in and is shaped as in a section; None for a section without a tonic.

    ``index`` is the part's place in the lesson.
    """
    key = section.head.key
    if key is None:
        return None
    setup = setup_in(section, part)
    used = {course for bars in section.bars.chunks for course in _courses(bars, index)}
    played = roots_played(section, setup, index)
    return _shape_key(
        key,
        setup,
        tuple(sorted(used)),
        tuple(sorted(played)),
        standard,
        section.head.shape_key,
    )


@lru_cache(maxsize=1024)
def _shape_key(
    key: Key,
    setup: Setup,
    used: tuple[int, ...],
    played: tuple[Root, ...],
    standard: tuple[str, ...],
    wish: str | None,
) -> ShapeKey:
    places: dict[int, Root] = {}
    for root in sorted(played or roots_on_neck(setup, pitch_class(key.tonic))):
        if played or root.course in used or not used:
            places.setdefault(root.course, root)
    proof = tuple(_counted(places[course], setup, key, standard) for course in sorted(places))
    said = {one.course: pitch_class(one.standard[:-1]) for one in proof}
    votes = Counter(said.values())
    most = max(votes, key=lambda tonic: votes[tonic], default=None)
    one = most if most is not None and 2 * votes[most] > len(said) else None
    all_said = {course: _habit(setup, course, key, standard) for course in used} | said
    others = tuple(
        (course, simplest_tonic(tonic, key))
        for course, tonic in sorted(all_said.items())
        if tonic != one
    )
    return ShapeKey(
        sounds=key.tonic,
        shaped=wish or (None if one is None else simplest_tonic(one, key)),
        wished=wish is not None,
        proof=proof,
        others=others,
    )


def _habit(setup: Setup, course: int, key: Key, standard: tuple[str, ...]) -> int:
    """The pitch class that habit says on this string where it sounds the tonic."""
    shift = named_fretted(setup, course) - midi_of(standard[-course])
    return (pitch_class(key.tonic) - shift) % 12


def _counted(root: Root, setup: Setup, key: Key, standard: tuple[str, ...]) -> Counted:
    string, usual = setup.course(root.course).strings[0], standard[-root.course]
    at_capo = named_fretted(setup, root.course)
    habit = midi_of(usual) + root.fret
    name = simplest_tonic(habit % 12, key)
    return Counted(
        course=root.course,
        open=string.pitch,
        capo=root.capo,
        at_capo=pitch_name(at_capo, key) if root.capo else string.pitch,
        fret=root.fret,
        sounds=pitch_name(root.midi, key),
        standard_open=usual,
        standard=pitch_name(habit, replace(key, tonic=name)),
    )


def simplest_tonic(tonic: int, key: Key) -> str:
    """The name of a tonic whose scale, of the same kind, needs the fewest accidentals.

    The key's own tonic keeps its name.
    """
    if tonic == pitch_class(key.tonic):
        return key.tonic
    plain = plain_name(tonic)
    names = [name for name in _NAMES if pitch_class(name) == tonic]

    def accidentals(name: str) -> tuple[int, bool]:
        scale = scale_notes(replace(key, tonic=name))
        return sum(abs(alteration_of(note)) for note in scale), name != plain

    return min(names, key=accidentals)


_NAMES = tuple(letter + sign for letter in "CDEFGAB" for sign in ("", "#", "b"))


@lru_cache(maxsize=128)
def _courses(bars: tuple[Bar, ...], index: int) -> frozenset[int]:
    return frozenset(note.course for bar in bars for note in bar.notes[index])
