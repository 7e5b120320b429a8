"""Cues added, changed, moved, removed."""

import pytest

from chalkfret.edits import CannotEdit
from chalkfret.edits.cues import add, change, cue_of, move, remove
from chalkfret.model import CueKind, Lesson, Place, Setting, validate
from tests.builder import lesson, section
from tests.edits.test_bars import spans
from tests.edits.test_notes import Q, low, refusal


def two_bars() -> Lesson:
    return add(low("w 6:0 | w 6:1"), 0, "wah", CueKind.SWEEP, Place(0, 2 * Q), Place(1, Q))


def test_cues_get_ids_of_their_own() -> None:
    after = add(two_bars(), 0, "far", CueKind.DELAY, Place(0, 0), part="guitar-1",
                settings=(Setting("time", 3),))  # fmt: skip
    assert [cue.id for cue in after.sections[0].head.cues] == ["c1", "c2"]
    _, cue = cue_of(after, "c2")
    assert (cue.part, cue.end, cue.settings) == ("guitar-1", None, (Setting("time", 3.0),))
    assert validate(after) == ()


@pytest.mark.parametrize(
    ("start", "end", "part", "label", "code"),
    [
        (Place(2, 1), None, None, "x", "cue_beyond_section"),
        (Place(0, 4 * Q + 1), None, None, "x", "cue_beyond_section"),
        (Place(0, 0), Place(3, 0), None, "x", "cue_beyond_section"),
        (Place(1, 0), Place(0, 0), None, "x", "cue_ends_before_start"),
        (Place(0, 0), None, "nobody", "x", "cue_unknown_part"),
        (Place(0, 0), None, None, "", "value_refused"),
        (Place(0, -1), None, None, "x", "value_refused"),
    ],
)
def test_cues_that_cannot_be(
    start: Place, end: Place | None, part: str | None, label: str, code: str
) -> None:
    with pytest.raises(CannotEdit) as error:
        add(low("w 6:0 | w 6:1"), 0, label, CueKind.FREE, start, end, part=part)
    assert refusal(error)[:2] == (code, "A")


def test_cues_may_end_with_the_section() -> None:
    assert spans(change(two_bars(), "c1", end=Place(2, 0))) == [((0, 2 * Q), (2, 0))]


def test_fields_of_a_cue() -> None:
    after = change(two_bars(), "c1", label="open", kind=CueKind.FREE)
    assert cue_of(after, "c1")[1].label == "open"
    assert change(after, "c1", label="open") is after
    for fields in ({"id": "c2"}, {"loud": 1}, {"label": 5}):
        with pytest.raises(CannotEdit) as error:
            change(after, "c1", **fields)
        assert error.value.fault.code == "value_refused"
    with pytest.raises(CannotEdit) as error:
        change(after, "c9", label="x")
    assert error.value.fault.code == "no_such_cue"


def test_a_moved_cue_stays_as_long() -> None:
    before = two_bars()
    assert spans(move(before, "c1", Place(0, 0))) == [((0, 0), (0, 3 * Q))]
    assert spans(move(before, "c1", Place(0, 3 * Q))) == [((0, 3 * Q), (1, 2 * Q))]
    assert spans(move(before, "c1", Place(1, 2 * Q))) == [((1, 2 * Q), None)]
    inside = change(before, "c1", start=Place(0, 0), end=Place(0, 3 * Q))
    assert spans(move(inside, "c1", Place(0, 2 * Q))) == [((0, 2 * Q), (1, Q))]
    assert move(before, "c1", Place(0, 2 * Q)) is before
    open_end = change(before, "c1", end=None)
    assert spans(move(open_end, "c1", Place(1, 0))) == [((1, 0), None)]


def test_a_cue_moves_to_another_section() -> None:
    before = lesson(section("A", "w 6:0 | w 6:0"), section("B", "w 6:0"))
    before = add(before, 0, "wah", CueKind.SWEEP, Place(1, 0), Place(1, 2 * Q))
    after = move(before, "c1", Place(0, Q), section=1)
    assert after.sections[0].head.cues == ()
    assert cue_of(after, "c1") == (1, after.sections[1].head.cues[0])
    assert after.sections[1].head.cues[0].end == Place(0, 3 * Q)


def test_a_cue_is_removed() -> None:
    assert remove(two_bars(), "c1") == low("w 6:0 | w 6:1")


def test_another_kind_keeps_knobs_of_the_same_unit_and_bounds() -> None:
    old = (Setting("rate", 0.3), Setting("depth", 40.0))
    before = add(low("w 6:0"), 0, "swirl", CueKind.PHASE, Place(0, 0), settings=old)
    one = change(before, "c1", kind=CueKind.TREMOLO)
    assert cue_of(one, "c1")[1].settings == (Setting("depth", 40.0),)
    assert cue_of(change(before, "c1", kind=CueKind.FREE), "c1")[1].settings == ()
    told = change(before, "c1", kind=CueKind.FREE, settings=old)
    assert cue_of(told, "c1")[1].settings == old
