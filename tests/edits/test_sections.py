"""Sections added, split, joined, moved, copied, deleted; what is said of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit
from chalkfret.edits.repeats import repeats_of, set_passes, set_repeat
from chalkfret.edits.sections import (
    add,
    delete,
    duplicate,
    join,
    reorder,
    set_head,
    split,
)
from chalkfret.edits.texts import set_head as set_lesson_head
from chalkfret.model import (
    BarHead,
    Key,
    Lesson,
    Meter,
    Mode,
    Performed,
    Retune,
    SectionHead,
    Swing,
    TalkingPoint,
    Tempo,
    TempoShape,
    validate,
)
from chalkfret.model.limits import SECTIONS_MAX
from tests.builder import lesson, riff, section, tuned
from tests.edits.test_bars import FOUR, cue, cued, frets, spans
from tests.edits.test_notes import Q, low, refusal, rows
from tests.strategies import lessons


def letters(found: Lesson) -> str:
    return " ".join(s.head.letter for s in found.sections)


def order(found: Lesson) -> list[tuple[str, int, float]]:
    return [(entry.section, entry.times, entry.talk_s) for entry in found.head.order]


POINTS = (TalkingPoint("k", "en", "t", "f", "s-b"), TalkingPoint("k", "en", "t", "f"))


# Add, duplicate, delete, reorder


def test_a_new_section_begins_like_the_one_before() -> None:
    before = lesson(
        section("A", "q 6:0", meter=(7, 8), key="E minor", tempo=Tempo(90.0, end=120.0),
                swing=Swing()),
        section("B", "w 6:0"),
    )  # fmt: skip
    after = add(before, 1, bars=3)
    assert letters(after) == "A C B"
    new = after.sections[1]
    assert new.head == SectionHead("C", "", Tempo(120.0), swing=Swing(), key=Key("E", Mode.MINOR))
    assert [bar.head for bar in new.bars] == [BarHead(meter=Meter(7, 8))] * 3
    assert after.sections[0] is before.sections[0]
    assert after.sections[2] is before.sections[1]
    assert letters(add(before)) == "A B C"
    assert letters(add(before, 0)) == "C A B"
    assert new.id not in {s.id for s in before.sections}


def test_a_section_with_a_head_of_ones_own() -> None:
    before = low("w 6:0")
    assert (
        add(before, head=SectionHead("Q", "Bridge", Tempo(60))).sections[1].head.tempo.start == 60.0
    )
    for head, code in [
        (SectionHead("A", "", Tempo(60.0)), "letter_twice"),
        (SectionHead("B", "", Tempo(5.0)), "value_refused"),
    ]:
        with pytest.raises(CannotEdit) as error:
            add(before, head=head)
        assert error.value.fault.code == code
    for at, bars in [(2, 1), (-1, 1), (0, 0)]:
        with pytest.raises(CannotEdit):
            add(before, at, bars=bars)


def test_letters_go_on_behind_z() -> None:
    found = low("w 6:0")
    for _ in range(26):
        found = add(found, bars=1)
    assert letters(found).split()[25:] == ["Z", "A2"]


def test_there_is_an_end_to_sections() -> None:
    one = low("w 6:0").sections[0]
    many = tuple(
        replace(one, id=f"s{n}", head=replace(one.head, letter=str(n))) for n in range(SECTIONS_MAX)
    )
    full = replace(low("w 6:0"), sections=many)
    for edit in (lambda: add(full), lambda: duplicate(full, 0)):
        with pytest.raises(CannotEdit) as error:
            edit()
        assert error.value.fault.code == "sections_max"
    two_bars = replace(full, sections=(*many[:-1], replace(low(FOUR).sections[0], id="x")))
    with pytest.raises(CannotEdit):
        split(two_bars, SECTIONS_MAX - 1, 1)


def test_a_copy_has_ids_of_its_own() -> None:
    before = cued(cue((0, 0), None), cue((1, 0), (2, 0), "c2"))
    after = duplicate(before, 0)
    assert letters(after) == "A B"
    assert [c.id for c in after.sections[1].head.cues] == ["c3", "c4"]
    assert after.sections[1].bars is before.sections[0].bars
    assert validate(after) == ()


def test_a_section_goes_with_what_names_it() -> None:
    before = lesson(section("A", "w 6:5"), section("B", "w 6:5"), section("C", "w 6:5t"))
    before = set_lesson_head(
        before,
        order=(Performed("s-a"), Performed("s-b", 2), Performed("s-c")),
        talking_points=(
            TalkingPoint("k", "en", "t", "f", "s-b"),
            TalkingPoint("k", "en", "t", "f"),
        ),
    )
    after = delete(before, 1)
    assert letters(after) == "A C"
    assert order(after) == [("s-a", 1, 0.0), ("s-c", 1, 0.0)]
    assert len(after.head.talking_points) == 1
    assert rows(after, section=1) == riff("w 6:5t")  # A holds it now
    assert rows(delete(before, 0), section=1) == riff("w 6:5t")
    assert delete(after, 1).head is not after.head
    alone = delete(after, 1)
    with pytest.raises(CannotEdit) as error:
        delete(alone, 0)
    assert refusal(error)[:2] == ("last_section", "A")
    unnamed = delete(lesson(section("A", "w 6:5"), section("B", "w 6:5t")), 0)
    assert rows(unnamed) == riff("w 6:5")


def test_sections_change_places() -> None:
    before = lesson(section("A", "w 6:5"), section("B", "w 6:5t"), section("C", "w 6:0"))
    after = reorder(before, 2, 0)
    assert letters(after) == "C A B"
    assert after.sections[1] is before.sections[0]
    assert after.sections[2] is before.sections[1]
    assert letters(reorder(before, 0, 2)) == "B C A"
    assert rows(reorder(before, 0, 2)) == riff("w 6:5")  # B's tie lost its note
    assert reorder(before, 1, 1) is before
    with pytest.raises(CannotEdit):
        reorder(before, 0, 3)


# What is said of a section


def test_fields_of_the_head() -> None:
    before = low("w 6:5t")
    after = set_head(before, 0, name="Chorus", key=Key("Eb", Mode.LYDIAN), times=2)
    assert (after.sections[0].head.name, after.sections[0].head.times) == ("Chorus", 2)
    assert after.sections[0].bars is before.sections[0].bars
    assert set_head(after, 0, name="Chorus") is after
    # Played twice the bar leads into itself; once, its tie hangs in the air.
    assert rows(after) == riff("w 6:5t")
    assert rows(set_head(after, 0, times=1)) == riff("w 6:5")


@pytest.mark.parametrize(
    ("fields", "code"),
    [
        ({"letter": "B"}, "letter_twice"),
        ({"letter": "ABCDE"}, "value_refused"),
        ({"tempo": Tempo(500.0)}, "value_refused"),
        ({"cues": ()}, "value_refused"),
        ({"loud": 1}, "value_refused"),
        ({"retunes": (Retune("nobody", tuned("E2 A2 D3 G3 B3 E4")),)}, "retune_unknown_part"),
    ],
)
def test_heads_that_cannot_be(fields: dict[str, object], code: str) -> None:
    with pytest.raises(CannotEdit) as error:
        set_head(lesson(section("A", "w 6:0"), section("B", "w 6:0")), 0, **fields)
    assert error.value.fault.code == code


# Split


def test_a_split_shares_what_is_said() -> None:
    before = lesson(section("A", FOUR, name="Verse", key="E minor", pause_s=2.0, notes="slow",
                            difficulty=3))  # fmt: skip
    after = split(before, 0, 1)
    one, two = after.sections
    assert (one.id, one.head.letter, two.head.letter) == ("s-a", "A", "B")
    assert frets(after) == [0]
    assert rows(after, section=1) == rows(before)[1:]
    assert (one.head.pause_s, two.head.pause_s) == (0.0, 2.0)
    assert (one.head.notes, two.head.notes) == ("slow", "")
    assert one.head.key == two.head.key == Key("E", Mode.MINOR)
    for bar in (0, 4):
        with pytest.raises(CannotEdit):
            split(before, 0, bar)


def test_a_split_cuts_a_gradual_tempo_where_it_falls() -> None:
    for shape, middle in [
        (TempoShape.OVER_BEATS, 80.0 + 40.0 / 4),
        (TempoShape.OVER_TIME, (80.0**2 + (120.0**2 - 80.0**2) / 4) ** 0.5),
    ]:
        ramp = Tempo(80.0, end=120.0, shape=shape)
        one, two = split(lesson(section("A", FOUR, tempo=ramp)), 0, 1).sections
        assert one.head.tempo == Tempo(80.0, end=middle, shape=shape)
        assert two.head.tempo == Tempo(middle, end=120.0, shape=shape)


def test_a_split_tie_goes_on_over_the_line() -> None:
    after = split(low("w 6:5 | w 6:5t"), 0, 1)
    assert rows(after, section=1) == riff("w 6:5t")
    assert join(after, 0) == low("w 6:5 | w 6:5t")


def test_cues_in_a_split() -> None:
    before = cued(
        cue((0, 0), (2, 0)), cue((1, 0), (3, 0), "c2"), cue((3, 0), None, "c3"),
        cue((0, Q), None, "c4"), cue((2, 0), (2, Q), "c5"),
    )  # fmt: skip
    one, two = split(before, 0, 2).sections
    assert [c.id for c in one.head.cues] == ["c1", "c2", "c4"]
    assert spans(replace(before, sections=(one,))) == [
        ((0, 0), (2, 0)), ((1, 0), None), ((0, Q), None),
    ]  # fmt: skip
    assert [c.id for c in two.head.cues] == ["c6", "c3", "c7", "c5"]
    assert spans(replace(before, sections=(two,))) == [
        ((0, 0), (1, 0)), ((1, 0), None), ((0, 0), None), ((0, 0), (0, Q)),
    ]  # fmt: skip


def test_a_repeat_is_not_split() -> None:
    before = set_passes(set_repeat(low(FOUR), 0, 1, 2), 0, 3, 1, (2,))
    for bar in (2, 3):
        with pytest.raises(CannotEdit) as error:
            split(before, 0, bar)
        assert refusal(error)[:3] == ("split_in_repeat", "A", bar + 1)
        assert dict(error.value.fault.figures) == {"first": 2, "last": 4}
    assert letters(split(before, 0, 1)) == "A B"


def test_the_performed_order_follows_a_split() -> None:
    before = set_lesson_head(low(FOUR), order=(Performed("s-a", 2, 3.0),))
    after = split(before, 0, 1)
    new = after.sections[1].id
    assert order(after) == [("s-a", 1, 3.0), (new, 1, 0.0), ("s-a", 1, 0.0), (new, 1, 0.0)]
    long = set_lesson_head(low(FOUR), order=(Performed("s-a", 64),) * 4)
    with pytest.raises(CannotEdit) as error:
        split(long, 0, 1)
    assert dict(error.value.fault.figures)["field"] == "order"
    other = lesson(section("A", FOUR), section("B", "w 6:0"))
    other = set_lesson_head(other, order=(Performed("s-b"),))
    assert split(other, 0, 1).head is other.head


# Join


def test_join_keeps_the_music_of_both() -> None:
    before = lesson(
        section("A", "w 6:0", notes="one", cues=(cue((0, 0), None), cue((0, 0), (0, Q), "c3"))),
        section(
            "B", "w 6:1", notes="two", name="Two", pause_s=1.0, cues=(cue((0, Q), None, "c2"),)
        ),
    )
    after = join(before, 0)
    assert letters(after) == "A"
    assert rows(after) == riff("w 6:0 | w 6:1")
    head = after.sections[0].head
    assert (head.notes, head.name, head.pause_s) == ("one\n\ntwo", "Two", 1.0)
    assert spans(after) == [((0, 0), (1, 0)), ((0, 0), (0, Q)), ((1, Q), None)]


@pytest.mark.parametrize(
    ("first", "second", "what"),
    [
        ({"tempo": 100.0}, {"tempo": 90.0}, "tempo"),
        ({"tempo": 100.0}, {"tempo": Tempo(100.0, end=120.0)}, "tempo"),
        ({"tempo": Tempo(80.0, end=90.0)}, {"tempo": Tempo(90.0, end=120.0)}, "tempo"),
        ({"swing": Swing()}, {}, "swing"),
        ({"times": 2}, {"times": 2}, "times"),
        ({"pause_s": 1.0}, {}, "pause"),
        ({"key": "E minor"}, {"key": "E major"}, "key"),
        ({"shape_key": "E"}, {}, "shape_key"),
        ({"retunes": (Retune("guitar-1", tuned("D2 A2 D3 G3 B3 E4")),)}, {}, "retunes"),
    ],
)
def test_sections_that_differ_are_joined_only_when_told(
    first: dict[str, object], second: dict[str, object], what: str
) -> None:
    before = lesson(section("A", "w 6:0", **first), section("B", "w 6:1", **second))
    with pytest.raises(CannotEdit) as error:
        join(before, 0)
    assert refusal(error)[:2] == ("join_differs", "B")
    assert dict(error.value.fault.figures) == {"what": what}
    joined = join(before, 0, keep_first=True)
    assert joined.sections[0].head.tempo == before.sections[0].head.tempo
    assert rows(joined) == riff("w 6:0 | w 6:1")


def test_a_repeat_from_the_start_keeps_its_bars() -> None:
    close = {1: BarHead(repeat_close=2)}
    before = lesson(section("A", "w 6:0"), section("B", "w 6:1 | w 6:2", heads=close))
    found = repeats_of(join(before, 0).sections[0].bars)
    assert [(r.first, r.last) for r in found] == [(1, 2)]


def test_the_order_and_talking_points_follow_a_join() -> None:
    before = lesson(section("A", "w 6:0"), section("B", "w 6:1"), section("C", "w 6:2"))
    before = set_lesson_head(
        before,
        order=(Performed("s-a"), Performed("s-b"), Performed("s-c"), Performed("s-b", 2, 4.0)),
        talking_points=(
            TalkingPoint("k", "en", "t", "f", "s-b"),
            TalkingPoint("k", "en", "t", "f"),
        ),
    )
    after = join(before, 0)
    assert order(after) == [("s-a", 1, 0.0), ("s-c", 1, 0.0), ("s-a", 2, 4.0)]
    assert [point.section for point in after.head.talking_points] == ["s-a", None]
    assert join(before, 1).head is not before.head
    with pytest.raises(CannotEdit) as error:
        join(before, 2)
    assert refusal(error)[:2] == ("no_section_after", "C")


@given(lessons(most_sections=1), st.data())
def test_join_undoes_split(drawn: Lesson, data: st.DataObject) -> None:
    first = drawn.sections[0]
    head = replace(first.head, times=1, cues=first.head.cues[:1])
    found = replace(
        drawn, head=replace(drawn.head, order=()), sections=(replace(first, head=head),)
    )
    cuts = [
        bar
        for bar in range(1, len(first.bars))
        if not any(r.first < bar <= r.end for r in repeats_of(first.bars))
    ]
    if not cuts:
        return
    found = set_head(set_head(found, 0, times=2), 0, times=1)  # ties into itself are gone
    bar = data.draw(st.sampled_from(cuts))
    halves = split(found, 0, bar)
    assert len(halves.sections) == 2
    again = join(halves, 0)
    repeat_behind = any(r.first == bar for r in repeats_of(first.bars))
    if not repeat_behind:  # else its open sign is written where it was understood
        assert again.sections[0].bars == found.sections[0].bars
    assert again.sections[0].head == found.sections[0].head
