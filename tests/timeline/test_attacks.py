"""Attacks: what begins to sound, when, and for how long."""

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.model import QUARTER, BarHead, Lesson, Pause, PauseKind, Retune, Section
from chalkfret.timeline.attacks import attacks
from tests.builder import lesson, part, section, tuned


def heard(one: Lesson) -> list[tuple[float, float, int, int]]:
    return [(a.start_s, a.end_s, a.note.course, a.note.fret) for a in attacks(one)]


def test_ties_join_within_a_bar_and_over_the_bar_line() -> None:
    one = lesson(section("A", "q 6:0 0t h 5:3 | h 5:3t 5:3", tempo=60))
    assert heard(one) == [(0, 2, 6, 0), (2, 6, 5, 3), (6, 8, 5, 3)]
    assert [len(a.tied) for a in attacks(one)] == [1, 1, 0]


def test_a_tie_with_nothing_before_it_is_an_attack() -> None:
    one = lesson(section("A", "q 6:0t r 6:0t 6:2t", tempo=60))
    assert heard(one) == [(0, 1, 6, 0), (2, 3, 6, 0), (3, 4, 6, 2)]


def test_a_tie_follows_the_order_of_playing() -> None:
    """Into the first ending the tie goes on; at the second time through as well."""
    one = lesson(
        section(
            "A",
            "w 6:0 | w 6:0t | w 6:0t",
            tempo=240,
            heads={
                0: BarHead(repeat_open=True),
                1: BarHead(repeat_close=2, passes=(1,)),
                2: BarHead(passes=(2,)),
            },
        )
    )
    assert [(a.start_s, a.end_s, a.pass_) for a in attacks(one)] == [(0, 2, 1), (2, 4, 2)]


def test_a_tie_over_a_section_needs_no_silence_and_the_same_setup() -> None:
    def pair(**head: object) -> Lesson:
        return lesson(
            section("A", "w 6:0", tempo=60, **{k: v for k, v in head.items() if k == "pause_s"}),
            section(
                "B", "h 6:0t 6:0", tempo=120, **{k: v for k, v in head.items() if k != "pause_s"}
            ),
        )

    assert heard(pair()) == [(0, 5, 6, 0), (5, 6, 6, 0)]
    assert len(attacks(pair(pause_s=1.0))) == 3
    lower = Retune("guitar-1", tuned("D2 A2 D3 G3 B3 E4"))
    assert len(attacks(pair(retunes=(lower,)))) == 3


def test_hammered_and_slid_notes_are_attacks() -> None:
    assert len(attacks(lesson(section("A", "q 6:0 3h 0p 5/")))) == 4


def test_parts_courses_and_beats() -> None:
    one = lesson(
        section("A", "q 6:0+5:2 r h 4:2", "h 6:3 6:3", meter=(4, 4), tempo=60, times=2),
        parts=(part("One"), part("Two")),
    )
    first = [(a.part, a.note.course, a.beat, a.pass_) for a in attacks(one)][:5]
    assert first == [(0, 5, 1, 1), (0, 6, 1, 1), (1, 6, 1, 1), (0, 4, 3, 1), (1, 6, 3, 1)]
    assert [a.start_s for a in attacks(one)] == [0, 0, 0, 2, 2, 4, 4, 4, 6, 6]


def test_a_pickup_has_the_last_beats() -> None:
    one = lesson(section("A", "e 6:0 0 | w 6:0", heads={0: BarHead(pickup=QUARTER)}, tempo=60))
    assert [(a.beat, a.start_s) for a in attacks(one)] == [(4, 0), (4.5, 0.5), (1, 1)]


def test_a_break_ends_what_sounds_and_a_fermata_holds_it() -> None:
    def with_pause(kind: PauseKind) -> list[tuple[float, float, int, int]]:
        head = BarHead(pauses=(Pause(2 * QUARTER, kind, 3.0),))
        return heard(lesson(section("A", "h. 6:0 q 6:3", heads={0: head}, tempo=60)))

    assert with_pause(PauseKind.FERMATA) == [(0, 6, 6, 0), (6, 7, 6, 3)]
    assert with_pause(PauseKind.BREAK) == [(0, 2, 6, 0), (6, 7, 6, 3)]


bars = st.lists(
    st.sampled_from(
        ["q 6:0 0t 3 3t", "w 6:0", "h 6:3t 0", "h 6:0t 0t", "", "e 5:2 r 5:2t 5:2t h r"]
    ),
    min_size=1,
    max_size=6,
)


@given(st.lists(bars, min_size=1, max_size=3), st.integers(1, 3))
def test_no_written_time_is_lost_in_joining(riffs: list[list[str]], times: int) -> None:
    parts: list[Section] = [
        section(letter, " | ".join(riff), times=times)
        for letter, riff in zip("ABC", riffs, strict=False)
    ]
    written = sum(
        note.length * times
        for one in parts
        for bar in one.bars
        for notes in bar.notes
        for note in notes
    )
    found = attacks(lesson(*parts))
    assert sum(a.ticks for a in found) == written
    assert [a.tick for a in found] == sorted(a.tick for a in found)
    ends: dict[int, int] = {}
    for a in found:  # these riffs do not overlap on a string
        assert a.tick >= ends.get(a.note.course, 0)
        ends[a.note.course] = a.end_tick


def test_only_the_edited_section_is_computed_anew() -> None:
    one = lesson(section("A", "w 6:0"), section("B", "w 6:3"))
    attacks(one)
    from chalkfret.timeline.attacks import section_attacks

    kept = section_attacks(one.sections[1], one.parts)
    other = replace(one, sections=(section("A", "w 6:5"), one.sections[1]))
    attacks(other)
    assert section_attacks(other.sections[1], other.parts) is kept
