"""Lanes stand as low as what is beneath them allows, and nothing of one is under another."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.sheet.lanes import EVERYWHERE, stack
from chalkfret.sheet.marks import LANE_HEIGHTS, Lane

claims = st.lists(
    st.tuples(
        st.dictionaries(st.sampled_from(Lane), st.integers(1, 255)).map(
            lambda found: tuple(found.items())
        ),
        st.just(8),
    ),
    min_size=1,
    max_size=4,
)


@given(claims)
def test_lanes_over_one_column_never_overlap(bars):
    lanes, highest = stack(bars)
    found = dict(lanes)
    for number, (claimed, _) in enumerate(bars):
        for column in range(8):
            here = sorted((found[lane], lane) for lane, bits in claimed if bits >> column & 1)
            for (low, lane), (high, other) in pairwise(here):
                shared = {lane, other} == {Lane.BENDS, Lane.LETTERS}
                assert shared or low + LANE_HEIGHTS[lane] <= high + 1e-9, (number, column)
    assert highest == max((base + LANE_HEIGHTS[lane] for lane, base in lanes), default=0.0)


def test_accents_lie_low_over_a_bar_without_bends():
    bars = [(((Lane.BENDS, 1),), 8), (((Lane.ACCENTS, 16),), 8)]
    assert dict(stack(bars)[0])[Lane.ACCENTS] == 0.0
    over = [(((Lane.BENDS, 1), (Lane.ACCENTS, 1)), 8)]
    assert dict(stack(over)[0])[Lane.ACCENTS] == LANE_HEIGHTS[Lane.BENDS]


def test_endings_stand_over_everything():
    bars = [(((Lane.MUTES, 1), (Lane.ENDINGS, EVERYWHERE)), 8)]
    assert dict(stack(bars)[0])[Lane.ENDINGS] == LANE_HEIGHTS[Lane.MUTES]


def test_signs_two_columns_apart_share_their_height():
    apart = [(((Lane.LETTERS, 0b1000), (Lane.ACCENTS, 0b0010)), 8)]
    assert dict(stack(apart)[0])[Lane.ACCENTS] == 0.0
    beside = [(((Lane.LETTERS, 0b1000), (Lane.ACCENTS, 0b0100)), 8)]
    assert dict(stack(beside)[0])[Lane.ACCENTS] == LANE_HEIGHTS[Lane.LETTERS]
