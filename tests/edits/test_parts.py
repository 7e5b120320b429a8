"""Parts added, copied, taken out, moved, strung anew."""

import pytest

from chalkfret.edits import CannotEdit
from chalkfret.edits import cues as cue_edits
from chalkfret.edits.bars import duplicate
from chalkfret.edits.names import part_name
from chalkfret.edits.parts import (
    add,
    copy_from,
    remove,
    rename,
    reorder,
    retune,
    set_setup,
    set_tone,
    set_voice,
)
from chalkfret.model import Capo, CueKind, Drive, Lesson, Place, Voice, validate
from chalkfret.model.limits import PARTS_MAX
from tests.builder import lesson, part, riff, section, tuned
from tests.edits.test_notes import low, refusal, rows

SEVEN = tuned("B1 E2 A2 D3 G3 B3 E4")
DROP = tuned("D2 A2 D3 G3 B3 E4")
FOUR = tuned("E1 A1 D2 G2")


def names(found: Lesson) -> list[str]:
    return [one.name for one in found.parts]


def test_a_new_part_is_silent() -> None:
    before = lesson(section("A", "w 6:0"), section("B", "w 6:1"))
    after = add(before, "Low", SEVEN)
    assert names(after) == ["Guitar 1", "Low"]
    assert after.parts[0] is before.parts[0]
    assert rows(after, 1) == [()]
    assert rows(after, section=1) == riff("w 6:1")
    assert after.sections[0].head is before.sections[0].head
    assert names(add(before, "High", DROP, at=0)) == ["High", "Guitar 1"]
    assert rows(add(before, "High", DROP, at=0), 1) == riff("w 6:0")
    with pytest.raises(CannotEdit):
        add(before, "Low", SEVEN, at=2)


def test_equal_bars_stay_one_object() -> None:
    before = duplicate(low("w 6:0"), 0, 0, times=3)
    after = add(before, "Low", DROP)
    assert len({id(bar) for bar in after.sections[0].bars}) == 1


def test_a_wished_name_gets_a_number_where_it_is_taken() -> None:
    assert part_name(low("w 6:0"), "Low") == "Low"
    two = low("w 6:0", "w 6:0")
    assert part_name(two, "Guitar 1") == "Guitar 3", "a number at its end counts on"
    named = rename(two, 1, "Low")
    assert part_name(named, "Low") == "Low 2"
    assert part_name(named, "Guitar 1") == "Guitar 2"


def test_there_is_an_end_to_parts() -> None:
    found = low("w 6:0")
    while len(found.parts) < PARTS_MAX:
        found = copy_from(found, 0)
    assert sorted(names(found)) == sorted(f"Guitar {n + 1}" for n in range(PARTS_MAX))
    with pytest.raises(CannotEdit) as error:
        add(found, "Low", DROP)
    assert error.value.fault.code == "parts_max"
    assert validate(found) == ()


@pytest.mark.parametrize(("name", "code"), [("Guitar 1", "part_name_twice"), ("", "value_refused")])
def test_names_are_unique(name: str, code: str) -> None:
    before = low("w 6:0", "w 6:1")
    with pytest.raises(CannotEdit) as error:
        add(before, name, DROP)
    assert error.value.fault.code == code
    with pytest.raises(CannotEdit) as error:
        rename(before, 1, name)
    assert error.value.fault.code == code
    assert rename(before, 0, "Guitar 1") is before
    assert names(rename(before, 0, "Low")) == ["Low", "Guitar 2"]


def test_a_copy_has_notes_tone_voice_and_retunings() -> None:
    before = set_tone(low("w 6:0", "w 5:1"), 0, "neck")
    before = set_voice(retune(before, 0, 0, DROP), 0, Voice(Drive.HEAVY))
    after = copy_from(before, 0)
    assert names(after) == ["Guitar 1", "Guitar 3", "Guitar 2"]
    assert rows(after, 1) == riff("w 6:0")
    assert rows(after, 1)[0] is rows(before)[0]
    assert (after.parts[1].tone, after.parts[1].voice) == ("neck", Voice(Drive.HEAVY))
    assert [r.part for r in after.sections[0].head.retunes] == ["guitar-1", after.parts[1].id]
    other = copy_from(before, 0, "Seven", SEVEN)
    assert names(other)[1] == "Seven"
    assert [r.part for r in other.sections[0].head.retunes] == ["guitar-1"]
    with pytest.raises(CannotEdit) as error:
        copy_from(before, 0, "Four", FOUR)
    assert refusal(error) == ("course_beyond_setup", "A", 1, "Four", 6)


def test_a_part_goes_with_its_cues_and_retunings() -> None:
    before = low("w 6:0", "w 5:1")
    before = retune(before, 0, 0, DROP)
    before = cue_edits.add(before, 0, "on", CueKind.DRIVE, Place(0, 0), part="guitar-1")
    before = cue_edits.add(before, 0, "all", CueKind.DELAY, Place(0, 0))
    after = remove(before, 0)
    assert names(after) == ["Guitar 2"]
    assert rows(after) == riff("w 5:1")
    assert after.sections[0].head.retunes == ()
    assert [cue.label for cue in after.sections[0].head.cues] == ["all"]
    with pytest.raises(CannotEdit) as error:
        remove(after, 0)
    assert refusal(error)[0] == "last_part"
    assert remove(before, 1).sections[0].head is before.sections[0].head


def test_parts_change_places() -> None:
    before = low("w 6:0", "w 5:1", "w 4:2")
    after = reorder(before, 2, 0)
    assert names(after) == ["Guitar 3", "Guitar 1", "Guitar 2"]
    assert [rows(after, n) for n in range(3)] == [riff("w 4:2"), riff("w 6:0"), riff("w 5:1")]
    assert reorder(before, 1, 1) is before
    with pytest.raises(CannotEdit):
        reorder(before, 0, 3)


def test_more_strings_keep_all_notes() -> None:
    before = low("w 6:0")
    after = set_setup(before, 0, SEVEN)
    assert after.sections is before.sections
    assert set_setup(after, 0, SEVEN) is after


def test_fewer_strings_are_refused_at_the_first_place_or_drop() -> None:
    before = low("w 4:0 | w 4:0+5:1 | w 6:0", "w 6:0 | w 6:0 | w 6:0")
    with pytest.raises(CannotEdit) as error:
        set_setup(before, 0, FOUR)
    assert refusal(error) == ("course_beyond_setup", "A", 2, "Guitar 1", 5)
    after = set_setup(before, 0, FOUR, drop=True)
    assert rows(after) == riff("w 4:0 | w 4:0 | q r r r r")
    assert rows(after, 1) == rows(before, 1)
    assert after.sections[0].bars[0] is before.sections[0].bars[0]


def test_retunings_match_the_strings_or_drop() -> None:
    before = retune(low("w 4:0", "w 4:0"), 0, 0, DROP)
    before = retune(before, 0, 1, DROP)
    with pytest.raises(CannotEdit) as error:
        set_setup(before, 0, FOUR)
    assert refusal(error) == ("retune_courses", "A", None, "Guitar 1", None)
    after = set_setup(before, 0, FOUR, drop=True)
    assert [r.part for r in after.sections[0].head.retunes] == ["guitar-2"]
    assert set_setup(before, 0, tuned("C2 G2 C3 F3 A3 D4")).sections is before.sections


@pytest.mark.parametrize(
    ("setup", "code"),
    [
        (tuned("E2 A2 D3 G3 B3 E4", capo=Capo(25)), "capo_beyond_neck"),
        (tuned("E2 A2 D3 G3 B3 E4", capo=Capo(2, (7,))), "capo_course"),
        (tuned("E2 A2 D3 G3 B3 E4", a4=500.0), "value_refused"),
        (tuned("E2 A2"), "value_refused"),
    ],
)
def test_setups_that_cannot_be(setup: object, code: str) -> None:
    for edit in (
        lambda: set_setup(low("w 1:0"), 0, setup),
        lambda: retune(low("w 1:0"), 0, 0, setup),
        lambda: add(low("w 1:0"), "Low", setup),
    ):
        with pytest.raises(CannotEdit) as error:
            edit()
        assert error.value.fault.code == code


def test_a_section_is_retuned_and_back() -> None:
    before = lesson(section("A", "w 6:0"), parts=(part("Low"),))
    after = retune(before, 0, 0, DROP)
    assert after.sections[0].head.retunes[0].setup == DROP
    assert retune(after, 0, 0, DROP) is after
    assert retune(before, 0, 0, None) is before
    assert retune(after, 0, 0, None) == before
    with pytest.raises(CannotEdit) as error:
        retune(before, 0, 0, SEVEN)
    assert refusal(error) == ("retune_courses", "A", None, "Low", None)
    with pytest.raises(CannotEdit):
        retune(before, 0, 1, DROP)


def test_tone_and_voice() -> None:
    before = low("w 6:0")
    assert set_tone(before, 0, "") is before
    assert set_voice(before, 0, Voice()) is before
    with pytest.raises(CannotEdit):
        set_voice(before, 0, Voice(pan=3.0))
    with pytest.raises(CannotEdit):
        set_tone(before, 1, "x")
