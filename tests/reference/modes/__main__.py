"""``python -m tests.reference.modes [TUNES]``: the tables, of so many tunes a collection."""

from __future__ import annotations

import sys

from chalkfret.theory.mode_finding.weights import USUAL
from tests.reference.modes.agreement import Asked, Share, made, openings, share, times_faster
from tests.reference.modes.tunes import FOLK, PALESTRINA, tunes
from tests.reference.spelling.pieces import corpus_root

_BARS = ((None, "whole"), (4, "4 bars"), (2, "2 bars"))
_LEANING = (1.2, 1.0, 0.75, 0.5, 0.25, 0.0)


def main(most: int) -> int:
    """Print agreement a row, then what leaning less on usual modes would give."""
    riffs = made()
    print(f"{'':28} {'asked':>6} {'exact':>6} {'neither major':>14} {'first 2':>8} {'first 3':>8}")
    print(_row("made riffs", share(riffs)))
    if corpus_root() is None:
        print("The corpus of music21 is not installed: no tunes.")
        return 0
    folk = {one: list(tunes(one, most)) for one in FOLK}
    masses = list(tunes(PALESTRINA, most))
    everything = [tune for group in folk.values() for tune in group]
    for bars, name in _BARS:
        print(_row(f"dance tunes, {name}", share(openings(everything, bars))))
    for collection, group in folk.items():
        print(_row(f"  {collection}, whole", share(openings(group, None))))
    for bars, name in _BARS:
        print(_row(f"Palestrina, {name}", share(openings(masses, bars))))
    print(f"\n{times_faster(everything[:60]):.0f} times faster than music21's analysis")
    print("\nthe modes' figures times   whole   4 bars   2 bars   riffs, first / first two")
    asked = [openings(everything, bars) for bars, _name in _BARS]
    for leaning in _LEANING:
        print(_frontier(leaning, asked, riffs))
    return 0


def _row(name: str, found: Share) -> str:
    return (
        f"{name:28} {found.count:6} {found.exact:6.0%} {found.neither:14.0%}"
        f" {found.first_two:8.0%} {found.first_three:8.0%}"
    )


def _frontier(leaning: float, asked: list[list[Asked]], riffs: list[Asked]) -> str:
    """Exact, and exact of tunes neither major nor minor, with all modes' figures scaled."""
    usual = {mode: leaning * figure for mode, figure in USUAL.items()}
    cells = [f"{one.exact:.0%}/{one.neither:.0%}" for one in (share(a, usual) for a in asked)]
    made_ones = share(riffs, usual)
    return (
        f"{leaning:24} {cells[0]:>8} {cells[1]:>8} {cells[2]:>8}"
        f"   {made_ones.exact:.0%} / {made_ones.first_two:.0%}"
    )


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 250))
