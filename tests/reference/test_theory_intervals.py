"""Intervals against music21's ``interval`` module: number and kind of every pair of names."""

from itertools import product

from music21 import interval as m21interval
from music21 import pitch as m21pitch

from chalkfret.theory.intervals import interval
from chalkfret.words.names import interval_words

NAMES = [letter + sign for letter, sign in product("CDEFGAB", ("", "#", "b"))]
KINDS = {"Perfect": "", "Major": "major ", "Minor": "minor ", "Augmented": "augmented ",
         "Diminished": "diminished "}  # fmt: skip


def test_every_plain_interval_has_music21s_name() -> None:
    checked = 0
    for low, high in product(NAMES, NAMES):
        theirs = m21interval.Interval(pitch(f"{low}3"), pitch(f"{high}4"))
        kind = KINDS.get(theirs.niceName.split()[0])
        if theirs.semitones < 12 or kind is None:
            continue  # beyond what a word is kept for: doubly augmented and so on
        simple = m21interval.Interval(theirs.simpleName).niceName.split()[-1].lower()
        found = interval(f"{low}3", f"{high}4")
        assert found.semitones + 12 * found.octaves == theirs.semitones
        if found.steps:
            beyond = " and an octave" if theirs.generic.undirected > 8 else ""
            assert interval_words(found) == f"{kind}{simple}{beyond}"
            checked += 1
    assert checked > 130


def pitch(name: str) -> m21pitch.Pitch:
    return m21pitch.Pitch(name[0] + name[1:].replace("b", "-"))


def test_octaves() -> None:
    assert interval_words(interval("C3", "C3")) == "unison"
    assert interval_words(interval("C3", "C4")) == "octave"
    assert interval_words(interval("C3", "C5")) == "2 octaves"
    assert interval_words(interval("C3", "Eb5")) == "minor third and 2 octaves"
    assert interval_words(interval("B3", "Cb4")) == "diminished second"
