"""The pieces: folk tunes, chorales, masses, madrigals, and single movements, none under copyright.

Works of composers long dead and traditional tunes, in the encodings that the music21 package
carries; nothing of them is kept here but their names. ``tunings`` are low to high, a part each (the
last one serves the remaining parts), most of them far from standard: lines of violins go to
instruments tuned in fifths, those of basses to low ones.
"""

from __future__ import annotations

from typing import NamedTuple

LOW = "C2 G2 C3 F3 A3 D4"  # drop C
BARITONE = "B1 E2 A2 D3 F#3 B3"
SEVEN = "B1 E2 A2 D3 G3 B3 E4"
EIGHT = "F#1 B1 E2 A2 D3 G3 B3 E4"
OPEN_G = "D2 G2 D3 G3 B3 D4"
OPEN_D_MINOR = "D2 A2 D3 F3 A3 D4"
FIFTHS = "C2 G2 D3 A3 E4 B4"
HIGH_FIFTHS = "C3 G3 D4 A4 E5 B5"
OCTAVE_UP = "E3 A3 D4 G4 B4 E5"
LUTE = "G2 C3 F3 A3 D4 G4"
FOURTHS = "E2 A2 D3 G3 C4 F4"
TENOR = "C3 G3 D4 A4"
BASS = "B0 E1 A1 D2 G2 C3"


class Piece(NamedTuple):
    """A piece by its name in the corpus, with its number in a book of tunes."""

    name: str
    number: int | None
    tunings: tuple[str, ...]

    @property
    def title(self) -> str:
        return self.name if self.number is None else f"{self.name} {self.number}"


def _tunes(book: str, numbers: tuple[int, ...], *tunings: str) -> list[Piece]:
    return [Piece(book, number, tunings) for number in numbers]


def _works(names: str, *tunings: str) -> list[Piece]:
    return [Piece(name, None, tunings) for name in names.split()]


PIECES: tuple[Piece, ...] = (
    # Aird 1782 to 1797, O'Neill 1850 (fiddle tunes), Ryan 1883
    *_tunes("airdsAirs/book1", (3, 10, 24), OPEN_G),
    *_tunes("airdsAirs/book2", (215,), OCTAVE_UP),
    *_tunes("airdsAirs/book3", (410,), TENOR),
    *_tunes("oneills1850/0001-0050", (1, 7, 31), FIFTHS),
    *_tunes("oneills1850/0051-0100", (60, 77), OCTAVE_UP),
    *_works(
        "ryansMammoth/AcaciaReel ryansMammoth/AcrobatsHornpipe ryansMammoth/7thRegimentReel",
        HIGH_FIFTHS,
    ),
    # German and British songs
    *_tunes("essenFolksong/altdeu10", (4, 9), OPEN_D_MINOR),
    *_tunes("essenFolksong/ballad10", (1,), LUTE),
    *_tunes("miscFolk/northumbrianminstrelsyopus", (3,), TENOR),
    # chorales, four guitars
    *_works(
        "bach/bwv1.6 bach/bwv10.7 bach/bwv66.6 bach/bwv153.1 bach/bwv253 bach/bwv269 bach/bwv281",
        FIFTHS, LUTE, LOW, SEVEN, SEVEN,
    ),
    # the 14th to the 17th century
    *_works("ciconia/quod_jactatur", FOURTHS),
    *_works("trecento/Fava_Dicant_nunc_iudei", LUTE, OPEN_G),
    *_works("luca/gloria", FOURTHS),
    *_works("palestrina/Agnus_00 palestrina/Sanctus_02", FIFTHS, FOURTHS, LUTE, LOW, SEVEN),
    *_works("lusitano/allor_che_ignuda", FIFTHS, LUTE, LOW),
    *_works("monteverdi/madrigal.3.1", FIFTHS, FOURTHS, LUTE, LOW, SEVEN),
    *_works("corelli/opus3no1/1grave", HIGH_FIFTHS, HIGH_FIFTHS, EIGHT),
    *_works("handel/rinaldo/lascia_chio_pianga", FIFTHS, LUTE, BASS),
    # quartets and songs
    *_works("haydn/opus1no1/movement1 mozart/k80/movement1 mozart/k155/movement2",
            HIGH_FIFTHS, HIGH_FIFTHS, FIFTHS, EIGHT),
    *_works("mozart/k156/movement1 mozart/k458/movement2",
            HIGH_FIFTHS, OCTAVE_UP, FIFTHS, BARITONE),
    *_works("chopin/mazurka06-2", OCTAVE_UP, EIGHT),
    *_works("leadSheet/fosterBrownHair", OCTAVE_UP),
    *_works("schumann_clara/polonaise_op1n1", HIGH_FIFTHS, EIGHT),
    *_works("verdi/laDonnaEMobile", HIGH_FIFTHS, FIFTHS),
    *_works("joplin/maple_leaf_rag", HIGH_FIFTHS, EIGHT),
)  # fmt: skip
