"""Pitch and note names. MIDI numbers: MIDI 1.0, table of note numbers (middle C 60, A4 69)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model.pitch import (
    PitchNameError,
    accidentals,
    alteration_of,
    letter_of,
    midi_of,
    note_of,
    octave_of,
    pitch_class,
)


@pytest.mark.parametrize(
    ("name", "midi"),
    [("A4", 69), ("C4", 60), ("E2", 40), ("E4", 64), ("Cb4", 59), ("B#3", 60), ("F##2", 43),
     ("Bbb3", 57), ("C-1", 0), ("G9", 127)],
)  # fmt: skip
def test_midi_numbers(name: str, midi: int) -> None:
    assert midi_of(name) == midi


def test_parts_of_a_name() -> None:
    assert (letter_of("Eb2"), alteration_of("Eb2"), note_of("Eb2")) == ("E", -1, "Eb")
    assert (letter_of("G##"), alteration_of("G##"), note_of("G##3")) == ("G", 2, "G##")
    assert [pitch_class(name) for name in ("C", "B#", "Cb", "F#")] == [0, 0, 11, 6]
    assert [accidentals(shift) for shift in (-2, -1, 0, 1, 2)] == ["bb", "b", "", "#", "##"]


@pytest.mark.parametrize("text", ["", "H", "e2", "E2 ", "E###", "Ebb#", "2E"])
def test_what_is_no_name(text: str) -> None:
    with pytest.raises(PitchNameError) as error:
        midi_of(text)
    assert error.value.text == text


def test_a_note_name_has_no_midi_number() -> None:
    with pytest.raises(PitchNameError):
        midi_of("E")


@given(st.integers(12, 118), st.sampled_from([n + a for n in "CDEFGAB" for a in ("", "#", "b")]))
def test_octaves_count_from_the_letter(midi: int, name: str) -> None:
    midi = midi - midi % 12 + pitch_class(name)
    assert midi_of(f"{name}{octave_of(midi, name)}") == midi
