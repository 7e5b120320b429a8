"""Beats and steps. Usual groupings: common practice."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model import QUARTER, BarHead, Meter
from chalkfret.model.meter import (
    DENOMINATORS,
    bar_steps,
    beat_lengths,
    beat_starts,
    usual_grouping,
    usual_steps,
)

Q, E = QUARTER, QUARTER // 2


@pytest.mark.parametrize(
    ("meter", "groups"),
    [
        ((4, 4), (1, 1, 1, 1)), ((3, 2), (1, 1, 1)), ((6, 8), (3, 3)), ((12, 8), (3, 3, 3, 3)),
        ((5, 8), (3, 2)), ((7, 8), (2, 2, 3)), ((8, 8), (3, 3, 2)), ((10, 8), (3, 3, 2, 2)),
        ((11, 8), (3, 3, 3, 2)), ((4, 8), (2, 2)), ((13, 8), (2, 2, 2, 2, 2, 3)), ((1, 8), (1,)),
        ((15, 16), (3,) * 5),
    ],
)  # fmt: skip
def test_usual_groupings(meter: tuple[int, int], groups: tuple[int, ...]) -> None:
    assert usual_grouping(Meter(*meter)) == groups


@given(st.integers(1, 32), st.sampled_from(DENOMINATORS))
def test_groups_fill_the_bar(count: int, unit: int) -> None:
    meter = Meter(count, unit)
    assert sum(usual_grouping(meter)) == count
    assert sum(beat_lengths(meter)) == meter.ticks
    head = BarHead(meter=meter)
    spans = head.step_spans
    assert spans[0][0] == 0
    for (start, size), (after, _) in zip(spans, [*spans[1:], (meter.ticks, 0)], strict=True):
        assert start + size == after


def test_a_pickup_has_the_last_beats() -> None:
    assert beat_lengths(Meter(4, 4), pickup=Q) == (Q,)
    assert beat_lengths(Meter(7, 8), pickup=4 * E) == (E, 3 * E)
    assert beat_lengths(Meter(4, 4), pickup=4 * Q) == (Q,) * 4
    assert beat_starts(Meter(7, 8), pickup=4 * E) == (0, E)
    assert BarHead(pickup=Q).ticks == Q
    assert BarHead(meter=Meter(7, 8), grouping=(3, 2, 2)).beat_starts == (0, 3 * E, 5 * E)


def test_steps() -> None:
    assert usual_steps(Q) == 4
    assert usual_steps(3 * E) == 6
    assert usual_steps(Q // 8) == 1  # no sixteenth fits
    assert bar_steps((Q, E), (3, 2)) == (
        (0, Q // 3), (Q // 3, Q // 3), (2 * Q // 3, Q // 3), (Q, E // 2), (Q + E // 2, E // 2),
    )  # fmt: skip
    assert BarHead(meter=Meter(1, 4), steps=(5,)).step_spans[4] == (4 * Q // 5, Q // 5)


def test_a_quarter_divides_into_every_tuplet() -> None:
    # 64ths, triplets, quintuplets, septuplets and nonuplets down to sixteenths are whole ticks.
    for parts in (16, 3, 6, 12, 24, 5, 10, 20, 7, 14, 28, 9, 18, 36):
        assert QUARTER % parts == 0
    assert QUARTER < 2**15  # Standard MIDI Files 1.0, division: ticks per quarter in 15 bits
