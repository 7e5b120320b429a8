"""Where the click falls and how strong it is."""

import pytest

from chalkfret.model import QUARTER, BarHead, BeatUnit, Meter, Swing, Tempo
from chalkfret.timeline.clicks import bar_clicks, clicks, count_in, count_in_clicks
from chalkfret.timeline.clock import timeline
from tests.builder import lesson, section


@pytest.mark.parametrize(
    ("meter", "grouping", "unit", "accents"),
    [
        ((4, 4), (), BeatUnit.QUARTER, "2111"),
        ((4, 4), (2, 2), BeatUnit.QUARTER, "2010"),
        ((3, 4), (), BeatUnit.QUARTER, "211"),
        ((6, 8), (), BeatUnit.DOTTED_QUARTER, "21"),
        ((6, 8), (), BeatUnit.EIGHTH, "200100"),
        ((7, 8), (), BeatUnit.QUARTER, "2010100"),
        ((7, 8), (3, 2, 2), BeatUnit.QUARTER, "2001010"),
        ((5, 4), (3, 2), BeatUnit.QUARTER, "20010"),
        ((8, 8), (2, 2, 2, 2), BeatUnit.QUARTER, "2111"),
    ],
)
def test_accents_by_meter_and_grouping(
    meter: tuple[int, int], grouping: tuple[int, ...], unit: BeatUnit, accents: str
) -> None:
    head = BarHead(meter=Meter(*meter), grouping=grouping)
    found = bar_clicks(head, unit.ticks)
    assert "".join(str(int(accent)) for _, accent in found) == accents
    ticks = [tick for tick, _ in found]
    assert ticks == [index * head.ticks // len(ticks) for index in range(len(ticks))]


def test_a_pickup_has_the_clicks_of_the_end_of_its_bar() -> None:
    head = BarHead(pickup=QUARTER * 3 // 2)
    assert bar_clicks(head, QUARTER) == ((QUARTER // 2, 1),)


def test_clicks_follow_every_section() -> None:
    one = lesson(section("A", "w 6:0", tempo=60), section("B", "w 6:0", tempo=120))
    assert [click.start_s for click in clicks(one)] == [0, 1, 2, 3, 4, 4.5, 5, 5.5]
    assert [int(click.accent) for click in clicks(one)] == [2, 1, 1, 1] * 2


def test_count_in_at_the_tempo_of_what_follows() -> None:
    time = timeline(
        lesson(
            section("A", "w 6:0", tempo=60),
            section("B", "e 6:0 0 0 0 0 0 0", meter=(7, 8), tempo=Tempo(120.0, end=240.0)),
        )
    )
    first = count_in_clicks(time, 1)
    assert [click.start_s for click in first] == [-4, -3, -2, -1]
    second = count_in_clicks(time, 1, section=1)
    assert [click.start_s for click in second] == pytest.approx(
        [4 - 1.75 + n / 4 for n in range(7)]
    )
    assert "".join(str(int(click.accent)) for click in second) == "2010100"
    assert count_in_clicks(time, 0) == ()


@pytest.mark.parametrize(
    ("pickup", "swing", "ticks", "count"),
    [
        (QUARTER, None, 3 * QUARTER, 3),
        (QUARTER // 2, None, 3.5 * QUARTER, 4),
        (QUARTER // 2, Swing(), (4 - 1 / 3) * QUARTER, 4),
        (3 * QUARTER, None, 5 * QUARTER, 5),
    ],
)
def test_a_pickup_takes_its_place_in_the_count(
    pickup: int, swing: Swing | None, ticks: float, count: int
) -> None:
    head = BarHead(pickup=pickup)
    time = timeline(lesson(section("A", "| w 6:0", heads={0: head}, tempo=60, swing=swing)))
    counted = count_in(time, 1)
    assert counted.ticks == pytest.approx(ticks)
    assert counted.seconds == pytest.approx(ticks / QUARTER)
    assert len(counted.clicks) == count
