import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import Key, Mode
from chalkfret.model.pitch import midi_of, pitch_class
from chalkfret.theory.degrees import Role, colour_degrees, degree, role
from chalkfret.theory.scales import degree_semitones, degrees_of, is_simple, scale_notes
from chalkfret.theory.signature import signature, signature_alteration
from chalkfret.theory.spelling import Line, degrees, name_of, pitch_name, spell

TONICS = [letter + sign for letter in "CDEFGAB" for sign in ("bb", "b", "", "#", "##")]
tonics = st.sampled_from(TONICS)
keys = st.builds(Key, tonics, st.none() | st.sampled_from(list(Mode)))
midis = st.integers(0, 127)


@given(midis, keys, st.booleans())
def test_a_spelled_note_sounds_what_was_asked(midi: int, key: Key, simple: bool) -> None:
    name = spell(midi, key, simple=simple)
    assert pitch_class(name) == midi % 12
    assert midi_of(pitch_name(midi, key, simple=simple)) == midi
    assert is_simple(name) or not simple


@given(midis, keys)
def test_a_degree_lies_where_the_note_does(midi: int, key: Key) -> None:
    above = (midi - pitch_class(key.tonic)) % 12
    assert degree_semitones(degree(midi, key)) == above


@given(keys)
def test_a_scale_has_a_note_for_each_degree_in_place(key: Key) -> None:
    notes = scale_notes(key)
    assert notes[0] == key.tonic
    for note, one in zip(notes, degrees_of(key), strict=True):
        assert (pitch_class(note) - pitch_class(key.tonic)) % 12 == degree_semitones(one)


def test_notes_of_the_scale_are_spelled_by_it() -> None:
    assert scale_notes(Key("F#", Mode.LYDIAN)) == ("F#", "G#", "A#", "B#", "C#", "D#", "E#")
    assert scale_notes(Key("Db", Mode.DORIAN)) == ("Db", "Eb", "Fb", "Gb", "Ab", "Bb", "Cb")
    assert spell(60, Key("F#", Mode.LYDIAN)) == "B#"
    assert pitch_name(60, Key("F#", Mode.LYDIAN)) == "B#3"


def test_other_notes_are_raised_or_lowered_degrees() -> None:
    assert spell(9, Key("A#", Mode.MINOR)) == "G##"
    assert [spell(midi, Key("C", Mode.MINOR)) for midi in (1, 4, 6, 9, 11)] == [
        "Db", "E", "F#", "A", "B",
    ]  # fmt: skip
    assert [spell(midi, Key("E", Mode.MAJOR)) for midi in (5, 7, 10, 0, 2)] == [
        "F", "G", "A#", "C", "D",
    ]  # fmt: skip


def test_a_tonic_alone_names_the_rest_by_the_usual_degrees() -> None:
    key = Key("Eb")
    assert scale_notes(key) == ("Eb",)
    assert [degree(midi, key) for midi in range(3, 15)] == [
        "1", "b2", "2", "b3", "3", "4", "#4", "5", "b6", "6", "b7", "7",
    ]  # fmt: skip


def test_a_typed_scale_spells_its_own_notes() -> None:
    key = Key("D", degrees=("1", "b2", "3", "#4", "5", "bb7"))
    assert scale_notes(key) == ("D", "Eb", "F#", "G#", "A", "Cb")
    assert degree(59, key) == "bb7"
    assert spell(59, key) == "Cb"


def test_without_a_key_the_names_are_those_players_use_most() -> None:
    assert [spell(midi, None) for midi in range(60, 72)] == [
        "C", "C#", "D", "Eb", "E", "F", "F#", "G", "G#", "A", "Bb", "B",
    ]  # fmt: skip
    assert degree(60, None) == ""


def test_a_wish_holds_only_for_the_pitch_it_names() -> None:
    key = Key("C", Mode.MAJOR)
    assert spell(61, key, "C#") == "C#"
    assert spell(62, key, "C#") == "D"


def test_simple_names_have_no_double_accidental() -> None:
    key = Key("A#", Mode.MINOR)
    assert spell(9, key, simple=True) == "A"
    assert spell(10, key, simple=True) == "A#"


@pytest.mark.parametrize(
    ("mode", "colours"),
    [
        (Mode.MAJOR, ()),
        (Mode.MINOR, ()),
        (Mode.LYDIAN, ("#4",)),
        (Mode.MIXOLYDIAN, ("b7",)),
        (Mode.DORIAN, ("6",)),
        (Mode.PHRYGIAN, ("b2",)),
        (Mode.LOCRIAN, ("b2", "b5")),
        (Mode.HARMONIC_MINOR, ("7",)),
        (Mode.PHRYGIAN_DOMINANT, ("b2", "b6", "b7")),
        (Mode.MINOR_PENTATONIC, ()),
        (Mode.BLUES, ("b5",)),
        (Mode.MAJOR_BLUES, ("b3",)),
        (None, ()),
    ],
)
def test_the_degrees_that_colour_a_mode(mode: Mode | None, colours: tuple[str, ...]) -> None:
    assert colour_degrees(Key("G", mode)) == colours


def test_roles() -> None:
    key = Key("D", Mode.DORIAN)
    roles = {name: role(midi_of(name + "3"), key) for name in ("D", "F", "A", "B", "G", "C#")}
    assert roles == {
        "D": Role.HOME,
        "F": Role.FRAME,
        "A": Role.FRAME,
        "B": Role.COLOUR,
        "G": Role.PLAIN,
        "C#": Role.OUTSIDE,
    }
    assert role(50, None) is Role.PLAIN


def test_a_tonic_alone_knows_no_outside() -> None:
    key = Key("D")
    assert {role(midi, key) for midi in range(12)} == {Role.HOME, Role.FRAME, Role.PLAIN}


@given(keys)
def test_home_is_one_note_and_outside_are_those_the_scale_has_not(key: Key) -> None:
    roles = [role(midi, key) for midi in range(12)]
    assert roles.count(Role.HOME) == 1
    if key.mode is not None:
        assert roles.count(Role.OUTSIDE) == 12 - len({pitch_class(n) for n in scale_notes(key)})


@given(keys)
def test_a_signature_is_legal(key: Key) -> None:
    sharps, third = signature(key)
    assert -7 <= sharps <= 7
    assert third in ("major", "minor")


def test_signatures_of_scales_that_are_no_church_mode() -> None:
    assert signature(Key("A", Mode.HARMONIC_MINOR)) == (0, "minor")
    assert signature(Key("E", Mode.MINOR_PENTATONIC)) == (1, "minor")
    assert signature(Key("G#", Mode.MAJOR)) == (-4, "major")
    assert signature(Key("Bb")) == (-2, "major")


def test_a_signature_alters_the_letters_in_the_order_of_fifths() -> None:
    assert [signature_alteration(2, letter) for letter in "CDEFGAB"] == [1, 0, 0, 1, 0, 0, 0]
    assert [signature_alteration(-3, letter) for letter in "CDEFGAB"] == [0, 0, -1, 0, 0, -1, -1]


def line(names: str) -> Line:
    """Pitches after one another; those joined with a plus together: ``"C4 E4+G4"``."""
    return tuple(
        (at, midi)
        for at, word in enumerate(names.split())
        for midi in sorted(midi_of(one) for one in word.split("+"))
    )


def spelled(
    names: str, key: Key, before: str = "", after: str = "", simple: bool = False
) -> list[str]:
    here = line(names)
    found = degrees(line(before), here, line(after), key)
    return [
        name_of(midi, one, key, simple=simple) for (_, midi), one in zip(here, found, strict=True)
    ]


@pytest.mark.parametrize(
    ("key", "played", "names"),
    [
        # Common practice, each case by itself.
        ("C major", "C4 C#4 D4", "C C# D"),  # passing upwards
        ("C major", "D4 C#4 C4", "D Db C"),  # and downwards
        ("C major", "G4 F#4 G4", "G F# G"),  # a raised lower neighbour
        ("C major", "A4 Bb4 A4", "A Bb A"),  # a lowered upper one
        ("C major", "E4 D#4 E4", "E D# E"),
        ("C major", "A3+C#4+E4+G4 D4", "A C# E G D"),  # dominant of the second degree
        ("C major", "E3+G#3+B3+D4 A3", "E G# B D A"),  # of the sixth
        ("C major", "F3+Ab3+C4 C4", "F Ab C C"),  # the minor subdominant
        ("A minor", "A3 G#3 A3", "A G# A"),  # the leading note
        ("A minor", "E3+G#3+B3 A3", "E G# B A"),
        ("A minor", "A3 Bb3 A3", "A Bb A"),
        ("G# minor", "G#3 G3 G#3", "G# F## G#"),  # double accidentals where they are right
        ("Db major", "Ab3 A3 Ab3", "Ab Bbb Ab"),
        ("E phrygian", "E3 F3 F#3 G3", "E F F# G"),
        ("A blues", "D4 Eb4 D4", "D Eb D"),
        ("E minor_pentatonic", "A3 Bb3 A3", "A Bb A"),
        ("E minor_pentatonic", "A3 A#3 B3", "A A# B"),
    ],
)  # fmt: skip
def test_chromatic_notes_go_by_direction_and_harmony(key: str, played: str, names: str) -> None:
    tonic, mode = key.split()
    assert spelled(played, Key(tonic, Mode(mode))) == names.split()


def test_the_bars_beside_tell_too() -> None:
    key = Key("C", Mode.MAJOR)
    assert spelled("C4 F#4", key, after="G4") == ["C", "F#"]
    assert spelled("C4 F#4", key, after="F4") == ["C", "Gb"]
    assert spelled("F#4 A4", key, before="G4")[0] == "F#"


def test_a_repeated_note_keeps_its_name() -> None:
    assert spelled("C4 C#4 C#4 C#4 D4", Key("C", Mode.MAJOR)) == ["C", "C#", "C#", "C#", "D"]


def test_simple_names_give_way_to_nothing_else() -> None:
    key = Key("G#", Mode.MINOR)
    assert spelled("G#3 G3 G#3", key, simple=True) == ["G#", "G", "G#"]


lines = st.lists(st.tuples(st.integers(0, 7), st.integers(20, 100)), max_size=10).map(
    lambda notes: tuple(sorted(notes))
)


@given(lines, lines, lines, keys)
def test_neighbours_never_change_what_sounds_nor_the_scale(
    before: Line, here: Line, after: Line, key: Key
) -> None:
    scale = {pitch_class(note): note for note in scale_notes(key)}
    for (_, midi), one in zip(here, degrees(before, here, after, key), strict=True):
        assert degree_semitones(one) == (midi - pitch_class(key.tonic)) % 12
        name = name_of(midi, one, key)
        assert pitch_class(name) == midi % 12
        assert scale.get(midi % 12, name) == name


@given(lines, keys)
def test_what_stands_transposed_is_spelled_by_the_same_degrees(here: Line, key: Key) -> None:
    """For tonics in whose keys every name can be written."""
    if key.tonic in ("C", "D", "G", "A"):
        up = replace(key, tonic={"C": "D", "D": "E", "G": "A", "A": "B"}[key.tonic])
        higher = tuple((onset, midi + 2) for onset, midi in here)
        assert degrees((), here, (), key) == degrees((), higher, (), up)
