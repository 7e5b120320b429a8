"""No bar line is more than 1 ms off the exact integral, in however many bars, at any speed."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from chalkfret.files.midi import MidiOptions, midi_bytes
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import (
    QUARTER,
    BarHead,
    BeatUnit,
    Lesson,
    Meter,
    Pause,
    PauseKind,
    Section,
    Swing,
    SwingUnit,
    Tempo,
    TempoShape,
)
from chalkfret.timeline.clock import timeline
from tests.builder import lesson, section
from tests.files.midi_reading import heard


def off_by(one: Lesson, options: MidiOptions) -> float:
    """The most that a bar line of the file is off, in seconds."""
    read = heard(midi_bytes(one, options).data)
    lines = timeline(one).bar_lines()
    clicks = {
        note.on: note.start_s for note in read.notes if note.channel == 9 and note.number == 76
    }
    assert len(clicks) == len(lines), "every bar line clicks high"
    written = sorted(clicks.values())
    wanted = [line.start_s / options.speed for line in lines]
    ends = (read.seconds(read.end), timeline(one).total_s / options.speed)
    return max(
        abs(have - want) for have, want in zip([*written, ends[0]], [*wanted, ends[1]], strict=True)
    )


LONG = " | ".join([""] * 2_000)


@pytest.mark.parametrize("speed", [1.0, 0.7, 0.33])
@pytest.mark.parametrize(
    "tempo",
    [
        Tempo(113.0),
        Tempo(96.7, BeatUnit.DOTTED_QUARTER),
        Tempo(60.0, end=181.0),
        Tempo(200.0, end=47.3, shape=TempoShape.OVER_TIME),
    ],
)
def test_two_thousand_bars(tempo: Tempo, speed: float) -> None:
    one = lesson(section("A", LONG, tempo=tempo))
    assert off_by(one, MidiOptions(speed=speed)) < 0.001


def test_a_steady_tempo_is_written_once_or_drifts_by_a_microsecond() -> None:
    read = heard(midi_bytes(lesson(section("A", LONG, tempo=113))).data)
    assert {tempo for _, tempo in read.tempos} <= {530_973, 530_974}
    assert len(read.tempos) < 2_000 / 50
    even = heard(midi_bytes(lesson(section("A", LONG, tempo=96))).data)
    assert even.tempos == [(0, 625_000)]


meters = st.sampled_from([Meter(4, 4), Meter(7, 8), Meter(6, 8), Meter(2, 2), Meter(5, 32)])


@st.composite
def heads(draw: st.DrawFn) -> BarHead:
    meter = draw(meters)
    pauses = draw(
        st.lists(
            st.builds(
                Pause,
                st.integers(0, meter.ticks),
                st.sampled_from(PauseKind),
                st.sampled_from([0.0, 0.0004, 0.3, 2.0, 100.0]),
            ),
            max_size=2,
        )
    )
    return BarHead(meter=meter, pauses=tuple(pauses))


@st.composite
def sections(draw: st.DrawFn, letter: str) -> Section:
    bars = draw(st.lists(heads(), min_size=1, max_size=6))
    if draw(st.booleans()):
        meter = bars[0].meter
        bars[0] = BarHead(meter=meter, pickup=draw(st.integers(1, meter.ticks)))
    return section(
        letter,
        " | ".join([""] * len(bars)),
        heads=dict(enumerate(bars)),
        tempo=Tempo(
            draw(st.floats(40, 400)),
            draw(st.sampled_from(BeatUnit)),
            draw(st.none() | st.floats(40, 400)),
            draw(st.sampled_from(TempoShape)),
        ),
        swing=draw(st.none() | st.builds(Swing, st.sampled_from(SwingUnit), st.floats(1, 4))),
        times=draw(st.integers(1, 2)),
        pause_s=draw(st.sampled_from([0.0, 0.2, 31.0])),
    )


# Found by fuzzing: a pause of under a millisecond, left to the tempo, made a line 1.1 ms early.
TINY_PAUSE = section(
    "B",
    " | ",
    heads={0: BarHead(pickup=1), 1: BarHead(pauses=(Pause(0, PauseKind.BREAK, 0.0004),))},
    tempo=Tempo(40.0, BeatUnit.HALF),
)


@given(sections("A"), sections("B"), st.sampled_from([0.41, 1.0, 2.0]))
@example(section("A", "", tempo=Tempo(40.0, BeatUnit.DOTTED_HALF)), TINY_PAUSE, 0.41)
def test_whatever_the_section(first: Section, second: Section, speed: float) -> None:
    """Lines are found by their markers' bars: by what the grid says, read through the file."""
    from chalkfret.files.midi.grid import grid
    from chalkfret.timeline.clicks import count_in

    one = lesson(first, second)
    time = timeline(one)
    read = heard(midi_bytes(one, MidiOptions(speed=speed, click=False)).data)
    where = grid(time, count_in(time, 0), speed)
    ticks = [tick for part in where.sections for tick in part.lines[:-1]]
    for tick, line in zip(
        [*ticks, read.end], [*(b.start_s for b in time.bar_lines()), time.total_s], strict=True
    ):
        assert read.seconds(tick) == pytest.approx(line / speed, rel=0, abs=0.001)


def test_too_slow_is_refused() -> None:
    slow = lesson(section("A", "w 6:0"), section("B", "w 6:0", tempo=Tempo(12.0, end=60.0)))
    assert midi_bytes(slow, MidiOptions(speed=0.34)).data
    with pytest.raises(CannotWrite) as refused:
        midi_bytes(slow, MidiOptions(speed=0.33))
    (fault,) = refused.value.faults
    assert (fault.code, fault.where.section) == ("midi_too_slow", "B")
    assert dict(fault.figures) == {"tempo": 3.96, "least": 4.0}
    assert midi_bytes(slow, MidiOptions(sections=("s-a",), speed=0.33)).data
    sixteenths = lesson(section("A", "w 6:0", tempo=Tempo(15.0, BeatUnit.SIXTEENTH)))
    with pytest.raises(CannotWrite):
        midi_bytes(sixteenths)


def test_bars_stand_where_a_reader_draws_them() -> None:
    """Pickups and pauses do not push the bar lines of what follows off the reader's grid."""
    fermata = BarHead(pauses=(Pause(QUARTER, PauseKind.FERMATA, 2.0),))
    breathe = BarHead(meter=Meter(7, 8), pauses=(Pause(0, PauseKind.BREAK, 40.0),))
    one = lesson(
        section(
            "A",
            " | ".join([""] * 6),
            heads={
                0: BarHead(pickup=QUARTER),
                2: fermata,
                4: breathe,
                5: BarHead(meter=Meter(7, 8)),
            },
            swing=Swing(),
            pause_s=1.0,
        ),
        section("B", " | ", heads={0: BarHead(pickup=1234)}),
    )
    read = heard(midi_bytes(one).data)
    drawn = {round(read.seconds(tick), 3) for tick in read.bar_lines()}
    for line in timeline(one).bar_lines():
        assert min(abs(line.start_s - second) for second in drawn) < 0.001
    signs = [(m.numerator, m.denominator) for _, m in read.metas if m.type == "time_signature"]
    assert signs == [
        (1, 4), (4, 4), (5, 4), (7, 4), (7, 8), (1, 4), (4, 4), (4, 4),
    ]  # fmt: skip


def test_speed_scales_everything() -> None:
    one = lesson(section("A", "w 6:0", tempo=60, pause_s=2.0), section("B", "w 6:0", tempo=120))
    fast = heard(midi_bytes(one, MidiOptions(speed=2.0, count_in=1)).data)
    assert [note.start_s for note in fast.notes if note.channel != 9] == [2, 5]
    assert fast.seconds(fast.end) == 6
