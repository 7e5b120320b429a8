"""Frequencies against published figures.

- ISO 16:1975, *Acoustics: standard tuning frequency*: A4 = 440 Hz.
- *CRC Handbook of Chemistry and Physics*, 14-22, table of the equally tempered scale.
- B. H. Suits, *Physics of Music: Notes*, Michigan Technological University, frequency table.
- Equal temperament: Parncutt & Strasburger, 1994, eq. 1; music21's own ``pitch.frequency``.
- Natural harmonics: multiples of the open string; music21's ``Pitch.getHarmonic``.
"""

import math

import pytest
from music21 import pitch as m21pitch

from chalkfret.model.pitch import midi_of
from chalkfret.theory.sounding import hz, node_position, partial_of_node

CRC = {"C2": 65.406, "D2": 73.416, "E2": 82.407, "F2": 87.307, "C4": 261.63, "E4": 329.63}
SUITS = {
    "E1": 41.20, "A1": 55.00, "B1": 61.74, "A2": 110.00, "D3": 146.83, "G3": 196.00, "B3": 246.94,
}  # fmt: skip


def test_a4_is_that_of_iso_16() -> None:
    assert hz(69) == 440.0


@pytest.mark.parametrize(("name", "printed"), [*CRC.items(), *SUITS.items()])
def test_a_printed_frequency(name: str, printed: float) -> None:
    digits = 3 if printed < 100 and name in CRC else 2
    assert round(hz(midi_of(name)), digits) == pytest.approx(printed, abs=10**-digits)


def test_every_midi_number_is_as_music21_has_it() -> None:
    for midi in range(128):
        assert hz(midi) == pytest.approx(m21pitch.Pitch(midi=midi).frequency, rel=1e-9)


def test_another_reference_moves_everything_by_the_same_cents() -> None:
    cents = 1200 * math.log2(hz(40, 432.0) / hz(40))
    assert cents == pytest.approx(1200 * math.log2(432 / 440))


def test_the_nodes_players_name_ring_their_partials() -> None:
    """Frets at which guitarists touch natural harmonics, and what rings (common practice)."""
    for node, partial in (
        (12, 2), (7, 3), (19, 3), (5, 4), (24, 4), (4, 5), (9, 5), (16, 5), (3.2, 6), (2.7, 7),
        (5.8, 7), (2.3, 8),
    ):  # fmt: skip
        assert partial_of_node(node) == partial


@pytest.mark.parametrize("partial", range(2, 9))
def test_a_harmonic_is_music21s_harmonic(partial: int) -> None:
    """Their harmonic of E2, in microtones, lies where 12 log2 of the partial puts it."""
    theirs = m21pitch.Pitch("E2").getHarmonic(partial)
    assert 40 + 12 * math.log2(partial) == pytest.approx(theirs.ps, abs=0.01)
    assert partial_of_node(node_position(partial)) == partial
