"""Differences of two guitars in sentences."""

import pytest

from chalkfret.arrange.differences import Difference, DifferentBars, Kind
from chalkfret.words.differences import bars_words, difference_words, short_words


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (Difference(Kind.SILENT), "Guitar 2 is silent while Guitar 1 plays."),
        (Difference(Kind.PARALLEL, 12), "Guitar 2 plays an octave higher than Guitar 1."),
        (Difference(Kind.PARALLEL, -7), "Guitar 2 plays a fifth lower than Guitar 1."),
        (Difference(Kind.PARALLEL, -24), "Guitar 2 plays two octaves lower than Guitar 1."),
        (Difference(Kind.PARALLEL, 19), "Guitar 2 plays 19 semitones higher than Guitar 1."),
        (Difference(Kind.PARALLEL, 0, -2), "Guitar 2 plays a third lower than Guitar 1."),
        (Difference(Kind.PARALLEL, 0, 9), "Guitar 2 plays 9 scale steps higher than Guitar 1."),
    ],
)
def test_a_difference_is_a_sentence(what, words):
    assert difference_words(what, "Guitar 2", "Guitar 1") == words


def test_every_kind_but_the_same_has_a_sentence_of_its_own():
    kinds = [kind for kind in Kind if kind is not Kind.SAME]
    said = {difference_words(Difference(kind, 1), "Two", "One") for kind in kinds}
    assert len(said) == len(kinds)
    assert len({short_words(Difference(kind, -12)) for kind in kinds}) == len(kinds)
    assert short_words(Difference(Kind.PARALLEL, -12)) == "an octave lower"


def test_bars_are_counted_from_one():
    silent = Difference(Kind.SILENT)
    assert bars_words("B", DifferentBars(4, 4, silent)) == "Section B, bar 5"
    assert bars_words("B", DifferentBars(4, 7, silent)) == "Section B, bars 5 to 8"
