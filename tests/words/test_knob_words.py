"""The settings of effects in words."""

from chalkfret.model import CueKind, Setting
from chalkfret.model.knobs import KNOBS
from chalkfret.words.music import knob_words, setting_words


def test_a_setting_says_its_knob_value_and_unit() -> None:
    assert setting_words(CueKind.DELAY, Setting("time", 340.0)) == "time 340 ms"
    assert setting_words(CueKind.PHASE, Setting("rate", 0.4)) == "rate 0.4 Hz"
    assert setting_words(CueKind.OCTAVE, Setting("interval", -12.0)) == "interval -12 semitones"
    assert setting_words(CueKind.FREE, Setting("warmth", 3.0)) == "warmth 3"


def test_every_knob_and_unit_can_be_said() -> None:
    for kind, knobs in KNOBS.items():
        for knob in knobs:
            assert knob_words(knob.name)
            assert setting_words(kind, Setting(knob.name, knob.usual))
