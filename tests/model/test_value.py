"""Equal values have one form, and values are strict about keys."""

import math

import msgspec
import pytest

from chalkfret.model import GuitarString, Note, Tempo, Voice


def test_whole_numbers_given_for_floats_become_floats():
    assert type(Tempo(100).start) is float
    assert type(msgspec.json.decode(b'{"start":100}', type=Tempo).start) is float
    assert type(msgspec.structs.replace(Tempo(100.0), end=120).end) is float


def test_negative_zero_is_zero():
    assert math.copysign(1, GuitarString("E2", cents=-0.0).cents) == 1
    assert math.copysign(1, Voice(pan=-0.0).pan) == 1


@pytest.mark.parametrize("text", ["E2\n", "E2 ", "H2", "e2", "E9", "E-1"])
def test_a_pitch_name_is_nothing_else(text):
    with pytest.raises(msgspec.ValidationError):
        msgspec.convert({"pitch": text}, GuitarString)


def test_unknown_keys_are_refused():
    with pytest.raises(msgspec.ValidationError):
        msgspec.json.decode(b'{"onset":0,"length":1,"course":1,"fret":0,"string":1}', type=Note)
