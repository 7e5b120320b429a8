"""Scales, spelling and key signatures against music21 (its own ``scale`` and ``key`` modules).

Trusted there: the seven church modes, the harmonic minor, the ascending melodic minor, and the
Phrygian dominant as a harmonic minor from its fifth. It has no pentatonic or blues class: those
are checked as pitch classes against their intervals in Kostka & Payne, *Tonal Harmony*, and Levine,
*The Jazz Theory Book* (both from memory).
"""

from itertools import product

import pytest
from music21 import key as m21key
from music21 import pitch as m21pitch
from music21 import scale as m21scale

from chalkfret.model import Key, Mode
from chalkfret.model.pitch import pitch_class
from chalkfret.theory.scales import degrees_of, mode_intervals, scale_notes
from chalkfret.theory.signature import signature
from chalkfret.theory.spelling import spell

TONICS = [letter + accidental for letter, accidental in product("CDEFGAB", ("b", "", "#"))]
CHURCH = {
    Mode.MAJOR: m21scale.MajorScale,
    Mode.DORIAN: m21scale.DorianScale,
    Mode.PHRYGIAN: m21scale.PhrygianScale,
    Mode.LYDIAN: m21scale.LydianScale,
    Mode.MIXOLYDIAN: m21scale.MixolydianScale,
    Mode.MINOR: m21scale.MinorScale,
    Mode.LOCRIAN: m21scale.LocrianScale,
    Mode.HARMONIC_MINOR: m21scale.HarmonicMinorScale,
    Mode.MELODIC_MINOR: m21scale.MelodicMinorScale,
}


def theirs(name: str) -> str:
    """A tonic in music21's spelling."""
    return name.replace("b", "-") if len(name) > 1 else name


def ours(pitch: m21pitch.Pitch) -> str:
    return pitch.name.replace("-", "b")


def rising(scale: m21scale.ConcreteScale, tonic: str) -> tuple[str, ...]:
    low = m21pitch.Pitch(f"{theirs(tonic)}3")
    high = low.transpose("P8")
    pitches = scale.getPitches(low, high, direction=m21scale.Direction.ASCENDING)
    return tuple(ours(pitch) for pitch in pitches[:-1])


def test_there_are_twenty_one_tonics() -> None:
    assert len(set(TONICS)) == 21


@pytest.mark.parametrize("mode", CHURCH)
def test_a_scale_is_spelled_as_music21_spells_it(mode: Mode) -> None:
    for tonic in TONICS:
        expected = rising(CHURCH[mode](theirs(tonic)), tonic)
        assert scale_notes(Key(tonic, mode)) == within_two_accidentals(expected, tonic, mode)


def within_two_accidentals(expected: tuple[str, ...], tonic: str, mode: Mode) -> tuple[str, ...]:
    """Of their names those we can write; where they need a third accidental, ours that sounds so.

    That is so for the outermost tonics only: F flat Phrygian has a triple flat.
    """
    mine = scale_notes(Key(tonic, mode))
    assert len(mine) == len(expected)
    for got, name in zip(mine, expected, strict=True):
        if len(name) > 3:
            sounds = m21pitch.Pitch(name[0] + name[1:].replace("b", "-")).pitchClass
            assert pitch_class(got) == sounds, (tonic, mode)
    return tuple(name if len(name) <= 3 else got for got, name in zip(mine, expected, strict=True))


def test_phrygian_dominant_is_the_harmonic_minor_from_its_fifth() -> None:
    for tonic in TONICS:
        low = m21pitch.Pitch(f"{theirs(tonic)}3")
        minor = m21scale.HarmonicMinorScale(low.transpose("-P5"))
        expected = rising(minor, tonic)
        key = Key(tonic, Mode.PHRYGIAN_DOMINANT)
        assert scale_notes(key) == within_two_accidentals(expected, tonic, key.mode)


# Semitones from the tonic, as the two books named above print them (from memory).
PRINTED = {
    Mode.MAJOR_PENTATONIC: (0, 2, 4, 7, 9),
    Mode.MINOR_PENTATONIC: (0, 3, 5, 7, 10),
    Mode.BLUES: (0, 3, 5, 6, 7, 10),
    Mode.MAJOR_BLUES: (0, 2, 3, 4, 7, 9),
    Mode.WHOLE_TONE: (0, 2, 4, 6, 8, 10),
    Mode.DIMINISHED_WHOLE_HALF: (0, 2, 3, 5, 6, 8, 9, 11),
    Mode.DIMINISHED_HALF_WHOLE: (0, 1, 3, 4, 6, 7, 9, 10),
    Mode.DOUBLE_HARMONIC: (0, 1, 4, 5, 7, 8, 11),
}


@pytest.mark.parametrize("mode", PRINTED)
def test_the_scales_music21_has_not_have_the_printed_intervals(mode: Mode) -> None:
    assert mode_intervals(mode) == PRINTED[mode]


# The modes of the melodic and the harmonic minor are those scales from another note: the parent
# and the number of the note they begin on (common practice).
ROTATIONS = {
    Mode.DORIAN_FLAT_2: (m21scale.MelodicMinorScale, 2),
    Mode.LYDIAN_AUGMENTED: (m21scale.MelodicMinorScale, 3),
    Mode.LYDIAN_DOMINANT: (m21scale.MelodicMinorScale, 4),
    Mode.MIXOLYDIAN_FLAT_6: (m21scale.MelodicMinorScale, 5),
    Mode.LOCRIAN_NATURAL_2: (m21scale.MelodicMinorScale, 6),
    Mode.ALTERED: (m21scale.MelodicMinorScale, 7),
    Mode.LOCRIAN_NATURAL_6: (m21scale.HarmonicMinorScale, 2),
    Mode.IONIAN_AUGMENTED: (m21scale.HarmonicMinorScale, 3),
    Mode.DORIAN_SHARP_4: (m21scale.HarmonicMinorScale, 4),
    Mode.PHRYGIAN_DOMINANT: (m21scale.HarmonicMinorScale, 5),
    Mode.LYDIAN_SHARP_2: (m21scale.HarmonicMinorScale, 6),
}


@pytest.mark.parametrize("mode", ROTATIONS)
def test_a_mode_of_a_minor_scale_is_that_scale_from_another_note(mode: Mode) -> None:
    kind, number = ROTATIONS[mode]
    parent = rising(kind("A"), "A")
    turned = parent[number - 1 :] + parent[: number - 1]
    assert scale_notes(Key(turned[0], mode)) == turned


def test_every_mode_has_an_outside_check() -> None:
    assert set(Mode) == set(CHURCH) | set(PRINTED) | set(ROTATIONS)


def test_degrees_are_the_steps_from_the_major_scale() -> None:
    """A degree's accidental is music21's ``accidental`` of that scale degree in major."""
    for mode, kind in CHURCH.items():
        major = m21scale.MajorScale("C")
        names = rising(kind("C"), "C")
        expected = []
        for name in names:
            pitch = m21pitch.Pitch(name[0] + name[1:].replace("b", "-"))
            number, accidental = major.getScaleDegreeAndAccidentalFromPitch(pitch)
            shift = int(accidental.alter) if accidental else 0
            expected.append(("b" * -shift if shift < 0 else "#" * shift) + str(number))
        assert degrees_of(Key("C", mode)) == tuple(expected), mode


MUSIC21_MODES = {
    Mode.MAJOR: "major", Mode.DORIAN: "dorian", Mode.PHRYGIAN: "phrygian", Mode.LYDIAN: "lydian",
    Mode.MIXOLYDIAN: "mixolydian", Mode.MINOR: "minor", Mode.LOCRIAN: "locrian",
}  # fmt: skip


@pytest.mark.parametrize("mode", MUSIC21_MODES)
def test_the_signature_is_that_of_music21(mode: Mode) -> None:
    """Exact up to seven sharps or flats; beyond, the same key by its other name."""
    for tonic in TONICS:
        theirs_sharps = m21key.Key(theirs(tonic), MUSIC21_MODES[mode]).sharps
        sharps, _third = signature(Key(tonic, mode))
        assert -7 <= sharps <= 7
        if abs(theirs_sharps) <= 7:
            assert sharps == theirs_sharps, (tonic, mode)
        else:
            assert (sharps - theirs_sharps) % 12 == 0, (tonic, mode)


def test_the_notes_that_habit_names_wrongly() -> None:
    """The examples of design and trade, each confirmed by music21's own transposition."""
    for tonic, interval, mode, name in (
        ("F#", "A4", Mode.LYDIAN, "B#"),
        ("Db", "m3", Mode.DORIAN, "Fb"),
        ("A#", "M7", Mode.MINOR, "G##"),  # raised seventh, not of the scale
        ("Eb", "m2", Mode.MAJOR, "Fb"),
        ("C", "A4", Mode.MINOR, "F#"),
    ):
        pitch = m21pitch.Pitch(f"{theirs(tonic)}3").transpose(interval)
        assert ours(pitch) == name
        assert spell(int(pitch.ps), Key(tonic, mode)) == name
