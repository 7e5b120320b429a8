from msgspec.structs import replace

from chalkfret.model import Capo
from chalkfret.theory.roots import Root, root_place
from tests.builder import lesson, part, section, tuned

LOW = tuned("C2 G2 C3 F3 A3 D4")


def root_of(line: str, key: str | None, setup: object = LOW) -> Root | None:
    whole = lesson(section("A", line, key=key), parts=(part("Low", setup),))
    return root_place(whole.sections[0], whole.parts[0], 0)


def test_the_lowest_tonic_that_is_played() -> None:
    root = root_of("q 4:3 5:8 5 8", "Eb lydian")
    assert root is not None
    assert (root.course, root.fret) == (5, 8)


def test_of_equally_low_ones_the_most_frequent() -> None:
    root = root_of("q 5:8 6:15 6:15 4:3 ", "Eb lydian")
    assert root is not None
    assert (root.course, root.fret) == (6, 15)


def test_where_it_is_not_played_the_lowest_on_the_neck() -> None:
    root = root_of("q 6:0 2 5:0 r", "Eb lydian")
    assert root is not None
    assert (root.course, root.fret) == (6, 3)


def test_a_harmonic_or_dead_note_is_no_place_for_a_hand() -> None:
    root = root_of("q 6:3x 6:3n 5:8 r", "Eb lydian")
    assert root is not None
    assert (root.course, root.fret) == (5, 8)


def test_frets_count_from_the_capo() -> None:
    root = root_of("q 6:1 1 1 1", "Eb lydian", replace(LOW, capo=Capo(2)))
    assert root == Root(39, 6, 1, 2)


def test_without_a_tonic_there_is_no_root() -> None:
    assert root_of("q 6:0", None) is None
