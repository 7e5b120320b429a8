"""Whatever is legal in a setup has figures that make sense, or none."""

import math

from hypothesis import given, settings

from chalkfret.model import Setup
from chalkfret.strings.gauges import as_in_standard, best_set, nearest_bought, physical, sets_on
from chalkfret.strings.retune import in_standard
from chalkfret.strings.sharpness import sharpness
from chalkfret.strings.strength import strength
from chalkfret.strings.tension import tension
from chalkfret.strings.turning import may_retune, retune_card
from tests import strategies


@settings(max_examples=100, deadline=None)
@given(strategies.setups())
def test_figures_of_any_setup(setup: Setup) -> None:
    for string in physical(setup):
        share, sharp = strength(string, setup), sharpness(string, setup)
        if tension(string, setup) is None:
            assert share is None
            assert sharp is None
        if share is not None:
            assert 0 < share.percent < math.inf
        if sharp is not None:
            for cents in (*sharp.fretted, sharp.struck):
                assert 0 <= cents.least <= cents.most < math.inf


@settings(max_examples=100, deadline=None)
@given(strategies.setups())
def test_cards_and_gauges_of_any_setup(setup: Setup) -> None:
    home = in_standard(setup)
    assert may_retune(home, setup)
    card = retune_card(home, setup)
    moved = {turn.course for turn in card.turns}
    assert moved.isdisjoint(card.left)
    assert moved | set(card.left) == set(range(1, len(setup.courses) + 1))
    assert card.target == setup
    wanted = as_in_standard(setup)
    assert len(best_set(setup, wanted)) == len(wanted)
    assert (nearest_bought(setup, wanted) is None) == (
        not sets_on(setup) or all(lb is None for lb in wanted)
    )
