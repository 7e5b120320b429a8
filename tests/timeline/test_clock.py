"""Played ticks to seconds and back."""

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import (
    QUARTER,
    BarHead,
    BeatUnit,
    Meter,
    Pause,
    PauseKind,
    Section,
    Swing,
    SwingUnit,
    Tempo,
    TempoShape,
)
from chalkfret.timeline.clock import section_clock, timeline
from tests.builder import lesson, section

tempos = st.builds(
    Tempo,
    st.floats(10, 400),
    st.sampled_from(BeatUnit),
    st.none() | st.floats(10, 400),
    st.sampled_from(TempoShape),
)
swings = st.none() | st.builds(Swing, st.sampled_from(SwingUnit), st.floats(1, 4))
meters = st.sampled_from([Meter(4, 4), Meter(7, 8), Meter(6, 8), Meter(3, 4), Meter(5, 16)])


@st.composite
def heads(draw: st.DrawFn) -> BarHead:
    meter = draw(meters)
    pickup = draw(st.none() | st.integers(1, meter.ticks))
    ticks = meter.ticks if pickup is None else pickup
    pauses = draw(
        st.lists(
            st.builds(Pause, st.integers(0, ticks), st.sampled_from(PauseKind), st.floats(0, 9)),
            max_size=2,
        )
    )
    return BarHead(meter=meter, pickup=pickup, pauses=tuple(pauses))


@st.composite
def sections(draw: st.DrawFn) -> Section:
    bars = draw(st.lists(heads(), min_size=1, max_size=5))
    return section(
        draw(st.sampled_from("ABCDEFG")),
        " | ".join([""] * len(bars)),
        heads=dict(enumerate(bars)),
        tempo=draw(tempos),
        swing=draw(swings),
        times=draw(st.integers(1, 3)),
        pause_s=draw(st.floats(0, 5)),
    )


@given(st.lists(sections(), min_size=1, max_size=3), st.data())
def test_ticks_to_seconds_and_back(parts: list[Section], data: st.DataObject) -> None:
    line = timeline(lesson(*parts))
    # Not nearer than 1/8 tick to a pause: a hair behind a fermata is its end to the second.
    tick = data.draw(st.integers(0, 8 * line.total_ticks)) / 8
    second = line.seconds(tick)
    back = line.tick(second)
    assert line.seconds(back) == pytest.approx(second, rel=0, abs=1e-9)
    before = line.seconds(data.draw(st.floats(0, tick)))
    assert before <= second + 1e-12


@given(tempos, swings, st.data())
def test_inverse_within_a_nanosecond_over_ten_hours(
    tempo: Tempo, swing: Swing | None, data: st.DataObject
) -> None:
    one = section("A", "", meter=(31, 1), tempo=tempo, swing=swing, times=64)
    clock = section_clock(one)
    bars = max(1, int(36_000 / clock.length_s))
    clock = section_clock(replace(one, bars=one.bars.splice(0, 1, [one.bars[0]] * min(bars, 400))))
    second = data.draw(st.floats(0, min(36_000, clock.length_s)))
    assert clock.seconds(clock.tick_at(second)) == pytest.approx(second, rel=0, abs=1e-9)


def test_a_fermata_holds_what_begins_and_a_break_waits() -> None:
    pauses = (Pause(QUARTER, PauseKind.FERMATA, 2.0), Pause(2 * QUARTER, PauseKind.BREAK, 3.0))
    clock = section_clock(section("A", "q 6:0 0 0 0", heads={0: BarHead(pauses=pauses)}, tempo=60))
    assert clock.onset_s(0, QUARTER) == 1
    assert clock.ending_s(0, QUARTER) == 1
    assert clock.ending_s(0, 2 * QUARTER) == 4
    assert clock.onset_s(0, 2 * QUARTER) == 7
    assert clock.length_s == 9
    assert clock.tick_at(2.5) == QUARTER
    assert clock.tick_at(5) == 2 * QUARTER
    assert clock.tick_at(8) == 3 * QUARTER


def test_a_fermata_at_the_end_of_a_bar_holds_what_ends_there() -> None:
    end = BarHead(pauses=(Pause(4 * QUARTER, PauseKind.FERMATA, 2.0),))
    clock = section_clock(section("A", "q 6:0 0 0 0 | w 6:0", heads={0: end}, tempo=60))
    assert clock.ending_s(0, 4 * QUARTER) == 6
    assert clock.bar_s == (0, 6, 10)


def test_swing_moves_the_second_of_each_pair_only() -> None:
    clock = section_clock(section("A", "w 6:0", tempo=60, swing=Swing(SwingUnit.EIGHTH, 2.0)))
    at = [clock.onset_s(0, QUARTER // 2 * eighth) for eighth in range(8)]
    assert at == pytest.approx([0, 2 / 3, 1, 5 / 3, 2, 8 / 3, 3, 11 / 3])


def test_a_group_of_three_eighths_stays_straight_where_eighths_swing() -> None:
    one = section("A", "h 6:0", meter=(7, 8), tempo=60, swing=Swing(SwingUnit.EIGHTH, 2.0))
    clock = section_clock(one)
    at = [clock.onset_s(0, QUARTER // 2 * eighth) for eighth in range(7)]
    assert at == pytest.approx([0, 2 / 3, 1, 5 / 3, 2, 2.5, 3])


def test_an_eighth_before_the_bar_line_is_the_short_one_of_its_pair() -> None:
    pickup = BarHead(pickup=QUARTER // 2)
    clock = section_clock(section("A", "e 6:0 | w 6:0", heads={0: pickup}, tempo=60, swing=Swing()))
    assert clock.bar_s == pytest.approx([0, 1 / 3, 13 / 3])


def test_silence_behind_a_section_is_before_the_next_and_not_at_the_end() -> None:
    line = timeline(
        lesson(
            section("A", "w 6:0", tempo=60, pause_s=1.5, times=2),
            section("B", "w 6:0", tempo=120, pause_s=3.0),
        )
    )
    assert [(timed.start_s, timed.end_s) for timed in line.sections] == [(0, 8), (9.5, 11.5)]
    assert line.total_s == 11.5
    assert [(one.section, one.pass_, one.start_s) for one in line.bar_lines()] == [
        (0, 1, 0),
        (0, 2, 4),
        (1, 1, 9.5),
    ]
    assert line.tick(9) == 8 * QUARTER
    moment = line.moment(10.0)
    assert moment is not None
    assert (moment.section, moment.bar, moment.tick) == (1, 0, pytest.approx(QUARTER))


def test_a_section_that_never_sounds_takes_no_time() -> None:
    silent = section("A", "w 6:0", heads={0: BarHead(passes=(2,))})
    line = timeline(lesson(silent, section("B", "w 6:0", tempo=60)))
    assert line.total_s == 4
    assert line.seconds(0) == 0
    assert line.tick(2) == 2 * QUARTER


def test_a_note_typed_costs_no_new_clock() -> None:
    one = section("A", "q 6:0 0 0 0 | w 6:0")
    clock = section_clock(one)
    other = section("A", "q 6:0 3 0 0 | w 6:5", name="renamed")
    assert section_clock(other) is clock


def test_two_thousand_bars_are_quick() -> None:
    long = section("A", " | ".join(["e 6:0 0 0 0 0 0 0 0"] * 2_000), tempo=Tempo(60.0, end=180.0))
    whole = lesson(long)
    start = time.process_time()
    assert len(timeline(whole).bar_lines()) == 2_000
    assert time.process_time() - start < 0.5  # about 0.01 s; a slow machine has its time
