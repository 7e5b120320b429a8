"""MIDI files as programs read them that this project did not write, and by the rules of the bytes.

Readers: mido (reading back with a tempo map of its own) and pretty_midi (its own tempo map, notes
and time signatures). Rules: see ``midi_rules``.
"""

import io
import warnings
from collections import defaultdict
from pathlib import Path

import mido
import pretty_midi
import pytest
from hypothesis import given, settings

from chalkfret.files.lesson_file import load
from chalkfret.files.midi import MidiOptions, midi_bytes
from chalkfret.model import (
    QUARTER,
    BarHead,
    Cue,
    CueKind,
    Lesson,
    Meter,
    Pause,
    PauseKind,
    Place,
    Swing,
    Tempo,
    TempoShape,
)
from chalkfret.theory.sounding import attack_pitch
from chalkfret.timeline.attacks import attacks
from chalkfret.timeline.clicks import clicks
from chalkfret.timeline.clock import timeline
from tests.builder import lesson, part, section, tuned
from tests.files.test_midi_notes import lessons, strings_of
from tests.reference.midi_rules import END_OF_TRACK, METER, TEMPO, BadMidiError, walk

LOW = tuned("C2 G2 C3 F3 A3 D4")
PIECE = lesson(
    section(
        "A",
        "e 6:0m 0m s 6:3h 5 e 5:0 q 6:0+5:2 e3 4:2 5 7~ | h 6:3b q 5:7/ e 5:0l 0x",
        "w 6:0 | e 1:12 13p 12 r h 2:5^",
        name="Rise",
        tempo=Tempo(84.0, end=132.0),
        key="D dorian",
        times=3,
        pause_s=0.8,
        cues=(Cue(id="c", label="Swirl", kind=CueKind.PHASE, start=Place(1, QUARTER)),),
    ),
    section(
        "B",
        "e 6:0 0 5:3 | e 6:0> 3 5 0 7 5 3",
        "e. r e. 6:0 | h 6:5\\ e. 6:0",
        meter=(7, 8),
        tempo=Tempo(140.0, end=70.0, shape=TempoShape.OVER_TIME),
        key="B phrygian_dominant",
        swing=Swing(),
        heads={
            0: BarHead(meter=Meter(7, 8), pickup=3 * QUARTER // 2),
            1: BarHead(
                meter=Meter(7, 8),
                grouping=(3, 2, 2),
                pauses=(Pause(QUARTER, PauseKind.FERMATA, 1.5),),
            ),
        },
    ),
    parts=(part("Low guitar", LOW), part("High guitar")),
    title="Étude",
)
DEMOS = sorted((Path(__file__).parents[2] / "demo_lessons").glob("*.chalkfret"))
SETTINGS = [MidiOptions(), MidiOptions(speed=0.3), MidiOptions(speed=2.0, count_in=2)]


def second_reading(data: bytes) -> pretty_midi.PrettyMIDI:
    pretty_midi.pretty_midi.MAX_TICK = 1e10  # 5040 ticks a quarter pass its guard against nonsense
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        return pretty_midi.PrettyMIDI(io.BytesIO(data))


def lead_of(one: Lesson, options: MidiOptions) -> float:
    """Seconds of the count-in: whole bars at the first tempo, which here begin no pickup."""
    head = one.sections[0].bars[0].head
    assert head.pickup is None or not options.count_in
    tempo = one.sections[0].head.tempo
    beats = options.count_in * head.ticks / tempo.unit.ticks
    return beats * 60 / tempo.start / options.speed


def assert_heard(one: Lesson, options: MidiOptions) -> None:
    """The second reader's notes are the strings that are struck, pitch by pitch, in time."""
    result = midi_bytes(one, options)
    assert result.remarks == ()
    read = second_reading(result.data)
    lead = lead_of(one, options)
    heard: dict[int, list[float]] = defaultdict(list)
    wanted: dict[int, list[float]] = defaultdict(list)
    for instrument in read.instruments:
        for note in [] if instrument.is_drum else instrument.notes:
            heard[note.pitch].append(note.start - lead)
    for attack in attacks(one):
        for string in strings_of(attack):
            number = round(attack_pitch(attack.setup, attack.note, string))
            wanted[number].append(attack.start_s / options.speed)
    assert heard.keys() == wanted.keys()
    for number, times in wanted.items():
        assert sorted(heard[number]) == pytest.approx(sorted(times), abs=0.001)


@pytest.mark.parametrize("options", SETTINGS)
def test_a_second_reader_hears_every_attack(options: MidiOptions) -> None:
    assert_heard(PIECE, options)


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_demo_is_heard_and_keeps_the_rules(path: Path) -> None:
    one = load(path)
    assert_heard(one, MidiOptions())
    walk(midi_bytes(one, MidiOptions(speed=0.7, count_in=1)).data)


@pytest.mark.parametrize("options", SETTINGS)
def test_a_second_reader_beats_the_same_time(options: MidiOptions) -> None:
    read = second_reading(midi_bytes(PIECE, options).data)
    time = timeline(PIECE)
    lead = lead_of(PIECE, options)
    assert read.get_end_time() == pytest.approx(lead + time.total_s / options.speed, abs=0.1)
    downbeats = read.get_downbeats()
    for line in time.bar_lines():
        second = lead + line.start_s / options.speed
        assert min(abs(downbeats - second)) < 0.001
    changes, tempi = read.get_tempo_changes()
    assert tempi[0] == pytest.approx(84 * options.speed, rel=0.02)
    assert len(changes) > 20, "a gradual change is many small ones"


def test_a_second_reader_finds_the_click_and_the_programs() -> None:
    read = second_reading(midi_bytes(PIECE).data)
    (drums,) = [one for one in read.instruments if one.is_drum]
    wanted = [one.start_s for one in clicks(PIECE)]
    assert sorted(note.start for note in drums.notes) == pytest.approx(wanted, abs=0.001)
    strings = [one for one in read.instruments if not one.is_drum]
    assert {one.program for one in strings} == {27}
    assert {one.name for one in strings} == {"Low guitar", "High guitar"}
    used = {(one.part, one.note.course) for one in attacks(PIECE)}
    assert len(strings) == len(used), "a channel a string"


def test_mido_adds_the_same_seconds_up() -> None:
    """mido's own player clock, message by message."""
    file = mido.MidiFile(file=io.BytesIO(midi_bytes(PIECE).data))
    now, ons = 0.0, []
    for message in file:
        now += message.time
        if message.type == "note_on" and message.channel != 9:
            ons.append(now)
    wanted = sorted(one.start_s for one in attacks(PIECE))
    assert sorted(ons) == pytest.approx(wanted, abs=0.001)
    assert file.length == pytest.approx(timeline(PIECE).total_s, abs=0.001)


@pytest.mark.parametrize("options", [*SETTINGS, MidiOptions(notes=False), MidiOptions(click=False)])
def test_the_bytes_keep_the_rules(options: MidiOptions) -> None:
    tracks = walk(midi_bytes(PIECE, options).data)
    ends = {track[-1].tick for track in tracks}
    assert all(track[-1].meta == END_OF_TRACK for track in tracks)
    assert len(ends) == 1
    first = tracks[0]
    assert next(event.tick for event in first if event.meta == TEMPO) == 0
    assert next(event.tick for event in first if event.meta == METER) == 0


@given(lessons())
@settings(max_examples=40)
def test_the_bytes_keep_the_rules_whatever_the_lesson(one: Lesson) -> None:
    walk(midi_bytes(one, MidiOptions(count_in=1)).data)


def test_the_walker_finds_broken_bytes() -> None:
    """A checker that finds nothing wrong with anything would prove nothing."""
    good = midi_bytes(PIECE).data
    walk(good)
    tempo = good.index(b"\xff\x51\x03")
    end = good.index(b"\xff\x2f\x00")
    broken = [
        good[:9] + b"\x02" + good[10:],  # format 2
        good[:12] + b"\xe7\x28" + good[14:],  # frames a second
        good[:11] + b"\x09" + good[12:],  # nine tracks
        good[:tempo] + b"\xff\x51\x02" + good[tempo + 3 :],
        good[: tempo + 3] + b"\0\0\0" + good[tempo + 6 :],
        good[:end] + b"\xff\x01\x00" + good[end + 3 :],
        good[:-1],
    ]
    on = good.index(b"\x90")
    broken.append(good[: on + 1] + b"\x80" + good[on + 2 :])
    for data in broken:
        with pytest.raises(BadMidiError):
            walk(data)
