"""The trade's signs: what is written on the string, in letters, and as amounts of bends."""

import pytest

from chalkfret.model import (
    ArtificialHarmonic,
    Bend,
    BendPoint,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Trill,
)
from chalkfret.sheet.marks import Lane, bend_amount, bend_moves, number_of, prebent, signs_of


def note(*marks, fret=7):
    return Note(0, 5040, 3, fret, marks=marks)


def bend(*points):
    return Bend(tuple(BendPoint(*point) for point in points))


# Common practice of the trade.
@pytest.mark.parametrize(
    ("marks", "expected"),
    [
        ((), "7"),
        ((Sign.DEAD,), "x"),
        ((Sign.GHOST,), "(7)"),
        ((Sign.TIE,), "(7)"),
        ((Sign.DEAD, Sign.GHOST), "(x)"),
        ((NaturalHarmonic(12.0),), "<12>"),
        ((NaturalHarmonic(3.2),), "<3.2>"),
        ((ArtificialHarmonic(),), "7"),
    ],
)
def test_what_stands_on_the_string(marks, expected):
    assert number_of(note(*marks)) == expected


@pytest.mark.parametrize(
    ("marks", "letters"),
    [
        ((Sign.HAMMER_ON,), ("H",)),
        ((Sign.PULL_OFF,), ("P",)),
        ((Sign.TAP,), ("T",)),
        ((Trill(9),), ("tr (9)",)),
        ((ArtificialHarmonic(),), ("A.H.",)),
        ((ArtificialHarmonic(5.0),), ("A.H. 12",)),
    ],
)
def test_letters_over_the_staff(marks, letters):
    sign = signs_of(note(*marks))
    assert sign.letters == letters
    assert sign.lanes & Lane.LETTERS


@pytest.mark.parametrize(
    ("cents", "words"),
    [(200, "full"), (100, "½"), (50, "¼"), (150, "¾"), (300, "1½"), (400, "2"), (250, "1¼")],
)
def test_amounts_of_bends_in_whole_tones(cents, words):
    assert bend_amount(cents) == words


def test_a_bend_with_release_rises_and_falls():
    assert bend_moves(bend((0, 0), (1000, 200), (3000, 0))) == ((0, 200), (200, 0))
    assert bend_moves(bend((0, 0), (500, 100), (1000, 200))) == ((0, 200),)  # one rise


def test_a_prebend_is_bent_before_it_is_struck():
    assert prebent(bend((0, 200), (2000, 0)))
    assert not prebent(bend((0, 0), (2000, 200)))


def test_a_slide_from_a_note_is_a_line_with_an_arc_since_it_is_picked_once():
    sign = signs_of(note(Slide(SlideWay.FROM_NOTE)))
    assert sign.slide
    assert sign.slur
    assert signs_of(note(Slide(SlideWay.OUT_UP))).slide_out == 1
    assert signs_of(note(Slide(SlideWay.IN_FROM_ABOVE))).slide_in == -1
