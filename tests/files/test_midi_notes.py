"""Notes in the file: when they begin, what they sound, how long and how loud."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
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
    NaturalHarmonic,
    Note,
    Part,
    Retune,
    Setup,
    Sign,
    Slide,
    SlideWay,
    Swing,
    SwingUnit,
    Tempo,
    TempoShape,
    Vibrato,
    Voice,
    in_order,
    with_notes,
)
from chalkfret.theory.sounding import attack_pitch
from chalkfret.timeline.attacks import Attack, attacks
from chalkfret.timeline.clock import timeline
from tests.builder import lesson, part, riff, section, tuned
from tests.files.midi_reading import Heard, heard

QUIET = MidiOptions(click=False)


def read(one: Lesson, options: MidiOptions = QUIET) -> Heard:
    result = midi_bytes(one, options)
    assert result.remarks == ()
    return heard(result.data)


def with_marks(riff: str, at: int, *marks: object, **head: object) -> Lesson:
    """The riff on one guitar, its note ``at`` with these marks."""
    one = section("A", riff, tempo=60, **head)
    notes = list(one.bars[0].notes[0])
    notes[at] = replace(notes[at], marks=in_order((*notes[at].marks, *marks)))
    bar = with_notes(one.bars[0], 0, tuple(notes))
    return lesson(replace(one, bars=one.bars.with_bars({0: bar})))


marks = st.lists(
    st.sampled_from(
        [
            Sign.TIE, Sign.HAMMER_ON, Sign.GHOST, Sign.DEAD, Sign.PALM_MUTE, Sign.LET_RING,
            Sign.STACCATO, Sign.ACCENT, Slide(SlideWay.FROM_NOTE), Slide(SlideWay.OUT_DOWN),
            Bend((BendPoint(0, 150), BendPoint(QUARTER, -50))), NaturalHarmonic(7.0), Vibrato(),
        ]
    ),
    max_size=2,
).map(lambda found: in_order(tuple(found)))  # fmt: skip


def with_course(setup: Setup, course: int, *strings: GuitarString) -> Setup:
    """The setup with other strings on a course."""
    courses = setup.courses
    return replace(setup, courses=(*courses[: course - 1], Course(strings), *courses[course:]))


def strings_of(attack: Attack) -> range:
    """The strings of the course that is struck, from 0."""
    return range(len(attack.setup.course(attack.note.course).strings))


@st.composite
def lessons(draw: st.DrawFn) -> Lesson:
    def notes() -> tuple[Note, ...]:
        places = draw(st.sets(st.tuples(st.integers(0, 7), st.integers(1, 6)), max_size=8))
        return tuple(
            Note(
                onset * QUARTER // 2,
                draw(st.sampled_from([QUARTER // 2, QUARTER // 3, QUARTER // 5])),
                course,
                draw(st.integers(0, 22)),
                marks=draw(marks),
            )
            for onset, course in sorted(places)
        )

    sections = []
    for letter in "AB"[: draw(st.integers(1, 2))]:
        one = section(
            letter,
            " | ".join([""] * 3),
            "",
            tempo=Tempo(
                draw(st.floats(40, 240)),
                end=draw(st.none() | st.floats(40, 240)),
                shape=draw(st.sampled_from(TempoShape)),
            ),
            swing=draw(st.none() | st.builds(Swing, st.sampled_from(SwingUnit), st.floats(1, 3))),
            times=draw(st.integers(1, 2)),
            pause_s=draw(st.sampled_from([0.0, 0.5])),
        )
        bars = [replace(bar, notes=(notes(), notes())) for bar in one.bars]
        sections.append(replace(one, bars=one.bars.splice(0, 3, bars)))
    cents = draw(st.floats(-49, 49))
    low = tuned("C2 G2 C3 F3 A3 D4", a4=draw(st.sampled_from([440.0, 432.0])))
    beside = (GuitarString("C3", cents=draw(st.floats(-49, 49))), GuitarString("C4", first_fret=5))
    low = with_course(low, 1, GuitarString("D4", cents=cents), GuitarString("D4"))
    low = with_course(low, 6, GuitarString("C2"), *beside)
    low = replace(low, capo=Capo(2))
    return lesson(*sections, parts=(part("Low", low), part("High")))


@given(lessons())
def test_every_string_of_an_attack_is_there_at_its_time_and_pitch(one: Lesson) -> None:
    found = read(one)
    names = [each.name for each in one.parts]
    wanted = []
    for attack in attacks(one):
        for string in strings_of(attack):
            pitch = attack_pitch(attack.setup, attack.note, string)
            wanted.append((names[attack.part], attack.start_s, round(pitch), pitch, attack))
    assert len(found.notes) == len(wanted)
    left = list(found.notes)
    for name, start_s, number, pitch, attack in wanted:
        near = [
            note
            for note in left
            if note.track == name and note.number == number and abs(note.start_s - start_s) < 0.001
        ]
        assert near, f"{name} {start_s} {number}"
        same = [note for note in near if abs(note.number + note.bend - pitch) < 0.01]
        assert same, f"{[note.number + note.bend for note in near]} is not {pitch}"
        left.remove(same[0])
        assert same[0].end_s > start_s
        rings = any(note.has(Sign.LET_RING) for note in (attack.note, *attack.tied))
        assert rings or same[0].end_s < attack.end_s + 0.001
    assert not left


def test_a_bend_of_a_tied_note_begins_with_it_and_not_at_the_attack() -> None:
    """Found by fuzzing: a pre-bend on a tied note bent the attack it is tied to."""
    (bar,) = riff("h 1:0 0t")
    bent = replace(bar[1], marks=(Sign.TIE, Bend((BendPoint(0, 150), BendPoint(5040, -50)))))
    one = section("A", "h 1:0 0t", tempo=60.0)
    one = replace(one, bars=one.bars.with_bars({0: replace(one.bars[0], notes=((bar[0], bent),))}))
    (note,) = read(lesson(one)).notes
    assert note.bend == 0.0


def test_one_channel_a_string_and_never_the_tenth() -> None:
    one = lesson(section("A", "q 6:0+5:2+1:0 6:0", "q 6:0+1:0"))
    found = read(one)
    assert {(note.track, note.number): note.channel for note in found.notes} == {
        ("Guitar 1", 64): 0,
        ("Guitar 1", 47): 1,
        ("Guitar 1", 40): 2,
        ("Guitar 2", 64): 3,
        ("Guitar 2", 40): 4,
    }
    seven = tuned("B1 E2 A2 D3 G3 B3 E4")
    wide = lesson(
        section("A", "q 1:0+2:0+3:0+4:0+5:0+6:0+7:0", "q 1:0+2:0+3:0+4:0+5:0+6:0"),
        parts=(part("One", seven), part("Two")),
    )
    assert sorted(note.channel for note in read(wide).notes) == [*range(9), 10, 11, 12, 13]


@pytest.mark.parametrize(
    ("riff", "ends"),
    [
        ("q 6:0 r h r", [1.0]),
        ("q 6:0' r h r", [0.5]),
        ("q 6:0m r h r", [0.7]),
        ("q 6:0x r h r", [0.125]),
        ("q 6:0l r h 6:3", [2.0, 4.0]),
        ("q 6:0l r h 5:3", [4.0, 4.0]),  # within the section
        ("h 6:0' q 6:0t r", [1.5]),
        ("q 6:0 6:0tl r 5:0", [4.0, 4.0]),
    ],
)
def test_lengths(riff: str, ends: list[float]) -> None:
    assert [note.end_s for note in read(lesson(section("A", riff, tempo=60))).notes] == ends


def test_a_string_sounds_one_note_at_a_time() -> None:
    one = section("A", "w 6:0", tempo=60)
    bar = with_notes(one.bars[0], 0, (Note(0, 4 * QUARTER, 6, 0), Note(QUARTER, QUARTER, 6, 0)))
    found = read(lesson(replace(one, bars=one.bars.with_bars({0: bar}))))
    assert [(note.start_s, note.end_s) for note in found.notes] == [(0, 1), (1, 2)]


def test_how_loud() -> None:
    loud = {
        mark: read(lesson(section("A", f"q 6:5{mark}"))).notes[0].velocity
        for mark in ["", ">", "g", "x", "h", "p", "m"]
    }
    assert loud["g"] < loud["x"] < loud["p"] < loud["h"] < loud["m"] < loud[""] < loud[">"] <= 127


def test_a_bend_follows_its_curve() -> None:
    curve = Bend(
        (
            BendPoint(0, 0),
            BendPoint(QUARTER // 2, 200),
            BendPoint(QUARTER, 200),
            BendPoint(2 * QUARTER, 0),
        )
    )
    found = read(with_marks("w 6:5", 0, curve))
    assert found.notes[0].bend == 0
    by_tick = {tick: bend for tick, _, bend in found.bends}
    for tick, bend in by_tick.items():
        place = tick / QUARTER
        exact = 4 * place if place < 0.5 else 2.0 if place < 1 else 2 * (2 - place)
        assert bend == pytest.approx(exact, abs=0.01)
    ordered = [0.0, *(by_tick[tick] for tick in sorted(by_tick))]
    assert max(abs(a - b) for a, b in pairwise(ordered)) <= 0.11
    assert max(ordered) == pytest.approx(2, abs=0.001)
    assert ordered[-1] == 0


def test_a_pre_bend_is_struck_at_its_pitch_and_released_below_it() -> None:
    found = read(with_marks("w 6:5", 0, Bend((BendPoint(0, 200), BendPoint(QUARTER, 0)))))
    (note,) = found.notes
    assert (note.number, note.bend) == (40 + 5 + 2, 0)
    assert found.bends[-1][2] == pytest.approx(-2, abs=0.001)


def test_a_bend_goes_on_over_the_bar_line() -> None:
    one = section("A", "w 6:5 | w 6:5t", tempo=60)
    held = replace(
        one.bars[1].notes[0][0], marks=(Sign.TIE, Bend((BendPoint(0, 0), BendPoint(QUARTER, 100))))
    )
    one = replace(one, bars=one.bars.with_bars({1: with_notes(one.bars[1], 0, (held,))}))
    found = read(lesson(one))
    assert found.bends[0][0] > 4 * QUARTER
    assert found.bends[-1][0] == 5 * QUARTER
    assert found.bends[-1][2] == pytest.approx(1)


def test_a_slide_glides_to_its_note_and_is_there_a_note_of_its_own() -> None:
    found = read(lesson(section("A", "q 6:3 8/ h r", tempo=60)))
    assert [(note.number, note.bend) for note in found.notes] == [(43, 0), (48, 0)]
    gliding = [bend for tick, _, bend in found.bends if tick < QUARTER]
    assert gliding == sorted(gliding)
    assert 4.8 < gliding[-1] <= 5
    assert [bend for tick, _, bend in found.bends if tick == QUARTER] == [0]


def test_slides_from_and_to_nowhere() -> None:
    low = read(with_marks("h 6:5 r", 0, Slide(SlideWay.IN_FROM_BELOW)))
    assert (low.notes[0].number, low.notes[0].bend) == (45, pytest.approx(-2, abs=0.001))
    assert low.bends[-1][2] == 0
    high = read(with_marks("h 6:5 r", 0, Slide(SlideWay.IN_FROM_ABOVE)))
    assert high.notes[0].bend == pytest.approx(2, abs=0.001)
    out = read(with_marks("h 6:3 r", 0, Slide(SlideWay.OUT_DOWN)))
    assert -3 < out.bends[-1][2] < -2.5, "never over the nut"
    assert read(with_marks("h 6:0 r", 0, Slide(SlideWay.OUT_DOWN))).bends == []
    assert 4.5 < read(with_marks("h 6:3 r", 0, Slide(SlideWay.OUT_UP))).bends[-1][2] < 5


@pytest.mark.parametrize(("wide", "cents"), [(False, 25), (True, 60)])
def test_vibrato_pushes_the_pitch_up_and_lets_it_back(wide: bool, cents: int) -> None:
    found = read(with_marks("w 6:5", 0, Vibrato(wide)))
    assert found.notes[0].bend == 0
    assert max(bend for _, _, bend in found.bends) == pytest.approx(cents / 100, abs=0.001)
    assert min(bend for _, _, bend in found.bends) == found.bends[-1][2] == 0
    backs = [found.seconds(tick) for tick, _, bend in found.bends if bend == 0]
    assert [b - a for a, b in pairwise(backs)] == pytest.approx(
        [1 / 5.5] * (len(backs) - 1), abs=0.001
    )
    assert backs[0] == pytest.approx(0.15 + 1 / 5.5, abs=0.001)
    assert backs[-1] > 3.6


def test_a_note_too_short_for_vibrato_has_none() -> None:
    assert read(with_marks("s 6:5 6:5", 0, Vibrato())).bends == []


def test_a_bent_note_shakes_above_its_bend() -> None:
    bend = Bend((BendPoint(0, 0), BendPoint(QUARTER // 2, 200)))
    found = read(with_marks("w 6:5", 0, bend, Vibrato()))
    assert max(turned for _, _, turned in found.bends) == pytest.approx(2.25, abs=0.001)


def test_cents_capo_and_harmonics() -> None:
    setup = tuned("E2 A2 D3 G3 B3 E4", capo=Capo(3))
    setup = with_course(setup, 6, GuitarString("E2", cents=-30.0))
    found = read(lesson(section("A", "q 6:2 6:0n"), parts=(part("One", setup),)))
    assert [note.number for note in found.notes] == [45, 55]
    assert [note.bend for note in found.notes] == pytest.approx([-0.3, -0.3], abs=0.001)


def test_the_range_is_as_wide_as_needed() -> None:
    found = read(lesson(section("A", "q 6:0 19/ h r")))
    reach = [
        message.value
        for message in found.file.tracks[1]
        if message.type == "control_change" and message.control == 6
    ]
    assert reach == [24]


def test_another_reference_pitch_is_tuned_in() -> None:
    """RPN 1: 8192 is no change, 8192 steps are a semitone."""
    setup = tuned("E2 A2 D3 G3 B3 E4", a4=432.0)
    found = read(lesson(section("A", "q 6:0"), parts=(part("One", setup),)))
    values = [
        (message.control, message.value)
        for message in found.file.tracks[1]
        if message.type == "control_change" and message.control in (6, 38, 100)
    ]
    coarse = values.index((100, 2))
    fine = values.index((100, 1))
    assert values[coarse + 1] == (6, 64)
    steps = (values[fine + 1][1] << 7 | values[fine + 2][1]) - 8192
    assert steps / 8192 * 100 == pytest.approx(-31.77, abs=0.01)
    assert found.notes[0].bend == 0


def test_a_section_may_retune() -> None:
    one = lesson(
        section("A", "w 6:0"),
        section("B", "w 6:0", retunes=(Retune("guitar-1", tuned("D2 A2 D3 G3 B3 E4")),)),
    )
    assert [note.number for note in read(one).notes] == [40, 38]


def test_voice_of_a_part() -> None:
    voice = Voice(program=30, level_db=-12.0, pan=-1.0)
    one = lesson(section("A", "q 6:0"), parts=(replace(part("One"), voice=voice),))
    messages = read(one).file.tracks[1]
    assert [m.program for m in messages if m.type == "program_change"] == [30]
    values = {m.control: m.value for m in messages if m.type == "control_change"}
    assert (values[7], values[10]) == (50, 0)


def wide_lesson(*setups: Setup, riffs: tuple[str, ...], voices: tuple[Voice, ...] = ()) -> Lesson:
    parts: list[Part] = [part(f"Part {place}", setup) for place, setup in enumerate(setups)]
    if voices:
        parts = [replace(one, voice=voice) for one, voice in zip(parts, voices, strict=True)]
    return lesson(section("A", *riffs, tempo=60), parts=tuple(parts))


ALL_SIX = "q 6:0+5:0+4:0+3:0+2:0+1:0"


def test_beyond_fifteen_strings_equal_bends_share_a_channel() -> None:
    """As few as must be, and rather those that never strike one number at once."""
    flat = tuned("E2 A2 D3 G3 B3 E4")
    one = wide_lesson(flat, flat, flat, riffs=(ALL_SIX, f"{ALL_SIX} 6:1b", f"q r {ALL_SIX}"))
    result = midi_bytes(one, QUIET)
    assert result.remarks == ()
    found = heard(result.data)
    by_channel: dict[int, set[tuple[str, int]]] = {}
    for note in found.notes:
        by_channel.setdefault(note.channel, set()).add((note.track, note.number))
    assert sorted(by_channel) == [0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15]
    (bent,) = {channel for _, channel, bend in found.bends if bend}
    assert by_channel[bent] == {("Part 1", 40), ("Part 1", 41)}, "what bends stays alone"
    heard_at = [(note.start_s, note.track, note.number) for note in found.notes]
    assert sorted(heard_at) == sorted(
        (attack.start_s, f"Part {attack.part}", round(attack_pitch(attack.setup, attack.note)))
        for attack in attacks(one)
    )


def test_a_number_that_a_channel_cannot_sound_twice_is_said() -> None:
    same = tuned("E2 E2 E2 E2 E2 E2")
    one = wide_lesson(same, same, same, riffs=(ALL_SIX, ALL_SIX, ALL_SIX))
    result = midi_bytes(one, QUIET)
    assert {remark.code for remark in result.remarks} == {"midi_unisons_merged"}
    assert sum(dict(remark.figures)["notes"] for remark in result.remarks) == 18 - 15
    assert [note.number for note in heard(result.data).notes] == [40] * 15


def test_on_a_shared_channel_the_next_of_a_number_ends_the_one_before() -> None:
    same = tuned("E2 E2 E2 E2 E2 E2")
    held = "w 6:0+5:0+4:0+3:0+2:0"
    later = "q r 6:0+5:0+4:0+3:0+2:0+1:0"
    one = wide_lesson(same, same, same, riffs=(held, later, later))
    found = heard(midi_bytes(one, QUIET).data)  # which fails on a number that begins twice
    cut = [note for note in found.notes if note.start_s == 0 and note.end_s < 1]
    assert cut
    assert all(note.end_s > 0.999 for note in cut)


def test_what_sixteen_channels_cannot_carry_is_said() -> None:
    bent = "q 6:0b+5:0b+4:0b+3:0b+2:0b+1:0b 6:0b+5:0b+4:0b+3:0b+2:0b"
    flat = tuned("E2 A2 D3 G3 B3 E4")
    result = midi_bytes(wide_lesson(flat, flat, flat, riffs=(bent, bent, bent)), QUIET)
    lost = [one for one in result.remarks if one.code == "midi_bends_lost"]
    # 18 strings, 15 channels: one channel is shared by four, the three that bend once among them
    assert len(lost) == 4
    assert sorted(dict(one.figures)["notes"] for one in lost) == [1, 1, 1, 2]
    assert {one.where.part for one in lost} <= {"Part 0", "Part 1", "Part 2"}
    found = heard(result.data)
    assert len({note.channel for note in found.notes}) == 15


def test_cents_that_no_channel_is_left_for_are_said() -> None:
    def spread(first: float) -> Setup:
        setup = tuned("E2 A2 D3 G3 B3 E4")
        courses = [
            replace(course, strings=(replace(course.strings[0], cents=first + place),))
            for place, course in enumerate(setup.courses)
        ]
        return replace(setup, courses=tuple(courses))

    one = wide_lesson(spread(0), spread(10), spread(20), riffs=(ALL_SIX,) * 3)
    result = midi_bytes(one, QUIET)
    lost = [remark for remark in result.remarks if remark.code == "midi_cents_lost"]
    assert len(lost) == 3
    assert {abs(dict(remark.figures)["cents"]) for remark in lost} <= {1.0, 2.0}


def test_sounds_do_not_mix_on_a_channel() -> None:
    flat = tuned("E2 A2 D3 G3 B3 E4")
    voices = (Voice(program=24), Voice(program=30), Voice(program=30, pan=1.0))
    one = wide_lesson(flat, flat, flat, riffs=(ALL_SIX,) * 3, voices=voices)
    result = midi_bytes(one, QUIET)
    assert result.remarks == ()
    found = heard(result.data)
    by_channel: dict[int, set[str]] = {}
    for note in found.notes:
        by_channel.setdefault(note.channel, set()).add(note.track)
    assert all(len(tracks) == 1 for tracks in by_channel.values())


def test_a_pitch_that_midi_has_not_is_said() -> None:
    one = lesson(section("A", "q 1:24a 1:0"), parts=(part("High", tuned("E2 A2 D3 G3 B3 E8")),))
    result = midi_bytes(one, QUIET)
    (remark,) = result.remarks
    assert remark.code == "midi_pitch_range"
    assert (remark.where.section, remark.where.bar, remark.where.part, remark.where.course) == (
        "A", 1, "High", 1,
    )  # fmt: skip
    assert [note.number for note in heard(result.data).notes] == [112]


def test_the_file_is_as_long_as_the_lesson() -> None:
    one = lesson(section("A", "w 6:0 | w r", tempo=60))
    found = read(one)
    assert found.seconds(found.end) == timeline(one).total_s == 8
