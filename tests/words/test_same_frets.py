"""What is said of the same frets: the key, the notes and the chords that then sound."""

from chalkfret.arrange.same_frets import same_frets
from chalkfret.words.same_frets import frets_words
from tests.builder import lesson, part, section, tuned

STANDARD = tuned("E2 A2 D3 G3 B3 E4")
DROP_D = tuned("D2 A2 D3 G3 B3 E4")


def told(line, to, key=None, on=STANDARD):  # type: ignore[no-untyped-def]
    written = lesson(section("A", line, key=key), parts=(part("Guitar", on),))
    return frets_words(written, same_frets(written, 0, to))


def test_the_whole_riff_lower_is_told_with_its_key() -> None:
    lines = told("q 6:0 5:2 4:2 6:3", tuned("Eb2 Ab2 Db3 Gb3 Bb3 Eb4"), "E minor")
    assert lines == [
        "Section A: the same frets give the whole riff 1 semitone lower.",
        "It then sounds in E♭ minor.",
    ]


def test_the_note_and_the_chord_on_the_one_string_that_is_lower_are_named() -> None:
    lines = told("q 6:3+5:2+4:0 5:0 5:2 4:2 | 6:3 5:3 5:2 5:0", DROP_D, "G major")
    assert lines[1:] == [
        "Most of its notes then sound in G major.",
        "From bar 1 on, 2 times: F sounds instead of G.",
        "G becomes Bdim/F.",
    ]


def test_more_than_a_few_are_counted() -> None:
    lines = told("e 6:0 6:1 6:2 6:3 6:4 5:0 4:0 3:0 | e 5:0 4:0 3:0 2:0 1:0 5:2 4:2 3:2", DROP_D)
    assert lines[-1] == "2 more notes differ."
    assert lines[1] == "Bar 1: D sounds instead of E."


def test_notes_that_stay_in_the_scale_say_so() -> None:
    lines = told("q 6:0 5:0 5:2 5:3", DROP_D, "A minor")
    assert lines[1] == "It still sounds in A minor."


def test_notes_without_a_string_are_named() -> None:
    lines = told("q 6:0 5:0 3:0 1:0", tuned("D3 G3 B3 E4"))
    assert lines[-2:] == ["Bar 1: E cannot be played.", "Bar 1: A cannot be played."]
