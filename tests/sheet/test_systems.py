"""Breaking into systems: optimal, and the same after an edit as from nothing."""

from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.sheet.systems import BarWidth, Breaker, _cost, _last_cost

FIRST, LATER = 150.0, 165.0

widths = st.lists(
    st.builds(
        lambda natural, share, ends: BarWidth(natural, natural * share, ends),
        st.integers(12, 200).map(float),
        st.sampled_from([0.5, 0.8, 1.0]),
        st.integers(0, 12).map(lambda n: n == 0),
    ),
    min_size=1,
    max_size=60,
)


def broken(bars, breaker=None):
    return (breaker or Breaker()).systems("s", tuple(bars), FIRST, LATER)


def price(bars, cuts):
    """The cost of a way to break the bars, None where it is not allowed."""
    total = 0
    for start, stop in cuts:
        run = bars[start:stop]
        if any(bar.ends for bar in run[:-1]):
            return None
        room = LATER if start else FIRST
        natural, smallest = sum(b.natural for b in run), sum(b.smallest for b in run)
        if stop == len(bars) or run[-1].ends:
            cost = _last_cost(natural, smallest, room, stop - start, start == 0)
        else:
            cost = _cost(natural, smallest, room)
        if cost is None:
            if stop - start > 1:
                return None
            cost = 10_000_000
        total += cost
    return total


@given(widths)
def test_every_bar_stands_in_one_system_in_order(bars):
    cuts = broken(bars)
    assert cuts[0][0] == 0
    assert cuts[-1][1] == len(bars)
    assert all(one[1] == two[0] for one, two in pairwise(cuts))
    assert all(start < stop for start, stop in cuts)
    ends = {stop for _, stop in cuts}
    assert all(index + 1 in ends for index, bar in enumerate(bars) if bar.ends)


@given(st.lists(widths.map(lambda bars: bars[0]), min_size=1, max_size=9))
def test_no_other_breaking_costs_less(bars):
    count = len(bars)
    prices = [
        price(bars, list(pairwise((0, *inner, count))))
        for size in range(count)
        for inner in combinations(range(1, count), size)
    ]
    best = min(one for one in prices if one is not None)
    assert price(bars, broken(bars)) == best


@given(widths, widths, st.data())
def test_an_edit_gives_what_laying_out_from_nothing_gives(bars, others, data):
    breaker = Breaker()
    broken(bars, breaker)
    for _ in range(3):
        start = data.draw(st.integers(0, len(bars)))
        stop = data.draw(st.integers(start, min(len(bars), start + 2)))
        more = others[: data.draw(st.integers(0, 2))]
        bars = (bars[:start] + more + bars[stop:]) or others[:1]
        assert broken(bars, breaker) == broken(bars)


def test_four_equal_bars_of_a_section_are_two_and_two_rather_than_three_and_one():
    bar = BarWidth(60.0, 45.0)
    assert broken([bar] * 4) == ((0, 2), (2, 4))
