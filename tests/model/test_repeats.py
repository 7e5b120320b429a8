"""How many bars repeats make: never fewer than sound, and beyond reason a fault."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from chalkfret.edits import CannotEdit, bars, repeats, sections
from chalkfret.files.lesson_file import dumps, loads
from chalkfret.files.trouble import BadFile
from chalkfret.model import BarHead, Lesson, validate
from chalkfret.model.limits import PLAYED_BARS_MAX
from chalkfret.model.repeats import too_long_played
from chalkfret.timeline.unroll import played
from tests.builder import lesson, section

heads = st.lists(
    st.builds(
        BarHead,
        repeat_open=st.booleans(),
        repeat_close=st.sampled_from([0, 0, 1, 2, 64]),
        passes=st.sampled_from([(), (), (1,), (2,), (1, 2, 3)]),
    ),
    min_size=1,
    max_size=8,
)


def lesson_of(found: list[BarHead], times: int) -> Lesson:
    return lesson(
        section("A", " | ".join([""] * len(found)), heads=dict(enumerate(found)), times=times)
    )


def many(times: int, repeat: int, count: int, letter: str = "A") -> Lesson:
    """A section of so many bars, repeated so often, so many times over."""
    return lesson(
        section(
            letter,
            " | ".join([""] * count),
            heads={count - 1: BarHead(repeat_close=repeat)},
            times=times,
        )
    )


@given(heads, st.sampled_from([1, 2, 64]))
def test_the_bound_is_never_below_what_sounds(found: list[BarHead], times: int) -> None:
    one = lesson_of(found, times)
    count = len(played(one.sections[0]))
    repeated = times > 1 or any(head.repeat_close for head in found)
    faults = list(too_long_played(one))
    assert not faults or repeated
    if count > PLAYED_BARS_MAX:
        assert faults


def test_a_lesson_may_be_long() -> None:
    most = many(2, 25, PLAYED_BARS_MAX // 50)
    assert validate(most) == ()
    assert len(played(most.sections[0])) == PLAYED_BARS_MAX
    assert validate(many(1, 0, PLAYED_BARS_MAX + 1)) == (), "written out it is what it is"


def test_repeats_beyond_reason_are_a_fault() -> None:
    (fault,) = validate(many(64, 64, 2_000))
    assert (fault.code, fault.where.section) == ("played_too_long", "A")
    assert dict(fault.figures) == {"bars": 64 * 64 * 2_000, "most": PLAYED_BARS_MAX}


def test_sections_add_up_and_the_longest_is_named() -> None:
    count = PLAYED_BARS_MAX // 64 // 2
    three = lesson(*(many(64, 1, count + at % 2, letter).sections[0]
                     for at, letter in enumerate("ABC")))  # fmt: skip
    (fault,) = validate(three)
    assert (fault.code, fault.where.section) == ("played_too_long", "B")
    assert validate(replace(three, sections=three.sections[::2])) == ()


def test_a_file_beyond_reason_is_refused() -> None:
    with pytest.raises(BadFile) as refused:
        loads(dumps(many(64, 64, 2_000)))
    assert [fault.code for fault in refused.value.faults] == ["played_too_long"]


NEAR = many(50, 50, 20)  # exactly the most there may be

EDITS = {
    "times": lambda one: sections.set_head(one, 0, times=51),
    "repeat": lambda one: repeats.set_repeat(one, 0, 0, 20, 51),
    "insert": lambda one: bars.insert(one, 0, 3),
    "duplicate a bar": lambda one: bars.duplicate(one, 0, 3),
    "duplicate a section": lambda one: sections.duplicate(one, 0),
}


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_beyond_reason_is_refused(name: str) -> None:
    assert validate(NEAR) == ()
    with pytest.raises(CannotEdit) as refused:
        EDITS[name](NEAR)
    assert refused.value.fault.code == "played_too_long"
    assert sections.set_head(NEAR, 0, times=49).sections[0].head.times == 49
