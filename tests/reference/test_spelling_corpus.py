"""Spelling against the print: pieces of the music21 corpus spelled again from their MIDI numbers.

The whole table is `python -m tests.reference.spelling`; here a thinned sample of the same draw.
"""

from functools import cache

import pytest

from tests.reference.spelling.agreement import Agreement, agreement
from tests.reference.spelling.pieces import GENRES, Genre, corpus_root, drawn
from tests.reference.spelling.reading import read

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(corpus_root() is None, reason="the music21 corpus is not installed"),
]

SAMPLE = dict(zip((genre.name for genre in GENRES), (8, 8, 6, 3, 1, 1), strict=True))


@cache
def sampled(genre: Genre) -> Agreement:
    total = Agreement()
    for piece in drawn(genre)[: SAMPLE[genre.name]]:
        total = total.plus(agreement(read(piece)))
    return total


@pytest.mark.parametrize("genre", GENRES, ids=lambda genre: genre.name)
def test_the_print_is_agreed_with(genre: Genre) -> None:
    found = sampled(genre)
    assert found.notes > 100
    assert found.ours >= 0.97 * found.notes


def test_the_neighbours_of_a_note_tell_its_name() -> None:
    """More agree than by the key alone, and far more than by music21's names of numbers."""
    total = Agreement()
    for genre in GENRES:
        total = total.plus(sampled(genre))
    assert total.ours > total.alone > total.theirs


def test_two_hundred_pieces_are_drawn() -> None:
    pieces = [piece for genre in GENRES for piece in drawn(genre)]
    assert len(pieces) == len(set(pieces)) == 200
