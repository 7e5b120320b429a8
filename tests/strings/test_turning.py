from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import Course, Setup
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings.ordering import least_span, span_of
from chalkfret.strings.tension import total_tension
from chalkfret.strings.turning import CannotRetune, Reference, retune_card
from tests.builder import tuned

changes = st.lists(st.floats(-12, 12).map(lambda lb: round(lb, 3)), max_size=6)


@settings(max_examples=300)
@given(changes)
def test_no_order_of_up_to_six_strings_has_a_lesser_span(these: list[float]) -> None:
    order = least_span(these)
    assert sorted(order) == list(range(len(these)))
    least = min(span_of(these, every) for every in permutations(range(len(these))))
    assert span_of(these, order) == pytest.approx(least, abs=1e-9)


def test_ups_and_downs_take_turns() -> None:
    assert span_of([5, 5, -5, -5], least_span([5, 5, -5, -5])) == 5
    assert span_of([5, 5, -5, -5], [0, 1, 2, 3]) == 10


def test_equal_ways_go_from_the_thick_string_to_the_thin() -> None:
    card = retune_card(STANDARD_SETUP, plain_setup(["D2", "G2", "C3", "F3", "A3", "D4"]))
    assert [turn.course for turn in card.turns] == [6, 5, 4, 3, 2, 1]


def test_the_figures_of_drop_d() -> None:
    card = retune_card(STANDARD_SETUP, plain_setup(["D2", "A2", "D3", "G3", "B3", "E4"]))
    (turn,) = card.turns
    assert turn.course == 6
    assert (turn.strings[0].semitones, turn.strings[0].target) == (-2, "D2")
    assert turn.reference == Reference(fretted=6, fret=7, open=5)  # the power chord's own place
    assert card.left == (1, 2, 3, 4, 5)
    assert card.change_lb == pytest.approx(total_tension(card.target).lb - card.before_lb)
    assert turn.total_lb == card.after_lb


# What players tune by (common practice), in standard tuning reached from a whole step down.
BY_EAR = {5: (6, 5), 4: (5, 5), 3: (4, 5), 2: (3, 4), 1: (2, 5)}


def test_the_fifth_fret_way_of_tuning_is_found() -> None:
    low = plain_setup(["D2", "G2", "C3", "F3", "A3", "D4"])
    card = retune_card(low, STANDARD_SETUP)
    assert card.turns[0].reference is None
    for turn in card.turns[1:]:
        assert turn.reference is not None
        assert (turn.reference.fretted, turn.reference.fret) == BY_EAR[turn.course]


@settings(max_examples=50)
@given(st.data())
def test_every_reference_sounds_the_same_and_rests_on_tuned_strings(data: st.DataObject) -> None:
    names = ["C2", "D2", "E2", "G2", "A2", "C3", "D3", "E3", "G3", "A3", "B3", "D4"]
    picks = st.lists(st.sampled_from(names), min_size=6, max_size=6)
    card = retune_card(plain_setup(data.draw(picks)), plain_setup(data.draw(picks)))
    tuned_now = set(card.left)
    totals = [card.before_lb]
    for turn in card.turns:
        if turn.reference is not None:
            pair = {turn.reference.fretted, turn.reference.open}
            assert turn.course in pair
            assert pair - {turn.course} <= tuned_now
            pressed = card.target.course(turn.reference.fretted).strings[0].midi
            heard = card.target.course(turn.reference.open).strings[0].midi
            assert pressed + turn.reference.fret == heard
        tuned_now.add(turn.course)
        totals.append(turn.total_lb)
    assert totals[-1] == pytest.approx(total_tension(card.target).lb)
    assert (card.least_lb, card.most_lb) == (min(totals), max(totals))


def test_strings_without_gauges_have_an_order_and_no_pounds() -> None:
    card = retune_card(tuned("E2 A2 D3 G3 B3 E4"), tuned("F2 G2 E3 F3 C4 D4"))
    ups = [turn.strings[0].semitones > 0 for turn in card.turns]
    assert ups in ([True, False] * 3, [False, True] * 3)
    assert card.change_lb is None
    assert card.most_lb is None
    assert all(turn.total_lb is None for turn in card.turns)


def test_another_string_is_said_and_not_reckoned() -> None:
    gauges = [0.056, 0.036, 0.026, 0.017, 0.013, 0.010]
    heavy = plain_setup(["C2", "A2", "D3", "G3", "B3", "E4"], gauges)
    card = retune_card(STANDARD_SETUP, heavy)
    assert card.turns[0].strings[0].other_string
    assert card.target.course(6).strings[0].gauge == 0.046


def test_another_reference_moves_every_string() -> None:
    card = retune_card(STANDARD_SETUP, replace(STANDARD_SETUP, a4=432.0))
    assert len(card.turns) == 6
    assert card.change_lb == pytest.approx(card.before_lb * ((432 / 440) ** 2 - 1))


def test_pairs_are_turned_together() -> None:
    def pairs(setup: Setup) -> Setup:
        return replace(setup, courses=tuple(Course(one.strings * 2) for one in setup.courses))

    drop = plain_setup(["D2", "A2", "D3", "G3", "B3", "E4"])
    card = retune_card(pairs(STANDARD_SETUP), pairs(drop))
    (turn,) = card.turns
    assert [one.target for one in turn.strings] == ["D2", "D2"]
    with pytest.raises(CannotRetune):
        retune_card(STANDARD_SETUP, pairs(drop))
