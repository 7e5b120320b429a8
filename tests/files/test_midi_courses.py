"""Courses of several strings in the file: every string sounds, and what sharing does to them."""

import time
from collections import defaultdict

import pytest
from msgspec.structs import replace

from chalkfret.files.midi import MidiOptions, midi_bytes
from chalkfret.model import (
    QUARTER,
    Bend,
    BendPoint,
    Capo,
    Course,
    GuitarString,
    Lesson,
    Retune,
    Setup,
    in_order,
    with_notes,
)
from chalkfret.theory.sounding import attack_pitch
from chalkfret.timeline.attacks import attacks
from tests.builder import lesson, part, section, tuned
from tests.files.midi_reading import Heard, HeardNote, heard
from tests.files.test_midi_notes import QUIET, read, strings_of, with_course

PAIRS = (("E4", "E4"), ("B3", "B3"), ("G3", "G4"), ("D3", "D4"), ("A2", "A3"), ("E2", "E3"))
CHORD = "6:0+5:2+4:2+3:1+2:0+1:0"


def twelve(*cents: float) -> Setup:
    """A twelve-string in standard tuning; the second strings are so many cents off."""
    offs = cents or (0.0,) * 6
    courses = tuple(
        Course((GuitarString(one), GuitarString(other, cents=off)))
        for (one, other), off in zip(PAIRS, offs, strict=True)
    )
    return replace(tuned("E2 A2 D3 G3 B3 E4"), courses=courses)


def with_bends(one: Lesson, *courses: int) -> Lesson:
    """The first part's notes on these courses bent up a whole tone over their first quarter."""
    (only,) = one.sections
    bend = Bend((BendPoint(0, 0), BendPoint(QUARTER, 200)))
    bars = [
        with_notes(bar, 0, tuple(
            replace(note, marks=in_order((*note.marks, bend))) if note.course in courses else note
            for note in bar.notes[0]
        ))
        for bar in only.bars
    ]  # fmt: skip
    return replace(one, sections=(replace(only, bars=only.bars.splice(0, len(bars), bars)),))


def pitches(found: Heard) -> list[tuple[float, float]]:
    """Second and pitch with its cents of every note."""
    return sorted((note.start_s, round(note.number + note.bend, 2)) for note in found.notes)


def meant(one: Lesson) -> list[tuple[float, float]]:
    """The same of every string of every attack."""
    return sorted(
        (attack.start_s, round(attack_pitch(attack.setup, attack.note, string), 2))
        for attack in attacks(one)
        for string in strings_of(attack)
    )


def assert_pitches(found: Heard, one: Lesson) -> None:
    for mine, theirs in zip(pitches(found), meant(one), strict=True):
        assert mine == pytest.approx(theirs, abs=0.011)


def at_once(found: Heard) -> dict[float, list[HeardNote]]:
    out: dict[float, list[HeardNote]] = defaultdict(list)
    for note in found.notes:
        out[note.start_s].append(note)
    return out


def test_the_octave_strings_of_a_twelve_string_sound() -> None:
    one = lesson(section("A", f"w {CHORD}", tempo=60), parts=(part("One", twelve()),))
    found = read(one)
    # E major on a twelve-string: the six notes, unisons above, octaves from the third course down
    assert sorted(note.number for note in found.notes) == sorted(
        [64, 64, 59, 59, 56, 68, 52, 64, 47, 59, 40, 52]
    )
    assert sorted(note.channel for note in found.notes) == [*range(9), 10, 11, 12]
    assert {(note.start_s, note.end_s) for note in found.notes} == {(0.0, 4.0)}


def test_every_string_has_its_cents_its_capo_and_its_first_fret() -> None:
    setup = with_course(
        tuned("E2 A2 D3 G3 B3 E4", capo=Capo(2)),
        6,
        GuitarString("E2", cents=-20.0),
        GuitarString("E3", cents=12.0),
        GuitarString("B3", first_fret=5),
    )
    one = lesson(section("A", "q 6:0 1 3 6", tempo=60), parts=(part("One", setup),))
    found = read(one)
    by_time = {
        second: [(note.number, round(note.bend, 2)) for note in notes]
        for second, notes in at_once(found).items()
    }
    assert by_time == {  # the third string sounds B3 up to fret 5, where it begins
        0: [(42, -0.2), (54, 0.12), (59, 0)],
        1: [(43, -0.2), (55, 0.12), (59, 0)],
        2: [(45, -0.2), (57, 0.12), (59, 0)],
        3: [(48, -0.2), (60, 0.12), (62, 0)],
    }


def test_a_course_is_as_loud_as_one_string() -> None:
    """General MIDI 2: loudness in dB is 40 log10 of velocity / 127; powers of n strings add up."""
    three = with_course(twelve(), 5, *(GuitarString(name) for name in ("A2", "A3", "A4")))
    one = lesson(
        section("A", "q 6:0 5:0 6:0g 6:0>", "q 6:0 5:0 6:0g 6:0>", tempo=60),
        parts=(part("Many", three), part("One")),
    )
    for notes in at_once(read(one)).values():
        (single,) = [note.velocity for note in notes if note.track == "One"]
        many = [note.velocity for note in notes if note.track == "Many"]
        assert all(velocity < single for velocity in many)
        assert sum((velocity / single) ** 4 for velocity in many) == pytest.approx(1, abs=0.05)


def test_harmonics_and_dead_notes_of_a_course() -> None:
    one = lesson(section("A", "q 6:0n 6:3x h r", tempo=60), parts=(part("One", twelve()),))
    found = read(one)
    by_time = {second: [n.number for n in notes] for second, notes in at_once(found).items()}
    assert by_time == {0: [52, 64], 1: [43, 55]}
    assert {note.end_s for note in found.notes if note.start_s == 1} == {1.125}


def test_a_bend_moves_every_string_of_its_course() -> None:
    setup = twelve(0, 0, 0, 0, 0, 7.0)
    one = with_bends(lesson(section("A", "w 6:5", tempo=60), parts=(part("One", setup),)), 6)
    found = read(one)
    for channel, start in ((0, 0.0), (1, 0.07)):
        moved = [bend for _, number, bend in found.bends if number == channel]
        assert max(moved) == pytest.approx(start + 2, abs=0.001)


def test_a_twelve_string_beside_a_six_string_loses_nothing() -> None:
    setup = twelve(3, -3, 2, 2, 2, 2)
    one = lesson(
        section("A", f"q {CHORD} h {CHORD} q 6:3", f"q {CHORD} q 1:5+2:5 r 6:0~", tempo=60),
        parts=(part("Twelve", setup), part("Six")),
    )
    found = read(one)  # without a remark
    assert len({note.channel for note in found.notes}) == 15
    assert_pitches(found, one)


def test_the_strings_of_a_course_share_with_all_their_bends() -> None:
    """18 strings that all bend: a course moves as one, so nothing is lost."""
    parts = (part("Twelve", twelve()), part("Six"))
    riffs = (f"w {CHORD}", "w 6:0~+5:0~+4:0~+3:0~+2:0~+1:0~")
    one = with_bends(lesson(section("A", *riffs, tempo=60), parts=parts), 1, 2, 3, 4, 5, 6)
    found = read(one)
    channels: dict[str, set[int]] = defaultdict(set)
    for note in found.notes:
        channels[note.track].add(note.channel)
    assert len(channels["Six"]) == 6
    for channel in channels["Twelve"]:
        moved = [bend for _, number, bend in found.bends if number == channel]
        assert max(moved) == pytest.approx(2, abs=0.001)
    # the two unison pairs may sound as one note each; all other strings have their own
    assert {(note.track, note.number) for note in found.notes} == {
        (parts[attack.part].name, round(attack_pitch(attack.setup, attack.note, string)))
        for attack in attacks(one)
        for string in strings_of(attack)
    }


def test_unisons_of_a_course_that_share_are_one_note_as_loud_as_both() -> None:
    same = replace(
        twelve(), courses=tuple(Course((GuitarString(a), GuitarString(a))) for a, _ in PAIRS)
    )
    riff = "w 6:0+5:0+4:0+3:0+2:0+1:0"
    alone = lesson(section("A", riff), parts=(part("One", tuned("E2 A2 D3 G3 B3 E4")),))
    bent = with_bends(
        lesson(section("A", riff, riff), parts=(part("One", same), part("Two", same))), 1, 2
    )
    found = read(bent)  # 24 strings; nothing that is heard is lost, so nothing is said
    (full,) = {note.velocity for note in read(alone).notes}
    power: dict[tuple[str, int], float] = defaultdict(float)
    for note in found.notes:
        power[note.track, note.number] += (note.velocity / full) ** 4
    assert power == pytest.approx(dict.fromkeys(power, 1.0), abs=0.05)
    assert len(power) == 12
    assert len(found.notes) == 15


def test_the_cents_that_a_second_string_loses_are_said() -> None:
    """All bend, all are out of tune with each other: three second strings give up their cents."""
    parts = (part("Twelve", twelve(1, 2, 3, 4, 5, 6)), part("Six"))
    riffs = (f"w {CHORD}", "w 6:0~+5:0~+4:0~+3:0~+2:0~+1:0~")
    one = with_bends(lesson(section("A", *riffs, tempo=60), parts=parts), 1, 2, 3, 4, 5, 6)
    result = midi_bytes(one, QUIET)
    assert [(remark.code, remark.where.course) for remark in result.remarks] == [
        ("midi_cents_lost", 1),
        ("midi_cents_lost", 2),
        ("midi_cents_lost", 3),
    ]
    assert [dict(remark.figures)["cents"] for remark in result.remarks] == [1.0, 2.0, 3.0]
    assert len({note.channel for note in heard(result.data).notes}) == 15


def test_a_course_that_gains_a_string_in_a_section() -> None:
    """A section may restring: each string sounds where it is on."""
    one = lesson(
        section("A", "w 6:0", tempo=60),
        section("B", "w 6:0", tempo=60, retunes=(Retune("one", twelve()),)),
        parts=(part("One"),),
    )
    assert pitches(read(one)) == [(0, 40), (4, 40), (4, 52)]


def test_many_strings_of_many_courses_are_shared_out_soon() -> None:
    """Eight guitars of twelve courses of three strings, the most there can be."""
    names = ("E2", "E3", "E4")
    courses = tuple(
        Course(tuple(GuitarString(name, cents=float(place)) for name in names))
        for place in range(12)
    )
    setup = replace(tuned("E2 A2 D3 G3 B3 E4"), courses=courses)
    strum = "w " + "+".join(f"{course}:{course}" for course in range(1, 13))
    one = lesson(
        section("A", *[strum] * 8), parts=tuple(part(f"Part {place}", setup) for place in range(8))
    )
    began = time.process_time()
    result = midi_bytes(one, MidiOptions(click=False))
    assert time.process_time() - began < 5
    assert len({note.channel for note in heard(result.data).notes}) == 15
