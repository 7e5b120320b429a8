import ast
from pathlib import Path

import pytest
from msgspec.structs import replace

from chalkfret import words
from chalkfret.model import Winding
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings.gauges import (
    Nearest,
    RealGauge,
    StringSet,
    Swap,
    as_in_standard,
    nearest_bought,
)
from chalkfret.strings.sharpness import Cents, Sharpness
from chalkfret.strings.strength import Strength
from chalkfret.strings.turning import Reference, StringTurn, retune_card
from chalkfret.words import retuning
from chalkfret.words.string_figures import (
    cents_span,
    found_words,
    nearest_words,
    sharpness_words,
    strength_words,
)
from tests.builder import tuned

TEN = RealGauge(0.010, Winding.PLAIN, 16.2)


@pytest.mark.parametrize(
    ("percent", "words"),
    [
        (52.4, "52 % of breaking strength (± 4 %)"),
        (66.0, "66 % of breaking strength (± 4 %): at the elastic limit"),
        (94.0, "94 % of breaking strength (± 4 %): past the elastic limit"),
    ],
)
def test_a_share_and_where_it_lies(percent: float, words: str) -> None:
    assert strength_words(Strength(percent, (0.0, 0.0), 3.5)) == words
    assert "not computed" in strength_words(None)


def test_cents_as_a_figure_or_a_span() -> None:
    assert cents_span(Cents(3.2, 3.2)) == "3"
    assert cents_span(Cents(9.1, 18.4)) == "9 to 18"
    sharp = Sharpness((Cents(4.0, 4.0),) * 24, Cents(7.0, 7.0), False, True)
    assert sharpness_words(sharp, 5) == "cents sharp: 4 at fret 5, 7 when struck hard"
    assert "estimate" in sharpness_words(replace(sharp, estimate=True), 5)
    assert sharpness_words(None, 5) == ""


def test_a_gauge_that_stays_or_goes_or_does_not_reach() -> None:
    assert found_words(1, 0.010, TEN, 16.2) == "String 1: .010 stays, 16.2 lb (wanted 16.2)"
    assert found_words(1, 0.009, TEN, 16.0) == "String 1: .010 for .009, 16.2 lb (wanted 16.0)"
    assert found_words(1, None, TEN, 16.0) == "String 1: .010, 16.2 lb (wanted 16.0)"
    thickest = RealGauge(0.080, Winding.NICKEL_ROUND, 15.8)
    assert "the thickest in the table" in found_words(8, 0.08, thickest, 20.0)
    assert "stays" in found_words(8, 0.08, thickest, 16.0)


def test_the_nearest_set_as_it_is_and_with_changes_and_none() -> None:
    found = nearest_bought(STANDARD_SETUP, as_in_standard(STANDARD_SETUP))
    assert found is not None
    assert nearest_words(found) == "The nearest set in the shops is 10-46, as it is."
    one = StringSet((TEN,) * 6, "10-46")
    swap = Swap(0, TEN, RealGauge(0.011, Winding.PLAIN, 19.6))
    assert "change one string in it: .011 for the .010." in nearest_words(Nearest(one, (swap,)))
    assert "change 2 strings" in nearest_words(Nearest(one, (swap, swap)))
    assert "Buy single strings" in nearest_words(Nearest(one, (swap,) * 4))


TURN = StringTurn("E2", "D2", 0.0, -2, 0.0, 17.5, 13.9, False)


@pytest.mark.parametrize(
    ("turn", "words"),
    [
        (TURN, "2 semitones down, E2 to D2"),
        (replace(TURN, target="F2", semitones=1), "1 semitone up, E2 to F2"),
        (
            replace(TURN, semitones=0, target="E2", cents=-14.0, target_cents=-14.0),
            "14 cents down, E2, 14 cents flat",
        ),
        (replace(TURN, semitones=0, target="E2"), "E2 at the new A4"),
        (replace(TURN, target_cents=5.0), "2 semitones down, E2 to D2, 5 cents sharp"),
    ],
)
def test_a_turn(turn: StringTurn, words: str) -> None:
    assert retuning.turn_words(turn) == words


def test_references_by_ear() -> None:
    assert retuning.reference_words(Reference(4, 5, 3)) == (
        "fret 5 of string 4 sounds as open string 3"
    )
    assert retuning.reference_words(Reference(2, 0, 3)) == ("open string 2 sounds as open string 3")
    assert "by tuner" in retuning.reference_words(None)


def test_what_a_card_comes_to() -> None:
    drop = plain_setup(["D2", "A2", "D3", "G3", "B3", "E4"])
    assert "(−3.6 lb)" in retuning.total_words(retune_card(STANDARD_SETUP, drop))
    assert "Strings 1, 2, 3, 4, 5 stay" in retuning.left_words(retune_card(STANDARD_SETUP, drop))
    assert "nothing to turn" in retuning.total_words(retune_card(drop, drop))
    bare = retune_card(tuned("E2 A2 D3 G3 B3 E4"), tuned("D2 A2 D3 G3 B3 E4"))
    assert "pulled alike" in retuning.total_words(bare)


@pytest.mark.parametrize("name", ["strings", "string_figures", "retuning"])
def test_no_string_is_called_safe(name: str) -> None:
    source = (Path(words.__file__).parent / f"{name}.py").read_text("utf-8")
    texts = [one.value for one in ast.walk(ast.parse(source)) if isinstance(one, ast.Constant)]
    assert any("breaking strength" in str(text) or "pull" in str(text) for text in texts)
    assert not [text for text in texts if "safe" in str(text).lower()]
