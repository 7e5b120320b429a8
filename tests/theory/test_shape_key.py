from msgspec.structs import replace

from chalkfret.model import Capo
from chalkfret.strings.retune import standard_of
from chalkfret.theory.shape_key import ShapeKey, shape_key
from tests.builder import lesson, part, section, tuned

LOW = tuned("C2 G2 C3 F3 A3 D4")  # a tone lower, the sixth two tones


def shaped(line: str, key: str, setup: object = LOW, **head: object) -> ShapeKey:
    whole = lesson(section("A", line, key=key, **head), parts=(part("Low", setup),))
    found = shape_key(whole.sections[0], whole.parts[0], 0, standard_of(setup))
    assert found is not None
    return found


def test_a_tone_lower_is_shaped_a_tone_higher() -> None:
    low = tuned("D2 G2 C3 F3 A3 D4")
    found = shaped("q 5:3 2 3 5", "Bb lydian", low)
    assert (found.sounds, found.shaped, found.others) == ("Bb", "C", ())
    (proof,) = found.proof
    assert (proof.course, proof.open, proof.fret, proof.sounds) == (5, "G2", 3, "Bb2")
    assert (proof.standard_open, proof.standard) == ("A2", "C3")


def test_the_dropped_string_says_another_tonic_and_is_named() -> None:
    found = shaped("q 5:5 3:7 6:0 4:0", "C minor")
    # C on strings 5, 4, 3, 6: habit says D, D, D, E.
    assert found.shaped == "D"
    assert found.others == ((6, "E"),)
    assert [one.course for one in found.proof] == [3, 4, 5, 6]


def test_where_strings_disagree_evenly_there_is_no_one_answer() -> None:
    found = shaped("q 6:0 5:5", "C minor")
    assert found.shaped is None
    assert found.others == ((5, "D"), (6, "E"))


def test_a_tonic_that_is_not_played_is_counted_on_the_strings_in_use() -> None:
    found = shaped("q 5:0 2", "C minor")
    assert found.shaped == "D"
    assert [(one.course, one.fret) for one in found.proof] == [(5, 5)]


def test_a_capo_makes_the_played_fret_another_than_the_sounding_one() -> None:
    found = shaped("q 6:3 3 3 3", "A major", replace(tuned("E2 A2 D3 G3 B3 E4"), capo=Capo(2)))
    assert (found.sounds, found.shaped) == ("A", "G")
    (proof,) = found.proof
    assert (proof.open, proof.capo, proof.at_capo, proof.fret) == ("E2", 2, "F#2", 3)
    assert (proof.sounds, proof.standard) == ("A2", "G2")


def test_the_name_with_fewer_accidentals_is_taken() -> None:
    half_down = tuned("Eb2 Ab2 Db3 Gb3 Bb3 Eb4")
    assert shaped("q 6:0", "Eb minor", half_down).shaped == "E"
    assert shaped("q 6:9", "C major", half_down).shaped == "Db"
    assert shaped("q 6:4", "G minor", half_down).shaped == "G#"


def test_the_teachers_wish_overrules() -> None:
    found = shaped("q 6:0 5:5", "C minor", shape_key="E")
    assert (found.shaped, found.wished) == ("E", True)


def test_in_standard_tuning_it_is_shaped_as_it_sounds() -> None:
    found = shaped("q 6:0 3 5 0", "E minor", tuned("E2 A2 D3 G3 B3 E4"))
    assert (found.sounds, found.shaped, found.others) == ("E", "E", ())


def test_an_empty_section_is_counted_on_the_neck() -> None:
    found = shaped("q r r r r", "C minor", tuned("D2 G2 C3 F3 A3 D4"))
    assert found.shaped == "D"
