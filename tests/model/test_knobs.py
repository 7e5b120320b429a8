"""The knobs of effects: every kind has its list, every usual value lies within its bounds."""

from chalkfret.model import CueKind
from chalkfret.model.knobs import KNOBS, knob_of


def test_every_kind_of_cue_has_its_knobs() -> None:
    assert set(KNOBS) == set(CueKind)


def test_a_knob_begins_within_its_bounds_and_is_found_by_its_name() -> None:
    for kind, knobs in KNOBS.items():
        assert len({knob.name for knob in knobs}) == len(knobs)
        for knob in knobs:
            assert knob.low <= knob.usual <= knob.high
            assert knob_of(kind, knob.name) is knob
    assert knob_of(CueKind.FREE, "warmth") is None
