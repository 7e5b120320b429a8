"""Where a section's tonic lies under a player's hand."""

from __future__ import annotations

from collections import Counter
from functools import lru_cache

from msgspec import Struct

from chalkfret.model.bars import Bar
from chalkfret.model.lesson import Part, setup_in
from chalkfret.model.marks import ArtificialHarmonic, Bend, NaturalHarmonic, Sign
from chalkfret.model.pitch import pitch_class
from chalkfret.model.section import Section
from chalkfret.model.setup import Setup
from chalkfret.theory.sounding import named_fretted

_NOT_AS_FRETTED = (NaturalHarmonic, ArtificialHarmonic, Bend)


class Root(Struct, frozen=True, order=True):
    """A place of the tonic: its MIDI number, course, fret, and the capo's fret over the course."""

    midi: int
    course: int
    fret: int
    capo: int


def root_place(section: Section, part: Part, index: int) -> Root | None:
    """Where a part finds the section's tonic; ``index`` is the part's place in the lesson.

    The lowest place at which the part plays it, of equally low ones the most frequent; where the
    part never does, the lowest on its neck. None without a tonic, or where the neck has none.
    """
    key = section.head.key
    if key is None:
        return None
    setup = setup_in(section, part)
    played = roots_played(section, setup, index)
    if played:
        return min(played, key=lambda root: (root.midi, -played[root], root))
    return min(roots_on_neck(setup, pitch_class(key.tonic)), default=None)


def roots_played(section: Section, setup: Setup, index: int) -> Counter[Root]:
    """The places where a part plays the section's tonic, and how often; none without a tonic.

    ``setup`` is the one it plays on, ``index`` the part's place in the lesson.
    """
    played: Counter[Root] = Counter()
    if section.head.key is not None:
        tonic = pitch_class(section.head.key.tonic)
        for chunk in section.bars.chunks:
            played.update(dict(_roots_played(chunk, index, setup, tonic)))
    return played


@lru_cache(maxsize=128)
def _roots_played(
    bars: tuple[Bar, ...], index: int, setup: Setup, tonic: int
) -> tuple[tuple[Root, int], ...]:
    """The places where the bars play the tonic, and how often."""
    places: Counter[tuple[int, int]] = Counter()
    for bar in bars:
        for note in bar.notes[index]:
            if note.marks and (note.has(Sign.DEAD) or any(map(note.mark, _NOT_AS_FRETTED))):
                continue
            places[note.course, note.fret] += 1
    roots = ((_root(setup, course, fret), times) for (course, fret), times in places.items())
    return tuple((root, times) for root, times in roots if root.midi % 12 == tonic)


def _root(setup: Setup, course: int, fret: int) -> Root:
    return Root(named_fretted(setup, course, fret), course, fret, setup.capo_fret(course))


@lru_cache(maxsize=512)
def roots_on_neck(setup: Setup, tonic: int) -> tuple[Root, ...]:
    """Every place on the neck, open strings too, that sounds the tonic."""
    places = (
        _root(setup, course, fret)
        for course in range(1, len(setup.courses) + 1)
        for fret in range(setup.fret_count - setup.capo_fret(course) + 1)
    )
    return tuple(root for root in places if root.midi % 12 == tonic)
