"""Seconds against what the definition of a tempo says, integrated by numbers.

Source: a tempo of v beats a minute means that a beat dx lasts 60 dx / v seconds (common practice;
Standard MIDI Files 1.0, "Set Tempo", in microseconds a quarter). The sum over small pieces, by the
composite Simpson rule and by Runge-Kutta's fourth-order method (Abramowitz and Stegun, *Handbook of
Mathematical Functions*, 25.4.6 and 25.5.10), knows nothing of the closed forms.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chalkfret.model import QUARTER, BeatUnit, Swing, SwingUnit, Tempo, TempoShape
from chalkfret.timeline.clock import section_clock
from tests.builder import section

speeds = st.floats(10, 400)
units = st.sampled_from(BeatUnit)
PIECES = 2_000


def simpson(values: np.ndarray, width: float) -> float:
    return float(
        width / 3 * (values[0] + 4 * values[1::2].sum() + 2 * values[2:-1:2].sum() + values[-1])
    )


@given(speeds, speeds, units, st.floats(0, 1))
def test_a_change_over_beats(start: float, end: float, unit: BeatUnit, share: float) -> None:
    clock = section_clock(section("A", " | ".join([""] * 8), tempo=Tempo(start, unit, end)))
    whole = clock.ticks[-1]
    tick = share * whole
    beats = np.linspace(0, tick, PIECES + 1) / unit.ticks
    tempo = start + (end - start) * beats / (whole / unit.ticks)
    seconds = simpson(60 / tempo, tick / unit.ticks / PIECES)
    assert clock.seconds(tick) == pytest.approx(seconds, rel=1e-8, abs=1e-9)


@given(speeds, speeds, units, st.floats(0, 1))
@settings(max_examples=40)
def test_a_change_over_time(start: float, end: float, unit: BeatUnit, share: float) -> None:
    """The tempo rises evenly with the clock, so dx/dt is linear in t up to the section's end."""
    one = section("A", " | ".join([""] * 8), tempo=Tempo(start, unit, end, TempoShape.OVER_TIME))
    clock = section_clock(one)
    beats = clock.ticks[-1] / unit.ticks
    total = 2 * beats * 60 / (start + end)  # the mean tempo of an even rise is that of its ends
    assert clock.length_s == pytest.approx(total, rel=1e-12)
    second = share * total
    times = np.linspace(0, second, PIECES + 1)
    tempo = start + (end - start) * times / total
    gone = simpson(tempo / 60, second / PIECES)
    assert clock.tick_at(second) / unit.ticks == pytest.approx(gone, rel=1e-9, abs=1e-9)
    assert clock.seconds(gone * unit.ticks) == pytest.approx(second, rel=1e-9, abs=1e-9)


@given(speeds, speeds, st.sampled_from(TempoShape))
@settings(max_examples=30)
def test_beats_by_stepping_through_seconds(start: float, end: float, shape: TempoShape) -> None:
    """Runge-Kutta on dx/dt = v(x)."""
    one = section("A", " | ".join([""] * 4), tempo=Tempo(start, end=end, shape=shape))
    clock = section_clock(one)
    whole = clock.ticks[-1]

    def speed(tick: float) -> float:
        share = min(max(tick / whole, 0.0), 1.0)
        if shape is TempoShape.OVER_BEATS:
            tempo = start + (end - start) * share
        else:  # v^2 is linear in x where v is linear in t
            tempo = float(np.sqrt(start**2 + (end**2 - start**2) * share))
        return tempo * QUARTER / 60

    steps, target = 400, 0.9 * clock.length_s
    width, tick = target / steps, 0.0
    for _ in range(steps):
        k1 = speed(tick)
        k2 = speed(tick + width / 2 * k1)
        k3 = speed(tick + width / 2 * k2)
        k4 = speed(tick + width * k3)
        tick += width / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    assert clock.tick_at(target) == pytest.approx(tick, rel=1e-7)


@given(st.floats(1, 4), st.sampled_from(SwingUnit), st.floats(0, 1))
def test_swing_is_a_tempo_that_alternates(ratio: float, unit: SwingUnit, share: float) -> None:
    """Within a pair the first note runs at (1 + r) / 2r of the tempo, the second at (1 + r) / 2."""
    clock = section_clock(section("A", "w 6:0", tempo=60, swing=Swing(unit, ratio)))
    note = unit.ticks / QUARTER  # seconds of an even note at 60
    pieces = int(4 / note)
    lengths = [note * 2 * (ratio if place % 2 == 0 else 1) / (1 + ratio) for place in range(pieces)]
    tick = share * 4 * QUARTER
    whole, inside = divmod(tick / unit.ticks, 1)
    seconds = sum(lengths[: int(whole)]) + (inside * lengths[int(whole)] if inside else 0)
    assert clock.seconds(tick) == pytest.approx(seconds, abs=1e-9)


@pytest.mark.parametrize(
    ("tempo", "beats", "seconds"),
    [
        (Tempo(60.0, end=120.0), 4, 4 * np.log(2)),  # the logarithmic mean of 60 and 120
        (Tempo(60.0, end=120.0, shape=TempoShape.OVER_TIME), 4, 4 / 1.5),
        (Tempo(120.0, BeatUnit.DOTTED_QUARTER), 4, 4 / 3),
        (Tempo(113.0), 4, 4 * 60 / 113),
    ],
)
def test_worked_by_hand(tempo: Tempo, beats: int, seconds: float) -> None:
    clock = section_clock(section("A", "w 6:0", tempo=tempo))
    assert clock.seconds(beats * QUARTER) == pytest.approx(seconds, rel=1e-12)
