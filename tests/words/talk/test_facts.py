"""Talking points against lessons worked out by hand, and the trace of every fact."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from msgspec.structs import replace

from chalkfret.arrange.differences import Kind
from chalkfret.edits import sections as section_edits
from chalkfret.files.lesson_file import load
from chalkfret.model import Cue, CueKind, Key, Place, Retune, Setting, StudentSetup, Tempo
from chalkfret.model.section import BeatUnit
from chalkfret.places import DEMO_LESSONS
from chalkfret.words.talk import facts as values
from chalkfret.words.talk.found import facts
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

DEMOS = sorted(DEMO_LESSONS.glob("*.chalkfret"))


def of(made, kind, letter=None, subject=""):
    """The one fact of a kind."""
    ids = {one.head.letter: one.id for one in made.sections}
    wanted = ids[letter] if letter else None
    found = [
        fact.what
        for fact in facts(made)
        if isinstance(fact.what, kind)
        and fact.section == wanted
        and fact.subject.startswith(subject)
    ]
    assert len(found) == 1, found
    return found[0]


def none_of(made, kind):
    return not [fact for fact in facts(made) if isinstance(fact.what, kind)]


# Guitars. Semitones are counted on the keyboard: E2 to C2 is four down, A2 to G2 two, and so on.


LOW_C = tuned("C2 G2 D3 F3 A3 D4")


def test_a_tuning_and_the_way_from_standard():
    made = lesson(section("A", "q 6:0"), parts=(part("Low", LOW_C),))
    found = of(made, values.Tuned)
    assert (found.name, found.notes) == (None, ("C", "G", "D", "F", "A", "D"))
    way = of(made, values.Retuning)
    assert way.start == ("E", "A", "D", "G", "B", "E")
    assert [(step.string, step.note, step.semitones) for step in way.steps] == [
        (6, "C", -4), (5, "G", -2), (4, "D", 0), (3, "F", -2), (2, "A", -2), (1, "D", -2),
    ]  # fmt: skip
    assert none_of(made, values.Feel)  # no gauges are known


def test_a_trade_name_and_a_section_that_retunes():
    drop = tuned("D2 A2 D3 G3 B3 E4")
    first, second = section("A", "q 6:0"), section("B", "q 6:0")
    second = replace(second, head=replace(second.head, retunes=(Retune("low", drop),)))
    made = lesson(first, second, parts=(part("Low", tuned("E2 A2 D3 G3 B3 E4")),))
    assert of(made, values.Tuned).name == "Standard"
    assert of(made, values.Tuned, "B").name == "Drop D"
    way = of(made, values.Retuning, "B")
    assert way.within
    assert [step.semitones for step in way.steps] == [-2, 0, 0, 0, 0, 0]


def test_the_feel_of_a_set():
    # D'Addario, "String Tension 101" prints for E4 .010 plain on 25.5 in 16.2 lb; the rest here is
    # only that the sum is the sum, and that the extremes are those of the strings.
    made = load(DEMO_LESSONS / "lantern_steps.chalkfret")
    high = of(made, values.Feel, subject="high")
    assert high.gauges == ((10,), (13,), (17,), (26,), (36,), (48,))
    pulls = {1: 16.2, 2: 15.4, 3: 16.6, 4: 18.4, 5: 19.5, 6: 15.0}
    assert high.lb == pytest.approx(sum(pulls.values()), abs=0.3)
    assert (high.tightest.string, high.loosest.string) == (5, 6)
    assert high.change_lb < 0


def test_what_students_in_other_tunings_hear():
    students = (
        StudentSetup("Standard", tuned("E2 A2 D3 G3 B3 E4")),
        StudentSetup("D standard", tuned("D2 G2 C3 F3 A3 D4")),
        StudentSetup("Seven strings", tuned("B1 E2 A2 D3 G3 B3 E4")),
    )
    made = lesson(section("A", "q 6:0 5:2 4:2"), parts=(part("Low", LOW_C),))
    made = replace(made, head=replace(made.head, students=students))
    standard, whole_step, seven = (
        of(made, values.Student, subject=f"low.{at}") for at in (1, 2, 3)
    )
    assert standard.apart == ((6, 4), (5, 2), (4, 0))  # the strings that are played, no others
    assert whole_step.apart == ((6, 2), (5, 0), (4, -2))
    assert (standard.shift, standard.capo, standard.missing) == (None, 0, 0)
    assert seven.apart == ()
    assert (seven.strings, seven.part_strings) == (7, 6)


def test_a_capo_that_makes_the_same_shapes_sound_right():
    # A guitar two semitones lower all over, and a capo at fret 2 on it: the same pitches.
    lower = (StudentSetup("D standard", tuned("D2 G2 C3 F3 A3 D4")),)
    made = lesson(section("A", "q 6:0 5:2 4:2"))
    made = replace(made, head=replace(made.head, students=lower))
    found = of(made, values.Student)
    assert (found.shift, found.capo) == (-2, 2)


def test_a_string_that_is_not_played_is_in_nobodys_way():
    drop = part("Low", tuned("D2 A2 D3 G3 B3 E4"))
    made = lesson(section("A", "q 5:0 4:2"), parts=(drop,))
    assert of(made, values.Student).apart == ((5, 0), (4, 0))


# The music of sections


def test_tempo_and_what_changed():
    made = lesson(
        section("A", "q 6:0 0 0 0", tempo=Tempo(120.0)),
        section("B", "e 6:0 0 0 0 0 0", tempo=Tempo(60.0, BeatUnit.DOTTED_QUARTER), meter=(6, 8)),
    )
    pace = of(made, values.Pace, "A")
    assert (pace.meters, pace.bars, pace.times, pace.seconds) == (((4, 4),), 1, 1, 2.0)
    # Two dotted quarters at 60 a minute last two seconds, and are 90 quarters a minute.
    assert of(made, values.Pace, "B").seconds == 2.0
    changed = of(made, values.Changed, "B")
    assert (changed.ended_quarters, changed.starts_quarters) == (120.0, 90.0)
    assert (changed.meter_before, changed.meter) == ((4, 4), (6, 8))
    assert not [one for one in facts(made) if one.kind == "change" and one.section == "s-a"]


def test_the_change_is_from_where_the_section_before_ended():
    made = lesson(
        section("A", "q 6:0", tempo=Tempo(90.0, end=110.0)), section("B", "q 6:0", tempo=100.0)
    )
    assert of(made, values.Changed, "B").ended_quarters == 110.0


def test_the_notes_the_colour_and_what_is_outside():
    # On string 6 (E): E G A B flat B C sharp D in E Dorian; flat 5 is not of it.
    made = lesson(section("A", "e 6:0 3 5 6 7 9 10", key="E dorian"))
    notes = of(made, values.NotesOf, "A")
    assert [(one.note, one.degree) for one in notes.notes] == [
        ("E", "1"), ("G", "b3"), ("A", "4"), ("A#", "#4"), ("B", "5"), ("C#", "6"), ("D", "b7"),
    ]  # fmt: skip
    assert [one.degree for one in notes.colour] == ["6"]  # tells Dorian from minor
    assert [one.note for one in notes.outside] == ["A#"]
    assert notes.third == "minor"


def test_a_colour_that_is_not_played_is_said():
    made = lesson(section("A", "e 6:0 3 7", key="E dorian"))
    notes = of(made, values.NotesOf, "A")
    assert notes.colour == ()
    assert [one.note for one in notes.unplayed] == ["C#"]


def test_without_a_key_there_are_notes_only():
    made = lesson(section("A", "e 6:0 1 2x"))
    notes = of(made, values.NotesOf, "A")
    assert [(one.note, one.degree) for one in notes.notes] == [("E", ""), ("F", "")]
    assert none_of(made, values.KeyOf)


def test_what_the_frets_suggest():
    # String 6 at C: fret 3 sounds E flat; on an E string it would be G.
    made = lesson(section("A", "q 6:3 5 7", key="Eb lydian"), parts=(part("Low", LOW_C),))
    shaped = of(made, values.Shaped, "A")
    assert (shaped.sounds, shaped.shaped) == ("Eb", "G")
    assert (shaped.string, shaped.open, shaped.fret, shaped.standard) == (6, "C", 3, "G")


def test_what_the_second_guitar_does():
    made = lesson(section("A", "q 6:0 3 5 3 | q 6:0 3 5 3", "q 5:7 10 12 10 | r"))
    found = of(made, values.Second, "A")
    # String 5 fret 7 is E3, an octave above E2.
    assert [(one.what, one.semitones, one.bars) for one in found.differences] == [
        (Kind.PARALLEL, 12, ((1, 1),)),
        (Kind.SILENT, 0, ((2, 2),)),
    ]


def test_an_effect_and_its_places():
    made = lesson(section("A", "q 6:0 | q 0 | q 0"))
    time = (Setting("time", 300.0),)
    cues = (
        Cue("c1", "Echo", CueKind.DELAY, Place(0, 5040), Place(1, 20160), settings=time),
        Cue("c2", "Room", CueKind.REVERB, Place(0, 0), Place(2, 20160)),
    )
    head = replace(made.sections[0].head, cues=cues)
    made = replace(made, sections=(replace(made.sections[0], head=head),))
    echo, room = (of(made, values.Effect, "A", subject) for subject in ("c1", "c2"))
    assert (echo.bar, echo.beat, echo.end_bar, echo.end_beat) == (1, 2.0, 2, None)
    assert (room.bar, room.end_bar) == (1, None)
    assert [one.subject for one in facts(made) if one.kind.startswith("effect")] == ["c2", "c1"]


# The hard bar


def test_the_hard_bar_by_its_stretch():
    made = lesson(section("A", "q 6:3 3 3 3 | e 6:3 5:7 q 6:3 3 3 | q 6:3 3 3 3", tempo=60.0))
    hard = of(made, values.HardBar, "A")
    assert (hard.bar, hard.low, hard.high) == (2, 3, 7)
    assert hard.speed == 2.0  # two eighths in a beat of one second


def test_the_hard_bar_by_its_jump_also_from_the_bar_before():
    made = lesson(section("A", "q 6:3 3 3 3 | q 6:12 12 12 12 | q 6:12 12 12 12", tempo=60.0))
    hard = of(made, values.HardBar, "A")
    assert (hard.bar, hard.jump_from, hard.jump_to) == (2, 3, 12)


def test_a_rest_gives_the_hand_time_to_move():
    made = lesson(section("A", "q 6:3 3 3 r | q 6:12 12 12 12 | q 6:12 12 12 12", tempo=60.0))
    assert none_of(made, values.HardBar)


def test_the_hard_bar_by_its_speed():
    made = lesson(section("A", "q 6:3 3 3 3 | s 6:3 3 3 3 q 3 3 3", tempo=120.0))
    hard = of(made, values.HardBar, "A")
    assert (hard.bar, hard.speed) == (2, 8.0)  # four sixteenths in half a second


def test_a_slide_is_no_stretch_and_open_strings_bind_no_hand():
    made = lesson(section("A", "q 6:3 3 3 3 | e 6:3 9/ q 6:9 9 9 | e 5:0 6:9 q 9 9 9", tempo=60.0))
    found = [one.what for one in facts(made) if isinstance(one.what, values.HardBar)]
    assert [(one.high - one.low < 4, one.jump_from, one.jump_to) for one in found] == [(True, 3, 9)]


def test_bars_that_are_all_alike_have_no_hard_one():
    assert none_of(lesson(section("A", "s 6:3 3 3 3 | s 6:3 3 3 3", tempo=160.0)), values.HardBar)


# Every fact is traceable


_STEP = re.compile(r"(\w+)|\[(\d+)\]")


def looked_up(made, path):
    """What stands at a path of a lesson; an error where there is no such place."""
    value = made
    for name, index in _STEP.findall(path):
        value = value[int(index)] if index else getattr(value, name)
    return value


def assert_traceable(made):
    letters = {one.head.letter for one in made.sections} | {None}
    names = {one.name for one in made.parts} | {None}
    for fact in facts(made):
        assert fact.paths
        for path in fact.paths:
            looked_up(made, path)
        assert fact.where.section in letters
        assert fact.where.part in names


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_path_of_a_fact_leads_somewhere(path: Path):
    assert_traceable(load(path))


@settings(max_examples=40)
@given(lessons())
def test_the_facts_of_any_lesson_can_be_traced_and_told_apart(made):
    assert_traceable(made)
    keys = [(fact.section, fact.kind) for fact in facts(made)]
    assert len(keys) == len(set(keys))
    assert all(len(kind) <= 120 for _section, kind in keys)


def changes():
    """Edits of one place each of the demo, and the path of that place."""
    made = load(DEMO_LESSONS / "lantern_steps.chalkfret")

    def head(index, **fields):
        return section_edits.set_head(made, index, **fields)

    yield "sections[1].head.tempo", head(1, tempo=Tempo(70.0))
    yield "sections[1].head.times", head(1, times=3)
    yield "sections[0].head.key", head(0, key=Key("G", None))
    first = replace(made.sections[0], head=replace(made.sections[0].head, cues=()))
    yield "sections[0].head.cues", replace(made, sections=(first, *made.sections[1:]))
    yield "sections[2].head.notes", head(2, notes="Nothing of this is said.")
    parts = (replace(made.parts[0], tone="Otherwise."), made.parts[1])
    yield "parts[0].tone", replace(made, parts=parts)
    parts = (replace(made.parts[0], setup=made.parts[1].setup), made.parts[1])
    yield "parts[0].setup", replace(made, parts=parts)
    bars = made.sections[2].bars
    silent = bars.with_bars({1: replace(bars[1], notes=((), ()))})
    one = replace(made.sections[2], bars=silent)
    yield "sections[2].bars", replace(made, sections=(*made.sections[:2], one))


@pytest.mark.parametrize(("path", "after"), [pytest.param(*one, id=one[0]) for one in changes()])
def test_only_facts_that_name_a_place_change_with_it(path, after):
    before = load(DEMO_LESSONS / "lantern_steps.chalkfret")
    now = {(fact.section, fact.kind): fact.fingerprint for fact in facts(after)}
    changed = [one for one in facts(before) if now.get((one.section, one.kind)) != one.fingerprint]
    for fact in changed:
        assert any(path.startswith(one) or one.startswith(path) for one in fact.paths), fact
    said = path not in ("sections[2].head.notes", "parts[0].tone")
    assert bool(changed) is said
