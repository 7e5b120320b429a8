import pytest
from msgspec.structs import replace

from chalkfret.model import Capo, Key, Mode, NoteNaming
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.strings.retune import standard_of
from chalkfret.theory.shape_key import shape_key
from chalkfret.theory.shapes import shape_at
from chalkfret.words.names import proof_lines, shape_key_words, shape_words
from tests.builder import lesson, part, riff, section, tuned

DROPPED = tuned("D2 A2 D3 G3 B3 E4")
LOW = tuned("C2 G2 C3 F3 A3 D4")
STANDARD = tuned("E2 A2 D3 G3 B3 E4")


@pytest.mark.parametrize(
    ("line", "setup", "words"),
    [
        ("q 6:0", STANDARD_SETUP, ""),
        ("q 6:0+4:2", STANDARD_SETUP, "octave, one finger"),
        ("q 6:3+5:5", STANDARD_SETUP, "fifth"),
        ("q 6:3+5:3", STANDARD_SETUP, "fourth, one finger"),
        ("q 5:3+4:5+3:5", STANDARD_SETUP, "C5"),
        ("q 5:3+4:2+3:0+2:1+1:0", STANDARD_SETUP, "C"),
        ("q 4:2+3:0+2:1+1:0", STANDARD_SETUP, "C/E"),
        ("q 5:1+4:0+3:2", STANDARD_SETUP, "B♭maj7 without its fifth"),
        ("q 6:1+5:2+4:4", STANDARD_SETUP, "no chord that has a name"),
        ("q 6:5+5:5+4:5", DROPPED,
         "G5, one finger; the same frets in standard tuning: Dsus4/A"),
        ("q 6:3+5:3", DROPPED, "fifth, one finger; the same frets in standard tuning: fourth"),
        ("q 5:2+4:2+3:2", LOW, "Dsus4/A, one finger"),  # evenly lower: the same kind of chord
    ],
)  # fmt: skip
def test_what_sounds_together(line: str, setup: object, words: str) -> None:
    notes = ((), riff(line)[0], ())
    found = shape_at(notes, 0, setup, Key("D", Mode.MINOR), standard_of(setup))
    assert found is not None
    assert shape_words(found) == words


def said(line: str, setup: object, key: str) -> tuple[str, ...]:
    whole = lesson(section("A", line, key=key), parts=(part("Low", setup),))
    found = shape_key(whole.sections[0], whole.parts[0], 0, standard_of(setup))
    assert found is not None
    return (shape_key_words(found), *proof_lines(found))


def test_the_count_string_by_string() -> None:
    assert said("q 5:3 2 3 5", LOW, "Bb lydian") == (
        "sounds in B♭, shaped as C",
        "Open string 5 is G2; fret 3 is B♭2. In standard tuning it is C3.",
    )
    assert said("q 6:0 3", replace(STANDARD, capo=Capo(2)), "A major") == (
        "sounds in A, shaped as G",
        (
            "Open string 6 is E2, the capo at fret 2 makes it F♯2; fret 3 above it is A2. "
            "In standard tuning without a capo it is G2."
        ),
    )


def test_strings_that_differ_are_named() -> None:
    assert said("q 5:5 4:0 6:0", LOW, "C minor") == (
        "sounds in C, shaped as D, but not on every string",
        "Open string 4 is C3; in standard tuning it is D3.",
        "Open string 5 is G2; fret 5 is C3. In standard tuning it is D3.",
        "Open string 6 is C2; in standard tuning it is E2.",
        "String 6 is tuned otherwise: its shapes say E.",
    )
    assert said("q 5:5 6:0", LOW, "C minor")[0] == (
        "sounds in C, shaped as no one key: the strings differ"
    )


def test_german_names() -> None:
    whole = lesson(section("A", "q 5:2", key="B minor"))
    found = shape_key(whole.sections[0], whole.parts[0], 0, standard_of(STANDARD_SETUP))
    assert found is not None
    assert shape_key_words(found, NoteNaming.GERMAN) == "sounds in H, shaped as H"
