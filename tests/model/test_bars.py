"""Bars: the run of bars is a value whatever edits led to it."""

from hypothesis import given
from hypothesis import strategies as st

from chalkfret.model import QUARTER, Bar, BarHead, Bars, Note, Sign, validate
from tests.builder import lesson, riff, section

POOL = [Bar(BarHead(), ((Note(0, QUARTER, 1, fret),),)) for fret in range(20)]
runs = st.lists(st.sampled_from(POOL), min_size=1, max_size=200)


@given(runs, st.data())
def test_splice_is_a_list_splice(bars: list[Bar], data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(bars)))
    stop = data.draw(st.integers(start, len(bars)))
    new = data.draw(st.lists(st.sampled_from(POOL), max_size=80))
    run = Bars.of(bars).splice(start, stop, new)
    expected = bars[:start] + new + bars[stop:]
    assert list(run) == expected
    assert run == Bars.of(expected)
    assert len(run) == len(expected)


@given(runs, st.data())
def test_one_bar_replaced_shares_the_other_chunks(bars: list[Bar], data: st.DataObject) -> None:
    index = data.draw(st.integers(0, len(bars) - 1))
    new = Bar(BarHead(simile=True), ((),))
    run = Bars.of(bars)
    changed = run.with_bars({index: new})
    assert [bar is new for bar in changed] == [at == index for at in range(len(bars))]
    same = [one is two for one, two in zip(run.chunks, changed.chunks, strict=True)]
    assert same.count(False) == 1


def test_riff_in_a_line() -> None:
    first, second = riff("e 6:0m 0 q 3 h 5 | e3 5:7 7h 9 r")
    assert [note.onset for note in first] == [0, 2520, 5040, 10080]
    assert first[0].has(Sign.PALM_MUTE)
    assert not first[1].marks
    assert [note.length for note in second] == [1680] * 3


def test_a_sound_lesson_has_no_faults_and_a_broken_one_names_the_place() -> None:
    sound = lesson(section("A", "q 6:0 3 5 0"))
    assert validate(sound) == ()
    broken = lesson(section("B", "q 6:0 0 0 0 | q 7:2 r r 6:0 0"))
    assert [(f.code, f.where.section, f.where.bar, f.where.course) for f in validate(broken)] == [
        ("course_beyond_setup", "B", 2, 7),
        ("note_beyond_bar", "B", 2, 6),
    ]
