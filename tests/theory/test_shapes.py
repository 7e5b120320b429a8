from chalkfret.model import Key, Mode
from chalkfret.model.start import STANDARD_SETUP
from chalkfret.strings.retune import standard_of
from chalkfret.theory.chords import ChordKind, Quality
from chalkfret.theory.degrees import colour_degrees
from chalkfret.theory.shapes import Shape, Used, degrees_used, shape_at
from tests.builder import lesson, part, riff, section, tuned

DROPPED = tuned("D2 A2 D3 G3 B3 E4")


def shape(line: str, setup: object = STANDARD_SETUP, tick: int = 0) -> Shape | None:
    notes = ((), riff(line)[0], ())
    return shape_at(notes, tick, setup, Key("D", Mode.MINOR), standard_of(setup))


def test_a_power_chord_under_one_finger_is_something_else_in_standard_tuning() -> None:
    found = shape("q 6:5+5:5+4:5", DROPPED)
    assert found is not None
    assert (found.chord.kind, found.chord.root, found.fingers) == (ChordKind.POWER, 7, 1)
    assert [one.name for one in found.sounds] == ["G2", "D3", "G3"]
    assert [one.degree for one in found.sounds] == ["4", "1", "4"]
    assert (found.by_habit.root, found.by_habit.quality) == (2, Quality.SUS_4)
    assert found.by_habit.bass == 9


def test_what_is_held_sounds_too_and_dead_notes_do_not() -> None:
    assert shape("h 6:0 r", tick=0).chord.kind is ChordKind.SINGLE  # type: ignore[union-attr]
    assert shape("q 6:0x") is None
    assert shape("q 6:0", tick=2 * 5040) is None
    found = shape("h 5:5+4:5 q 3:5", tick=2 * 5040)
    assert found is not None
    assert [one.name for one in found.sounds] == ["C4"]


def test_intervals_are_above_the_lowest_sounding_note() -> None:
    found = shape("q 5:5+4:7+3:6")
    assert found is not None
    above = [(one.above.steps, one.above.semitones, one.above.octaves) for one in found.sounds]
    assert above == [(0, 0, 0), (4, 7, 0), (6, 11, 0)]  # D A C sharp


def used(key: str, *lines: str) -> list[tuple[str, int]]:
    whole = lesson(section("A", *lines, key=key))
    found = degrees_used(whole.sections[0], whole.parts[0], 0)
    assert found == tuple(sorted(found))
    return [(one.degree, one.times) for one in found]


def test_the_degrees_in_use_stand_in_order_and_ties_count_once() -> None:
    assert used("E dorian", "q 6:0 3 5 0 | 5:4 4t 6:0 0x") == [
        ("1", 3), ("b3", 1), ("4", 1), ("6", 1),
    ]  # fmt: skip
    assert colour_degrees(Key("E", Mode.DORIAN)) == ("6",)


def test_a_run_of_many_bars_is_named_across_its_chunks() -> None:
    riffs = " | ".join(["q 6:6 r r r", "q 6:7 r r r"] * 40)  # sharp 4 to 5, over the 64th bar too
    whole = lesson(section("A", riffs, key="E minor"), parts=(part("One"),))
    found = degrees_used(whole.sections[0], whole.parts[0], 0)
    assert found == (Used(6, "#4", 40), Used(7, "5", 40))
