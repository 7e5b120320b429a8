from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model import NoteNaming
from chalkfret.model.pitch import midi_of, note_of, octave_of
from chalkfret.theory.naming import CannotRead, degree_shown, read_note, read_tuning, shown

NAMES = [letter + sign for letter in "CDEFGAB" for sign in ("bb", "b", "", "#", "##")]


def row(text: str, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    return " ".join(read_tuning(text, naming))


@given(st.sampled_from(NAMES), st.sampled_from(list(NoteNaming)), st.none() | st.integers(0, 8))
def test_what_is_shown_is_read_back(name: str, naming: NoteNaming, octave: int | None) -> None:
    pitch = name if octave is None else f"{name}{octave}"
    assert read_note(shown(pitch, naming), naming) == pitch


def test_german_has_h_and_b() -> None:
    german = NoteNaming.GERMAN
    assert [shown(name, german) for name in ("B", "Bb", "B#", "Bbb", "Eb", "F##2")] == [
        "H", "B", "H♯", "H𝄫", "E♭", "F𝄪2",
    ]  # fmt: skip
    assert read_note("B", german) == "Bb"
    assert read_note("B") == "B"


def test_solfege_has_si() -> None:
    assert [shown(name, NoteNaming.SOLFEGE) for name in ("C", "Eb", "G#", "B3")] == [
        "Do", "Mi♭", "Sol♯", "Si3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Eb", "Eb"), ("eb", "Eb"), ("E♭", "Eb"), ("e flat", "Eb"), ("E-flat", "Eb"),
        ("Es", "Eb"), ("Mib", "Eb"), ("mi bémol", "Eb"), ("F#", "F#"), ("f sharp", "F#"),
        ("Fis", "F#"), ("fa dièse", "F#"), ("G##", "G##"), ("Gx", "G##"), ("G𝄪", "G##"),
        ("g double sharp", "G##"), ("Gisis", "G##"), ("Heses", "Bbb"), ("bb", "Bb"), ("b", "B"),
        ("h", "B"), ("si", "B"), ("sib", "Bb"), ("As", "Ab"), ("a", "A"), ("la", "A"),
        ("e 2", "E2"), ("  E2 ", "E2"), ("E♮", "E"),
    ],
)  # fmt: skip
def test_notes_as_players_type_them(typed: str, name: str) -> None:
    assert read_note(typed) == name


@pytest.mark.parametrize("typed", ["", "x", "Q", "E###", "drop D", "♭", "7", "E-", "Ebbb", "H♯♭"])
def test_what_is_no_note_is_said(typed: str) -> None:
    with pytest.raises(CannotRead) as caught:
        read_note(typed)
    assert caught.value.fault.code == "note_unreadable"


def test_degrees_have_proper_signs() -> None:
    assert [degree_shown(degree) for degree in ("1", "b3", "#4", "bb7", "")] == [
        "1", "♭3", "♯4", "𝄫7", "",
    ]  # fmt: skip


# Rows as players write them; the octaves are those of the instruments they are named for
# (common practice).
ROWS = {
    "E A D G B E": "E2 A2 D3 G3 B3 E4",
    "C G C F A D": "C2 G2 C3 F3 A3 D4",
    "D A D G A D": "D2 A2 D3 G3 A3 D4",
    "DADGAD": "D2 A2 D3 G3 A3 D4",
    "dadgad": "D2 A2 D3 G3 A3 D4",
    "eadgbe": "E2 A2 D3 G3 B3 E4",
    "C-G-C-F-A-D": "C2 G2 C3 F3 A3 D4",
    "c, g, c, f, a, d": "C2 G2 C3 F3 A3 D4",
    "EbAbDbGbBbEb": "Eb2 Ab2 Db3 Gb3 Bb3 Eb4",
    "E♭ A♭ D♭ G♭ B♭ E♭": "Eb2 Ab2 Db3 Gb3 Bb3 Eb4",
    "E flat A flat D flat G flat B flat E flat": "Eb2 Ab2 Db3 Gb3 Bb3 Eb4",
    "C# G# C# F# A# D#": "C#2 G#2 C#3 F#3 A#3 D#4",
    "B E A D F# B": "B1 E2 A2 D3 F#3 B3",
    "BEADF#B": "B1 E2 A2 D3 F#3 B3",
    "A E A D F# B": "A1 E2 A2 D3 F#3 B3",
    "C G D A E B": "C2 G2 D3 A3 E4 B4",
    "C G D G C D": "C2 G2 D3 G3 C4 D4",
    "D A D F# A D": "D2 A2 D3 F#3 A3 D4",
    "E E E E B E": "E2 E2 E3 E3 B3 E4",
    "F A C G C E": "F2 A2 C3 G3 C4 E4",
    "B E A D G B E": "B1 E2 A2 D3 G3 B3 E4",
    "A E A D G B E": "A1 E2 A2 D3 G3 B3 E4",
    "F# B E A D G B E": "F#1 B1 E2 A2 D3 G3 B3 E4",
    "E B E A D G B E": "E1 B1 E2 A2 D3 G3 B3 E4",
    "E A D G": "E1 A1 D2 G2",
    "B E A D G": "B0 E1 A1 D2 G2",
    "D G B E": "D3 G3 B3 E4",
    "C G D A": "C3 G3 D4 A4",
    "G D G": "G2 D3 G3",
    "Mi La Re Sol Si Mi": "E2 A2 D3 G3 B3 E4",
    "A1 E A D G B E": "A1 E2 A2 D3 G3 B3 E4",
    "c2 g2 c3 f3 a3 d4": "C2 G2 C3 F3 A3 D4",
    "C2G2C3F3A3D4": "C2 G2 C3 F3 A3 D4",
    "G4 C4 E4 A4": "G4 C4 E4 A4",
}


@pytest.mark.parametrize("typed", ROWS)
def test_tunings_as_players_type_them(typed: str) -> None:
    assert row(typed) == ROWS[typed]


def test_a_german_row() -> None:
    assert row("E A D G H E", NoteNaming.GERMAN) == "E2 A2 D3 G3 B3 E4"
    assert row("Es As Des Ges B Es", NoteNaming.GERMAN) == "Eb2 Ab2 Db3 Gb3 Bb3 Eb4"


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "tuning_count"),
        ("E A", "tuning_count"),
        (" ".join("EADGBE" * 3), "tuning_count"),
        ("E A D G X E", "note_unreadable"),
        ("drop D", "note_unreadable"),
        ("E A D G9 B E", "octave_range"),
    ],
)
def test_what_is_no_tuning_is_said(typed: str, code: str) -> None:
    with pytest.raises(CannotRead) as caught:
        read_tuning(typed)
    assert caught.value.fault.code == code


@given(st.lists(st.sampled_from(NAMES), min_size=3, max_size=12))
def test_guessed_octaves_never_go_down(names: list[str]) -> None:
    pitches = read_tuning(" ".join(names))
    assert [note_of(pitch) for pitch in pitches] == names
    midis = [midi_of(pitch) for pitch in pitches]
    if len(set(names)) > 1 and len(names) <= 9:  # beyond, eight octaves may not be enough
        assert midis == sorted(midis)


@given(st.lists(st.tuples(st.sampled_from(NAMES), st.integers(0, 8)), min_size=3, max_size=12))
def test_typed_octaves_are_kept(pitches: list[tuple[str, int]]) -> None:
    typed = [f"{name}{octave}" for name, octave in pitches]
    assert read_tuning(" ".join(typed)) == tuple(typed)
    assert octave_of(midi_of(typed[0]), pitches[0][0]) == pitches[0][1]


@given(st.text(max_size=60) | st.text("abcdefghis♭♯#b x0123456789-", max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (read_note, read_tuning):
        for naming in NoteNaming:
            with suppress(CannotRead):
                read(text, naming)


def test_a_huge_number_is_no_octave() -> None:
    with pytest.raises(CannotRead) as caught:
        read_note("E" + "9" * 10_000)
    assert len(str(caught.value.fault.figures)) < 100
