"""Explain is a public interface: its figures are the theory's and the MIDI file's."""

from io import BytesIO
from pathlib import Path

import mido
import pytest
from msgspec.structs import replace

from chalkfret.files.explain import explain
from chalkfret.files.lesson_file import load
from chalkfret.files.midi import MidiOptions, midi_bytes
from chalkfret.model import Capo, Cue, CueKind, Place, Retune
from tests.builder import lesson, part, section, tuned
from tests.files.examples import EXAMPLES

DEMOS = sorted((Path(__file__).parents[2] / "demo_lessons").glob("*.chalkfret"))


def struck(made):
    """Second and number of every note that a MIDI reader hears."""
    file = mido.MidiFile(file=BytesIO(midi_bytes(made, MidiOptions(click=False)).data))
    now, heard = 0.0, []
    for message in file:
        now += message.time
        if message.type == "note_on" and message.velocity:
            heard.append((now, message.note))
    return heard


@pytest.mark.parametrize(
    "made",
    [*(make() for make in EXAMPLES.values()), *(load(path) for path in DEMOS)],
    ids=[*EXAMPLES, *(path.stem for path in DEMOS)],
)
def test_every_pitch_explained_is_struck_in_the_midi_file_at_its_time(made):
    heard = struck(made)
    for note in explain(made).notes:
        if note.midi is not None:
            near = [
                one
                for one in heard
                if abs(one[0] - note.start_s) < 0.001 and abs(one[1] - note.midi) <= 0.501
            ]
            assert near, note
            heard.remove(near[0])


CAPO = replace(tuned("D2 A2 D3 G3 B3 E4"), capo=Capo(2), a4=432.0)
LOW = replace(tuned("C2 G2 C3 F3 A3 D4"), scale_mm=685.8)
MADE = lesson(
    section("A", "q 6:0 3h 5t 0x | 6:0 5:3b 6:5n r", key="E minor", times=2,
            cues=(Cue("c1", "Drive", CueKind.DRIVE, Place(1, 5040), None, "low"),),
            pause_s=1.5),
    section("B", "h 6:0 r", tempo=60.0, key="Db dorian", retunes=(Retune("low", CAPO),)),
    parts=(part("Low", LOW),),
)  # fmt: skip
VALUE = explain(MADE)


def test_setups():
    (setup,) = VALUE.setups
    assert (setup.part, setup.scale_mm, setup.capo, setup.reference_hz) == ("Low", 685.8, None, 440)
    assert [string.number for string in setup.strings] == [1, 2, 3, 4, 5, 6]
    assert setup.strings[5].pitch == "C2"
    assert setup.strings[5].hz == pytest.approx(65.4064, abs=1e-4)  # published equal temperament
    assert setup.strings[5].tension_lb is None  # no gauge, no tension


def test_every_physical_string_is_listed():
    (setup,) = explain(EXAMPLES["twelve-string"]()).setups
    assert [string.number for string in setup.strings] == [1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7]
    assert setup.strings[1].cents == -4.0
    assert setup.strings[-2].scale_mm == 660.4


def test_sections():
    one, two = VALUE.sections
    assert (one.letter, one.meter, one.times, one.tonic, one.mode) == ("A", "4/4", 2, "E", "minor")
    assert one.scale == ("E", "F#", "G", "A", "B", "C", "D")
    assert (one.start_s, one.end_s) == pytest.approx((0, 2 * 2 * 2.4))
    assert two.start_s == pytest.approx(one.end_s + 1.5)
    assert two.scale == ("Db", "Eb", "Fb", "Gb", "Ab", "Bb", "Cb")
    (cue,) = one.cues
    assert (cue.bar, cue.beat, cue.end_bar, cue.part) == (2, 2.0, None, "Low")
    first = one.mode_candidates[0]  # two notes are tied or dead
    assert (first.tonic, first.reasons[0]) == ("C", "fits 5 of 5 notes")
    # E is played nowhere: on strings 6 and 5, a major third and a tone down, habit differs.
    assert (one.parts[0].sounds_in, one.parts[0].shaped_as) == ("E", None)
    assert (two.parts[0].sounds_in, two.parts[0].shaped_as) == ("Db", "Db")


def test_notes_are_attacks_as_played():
    notes = [note for note in VALUE.notes if note.section == "A"]
    played = [(n.pass_, n.bar, n.beat, n.string, n.fret) for n in notes]
    first = [(1, 1, 1, 6, 0), (1, 1, 2, 6, 3), (1, 1, 3, 6, 5), (1, 1, 4, 6, 0),
             (1, 2, 1, 6, 0), (1, 2, 2, 5, 3), (1, 2, 3, 6, 5)]  # fmt: skip
    assert played == [*first, *((2, *rest) for _, *rest in first)]
    hammered, dead, harmonic = notes[1], notes[3], notes[6]
    assert (hammered.marks, hammered.name, hammered.midi) == (("hammer_on",), "D#", 39.0)
    assert (dead.midi, dead.name, dead.hz, dead.degree) == (None,) * 4
    assert dead.marks == ("dead",)
    assert harmonic.midi == pytest.approx(48)  # an octave above the open C2


def test_a_tied_note_is_no_attack():
    made = lesson(section("A", "h 6:3 3t | h 3t r"))
    (note,) = explain(made).notes
    assert (note.start_s, note.end_s) == pytest.approx((0, 6 * 0.6))


def test_a_retuned_part_sounds_on_its_other_setup():
    (note,) = [note for note in VALUE.notes if note.section == "B"]
    assert (note.midi, note.name, note.degree) == (40.0, "Fb", "b3")  # D2, capo at fret 2
    assert note.hz == pytest.approx(82.4069 * 432 / 440, abs=1e-3)


def test_each_string_has_its_share_of_strength_where_it_can_be_known():
    """By hand: .010 in E4 pulls 16.2 lb (chart 13934); music wire .010 bears 387 ksi at least."""
    strings = explain(lesson(section("A", "q 6:0"), parts=(part("One"),))).setups[0].strings
    assert [one.strength_percent is not None for one in strings] == [True] * 3 + [False] * 3
    assert strings[0].strength_percent == pytest.approx(
        100 * 16.2 / (3.14159 / 4 * 0.010**2 * 387_000), rel=0.003
    )
    assert [one.uncertainty_percent for one in strings] == [1.0] * 3 + [5.0] * 3
