"""``explain`` against a lesson worked out with pencil and paper.

Sources: A4 is MIDI 69 and a semitone the twelfth root of 2 (ISO 16; MIDI 1.0, table of note
numbers); a tempo of v beats a minute lets a beat last 60/v seconds, and where v rises evenly over
the beats that is the integral of 60/v (common practice); the second harmonic sounds an octave up
(common practice). Every figure below is written as the arithmetic that gives it.
"""

from math import log

import pytest
from msgspec import to_builtins
from msgspec.structs import replace

from chalkfret.files.explain import explain
from chalkfret.model import BarHead, BeatUnit, Capo, Course, Meter, Swing, SwingUnit, Tempo
from tests.builder import lesson, part, section, tuned

SIX_EIGHT = Meter(6, 8)
EIGHTH = 2520  # ticks
A4 = 442.0


def solo():
    """Drop D at A4 = 442 Hz; a capo at fret 3 that leaves string 6 free; string 5 20 cents flat."""
    setup = tuned("D2 A2 D3 G3 B3 E4", a4=A4, capo=Capo(3, (1, 2, 3, 4, 5)))
    flat = Course((replace(setup.courses[4].strings[0], cents=-20.0),))
    return replace(setup, courses=(*setup.courses[:4], flat, setup.courses[5]))


def doubled():
    """Courses of two strings, the second an octave higher."""
    setup = tuned("E2 A2 D3")
    octaves = ("D4", "A3", "E3")
    return replace(setup, courses=tuple(
        Course((course.strings[0], replace(course.strings[0], pitch=octave)))
        for course, octave in zip(setup.courses, octaves, strict=True)
    ))  # fmt: skip


MADE = lesson(
    section(
        "A", "e 5:0 2 | q. 6:0 5:3h | 5:3t 4:0n", "q r",
        tempo=Tempo(60.0, BeatUnit.DOTTED_QUARTER), key="F major", pause_s=1.5,
        heads={
            0: BarHead(meter=SIX_EIGHT, pickup=2 * EIGHTH),
            1: BarHead(meter=SIX_EIGHT, repeat_open=True),
            2: BarHead(meter=SIX_EIGHT, repeat_close=2),
        },
    ),
    section("B", "e 6:0 0x q 2b", "q r", tempo=90.0, meter=(2, 4),
            swing=Swing(SwingUnit.EIGHTH, 2.0), times=2),
    section("C", "q r", "q r r r r | 3:0+1:2", tempo=Tempo(60.0, end=120.0)),
    parts=(part("Solo", solo()), part("Doubled", doubled())),
)  # fmt: skip

B_STARTS = 26 / 3 + 1.5  # the pickup's 2/3 s, four bars of 2 s, the pause
QUARTER = 60 / 90  # in section B
C_STARTS = B_STARTS + 2 * 2 * QUARTER

# part, section, pass, bar, beat, start, end, string, fret, MIDI number, name, degree, marks
BY_HAND = [
    # A pickup of two eighths has the beats 5 and 6 of its bar; an eighth lasts a third of a second.
    ("Solo", "A", 1, 1, 5, 0, 1 / 3, 5, 0, 45 + 3 - 0.2, "C", "5", ()),
    ("Solo", "A", 1, 1, 6, 1 / 3, 2 / 3, 5, 2, 45 + 3 + 2 - 0.2, "D", "6", ()),
    # The capo does not reach string 6. What is hammered on rings on over the bar line.
    ("Solo", "A", 1, 2, 1, 2 / 3, 5 / 3, 6, 0, 38, "D", "6", ()),
    ("Solo", "A", 1, 2, 4, 5 / 3, 11 / 3, 5, 3, 45 + 3 + 3 - 0.2, "Eb", "b7", ("hammer_on",)),
    ("Solo", "A", 1, 3, 4, 11 / 3, 14 / 3, 4, 0, 50 + 3 + 12, "F", "1", ("natural_harmonic",)),
    ("Solo", "A", 2, 2, 1, 14 / 3, 17 / 3, 6, 0, 38, "D", "6", ()),
    ("Solo", "A", 2, 2, 4, 17 / 3, 23 / 3, 5, 3, 45 + 3 + 3 - 0.2, "Eb", "b7", ("hammer_on",)),
    ("Solo", "A", 2, 3, 4, 23 / 3, 26 / 3, 4, 0, 50 + 3 + 12, "F", "1", ("natural_harmonic",)),
    # Swung two to one: the second eighth comes after two thirds of the quarter.
    *(
        ("Solo", "B", time, 1, beat, start + at, end + at, 6, fret, midi, name, None, marks)
        for time, at in ((1, B_STARTS), (2, B_STARTS + 2 * QUARTER))
        for beat, start, end, fret, midi, name, marks in (
            (1, 0, QUARTER * 2 / 3, 0, 38, "D", ()),
            (1.5, QUARTER * 2 / 3, QUARTER, 0, None, None, ("dead",)),
            (2, QUARTER, 2 * QUARTER, 2, 38 + 2, "E", ("bend",)),
        )
    ),
    # From 60 to 120 over eight beats: beat x comes after the integral of 60 / (60 + 7.5 x), that
    # is 8 ln(1 + x / 8).
    *(
        ("Doubled", "C", 1, 2, 1, C_STARTS + 8 * log(1.5), C_STARTS + 8 * log(1.625), *rest)
        for rest in ((1, 2, 50 + 2, "E", None, ()), (3, 0, 40, "E", None, ()))
    ),
]  # fmt: skip


def test_every_attack_is_where_pencil_and_paper_put_it():
    found = explain(MADE).notes
    assert len(found) == len(BY_HAND)
    for note, expected in zip(found, BY_HAND, strict=True):
        part_, section_, pass_, bar, beat, start, end, string, fret, midi, name, degree, marks = (
            expected
        )
        reference = A4 if part_ == "Solo" else 440.0
        assert to_builtins(note) == {
            "part": part_, "section": section_, "pass": pass_, "bar": bar,
            "beat": pytest.approx(beat), "start_s": pytest.approx(start, abs=1e-9),
            "end_s": pytest.approx(end, abs=1e-9), "string": string, "fret": fret,
            "midi": midi if midi is None else pytest.approx(midi, abs=1e-9),
            "name": name,
            "hz": None if midi is None else pytest.approx(reference * 2 ** ((midi - 69) / 12)),
            "degree": degree, "marks": marks,
        }  # fmt: skip


def test_sections_begin_and_end_where_their_music_does():
    found = [(one.start_s, one.end_s) for one in explain(MADE).sections]
    assert found[0] == pytest.approx((0, 26 / 3))
    assert found[1] == pytest.approx((B_STARTS, C_STARTS))
    assert found[2] == pytest.approx((C_STARTS, C_STARTS + 8 * log(2)))
