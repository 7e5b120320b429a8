"""Each rule of a lesson, broken once, at its place."""

import pytest
from hypothesis import given
from msgspec.structs import replace

from chalkfret.model import (
    BarHead,
    Bend,
    BendPoint,
    Capo,
    Cue,
    CueKind,
    Fault,
    Lesson,
    Meter,
    Note,
    Pause,
    PauseKind,
    Performed,
    Place,
    Retune,
    Sign,
    StudentSetup,
    validate,
)
from chalkfret.model.bars import Bars
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

SIX = tuned("E2 A2 D3 G3 B3 E4")


def one(text: str = "q 6:0", **head: object) -> Lesson:
    return lesson(section("A", text, "q 5:0", **head))


def cue(start: Place, end: Place | None = None, part: str | None = None) -> Cue:
    return Cue("c1", "wah", CueKind.SWEEP, start, end, part)


def with_notes(*notes: Note) -> Lesson:
    found = one()
    bar = found.sections[0].bars[0]
    bars = Bars.of([replace(bar, notes=(notes, ()))])
    return replace(found, sections=(replace(found.sections[0], bars=bars),))


def with_head(**fields: object) -> Lesson:
    return one(heads={0: BarHead(**fields)})


def named(**fields: object) -> Lesson:
    return replace(one(), parts=tuple(replace(p, **fields) for p in one().parts))


TWO_SECTIONS = (section("A", "q 6:0", "q 5:0", cues=(cue(Place(0, 0)),)),) * 2
UP, DOWN = BendPoint(0, 0), BendPoint(10, 200)

BROKEN: list[tuple[Lesson, str, tuple[object, ...]]] = [
    (named(id="p"), "part_id_twice", (None, None, None)),
    (named(name="Low"), "part_name_twice", (None, None, None)),
    (lesson(*TWO_SECTIONS), "section_id_twice", (None, None, None)),
    (named(setup=replace(SIX, capo=Capo(23))), "capo_beyond_neck", (None, None, "Guitar 1")),
    (named(setup=replace(SIX, capo=Capo(2, (7,)))), "capo_course", (None, None, "Guitar 1")),
    (
        replace(one(), head=replace(one().head, order=(Performed("s-z"),))),
        "order_unknown_section",
        (None, None, None),
    ),
    (
        replace(
            one(),
            head=replace(
                one().head, students=(StudentSetup("Eva", replace(SIX, capo=Capo(23))),)
            ),
        ),
        "capo_beyond_neck",
        (None, None, None),
    ),
    (
        replace(one(), sections=(replace(one().sections[0], bars=Bars(())),)),
        "no_bars",
        ("A", None, None),
    ),
    (one(cues=(cue(Place(0, 0), part="x"),)), "cue_unknown_part", ("A", None, None)),
    (one(cues=(cue(Place(0, 5), Place(0, 4)),)), "cue_ends_before_start", ("A", None, None)),
    (one(retunes=(Retune("x", SIX),)), "retune_unknown_part", ("A", None, None)),
    (one(retunes=(Retune("guitar-1", SIX),) * 2), "retuned_twice", ("A", None, "Guitar 1")),
    (
        one(retunes=(Retune("guitar-1", tuned("E1 A1 D2 G2")),)),
        "retune_courses",
        ("A", None, "Guitar 1"),
    ),
    (
        one(retunes=(Retune("guitar-1", replace(SIX, capo=Capo(23))),)),
        "capo_beyond_neck",
        ("A", None, "Guitar 1"),
    ),
    (with_head(meter=Meter(4, 3)), "meter_unit", ("A", 1, None)),
    (with_head(grouping=(3, 2)), "grouping_sum", ("A", 1, None)),
    (with_head(pickup=5040 * 5), "pickup_too_long", ("A", 1, None)),
    (with_head(steps=(4, 4)), "steps_count", ("A", 1, None)),
    (with_head(steps=(4, 4, 4, 11)), "steps_uneven", ("A", 1, None)),
    (with_head(pauses=(Pause(30_000, PauseKind.BREAK, 1.0),)), "pause_beyond_bar", ("A", 1, None)),
    (with_notes(Note(0, 1, 7, 0)), "course_beyond_setup", ("A", 1, "Guitar 1")),
    (with_notes(Note(20_000, 161, 6, 0)), "note_beyond_bar", ("A", 1, "Guitar 1")),
    (with_notes(Note(0, 1, 6, 0), Note(0, 1, 6, 1)), "two_notes_at_once", ("A", 1, "Guitar 1")),
    (with_notes(Note(0, 1, 6, 0), Note(0, 1, 5, 1)), "notes_out_of_order", ("A", 1, "Guitar 1")),
    (
        with_notes(Note(0, 1, 6, 0, marks=(Sign.ACCENT, Sign.TIE))),
        "marks_out_of_order",
        ("A", 1, "Guitar 1"),
    ),
    (with_notes(Note(0, 1, 6, 0, marks=(Bend((DOWN, UP)),))), "bend_runs_back",
     ("A", 1, "Guitar 1")),
]  # fmt: skip


@pytest.mark.parametrize(("broken", "code", "place"), BROKEN, ids=[row[1] for row in BROKEN])
def test_each_rule(broken: Lesson, code: str, place: tuple[object, ...]) -> None:
    found = {fault.code: fault for fault in reversed(validate(broken))}
    assert code in found
    where = found[code].where
    assert (where.section, where.bar, where.part) == place


def test_more_that_is_twice() -> None:
    codes = [fault.code for fault in validate(lesson(*TWO_SECTIONS))]
    assert codes == ["section_id_twice", "letter_twice", "cue_id_twice"]


def test_a_bar_lacks_a_part() -> None:
    found = one()
    bar = found.sections[0].bars[0]
    bars = Bars.of([replace(bar, notes=bar.notes[:1])])
    broken = replace(found, sections=(replace(found.sections[0], bars=bars),))
    (fault,) = validate(broken)
    assert (fault.code, fault.figures) == ("part_count", (("have", 1), ("need", 2)))


def test_a_broken_head_hides_what_it_makes_unjudgeable() -> None:
    broken = one("w 6:0 | q 7:0", heads={0: BarHead(meter=Meter(4, 3))})
    assert [(f.code, f.where.bar) for f in validate(broken)] == [
        ("meter_unit", 1),
        ("course_beyond_setup", 2),
    ]


def test_no_more_faults_than_asked_for() -> None:
    broken = lesson(section("A", " | ".join(["q 7:0"] * 50)), parts=(part("Low"),))
    assert len(validate(broken)) == 20
    assert len(validate(broken, most=3)) == 3


def test_a_pass_counts_from_one() -> None:
    assert [f.code for f in validate(with_head(passes=(0, 1)))] == ["pass_number"]


@given(lessons())
def test_random_lessons_are_sound(found: Lesson) -> None:
    assert validate(found) == ()
    assert all(isinstance(fault, Fault) for fault in validate(found))
