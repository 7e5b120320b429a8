"""Lengths as words of a rhythm line: ``q``, ``e.``, ``s3``; see the package's conventions."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from typing import Final

from chalkfret.model.limits import METER_COUNT_MAX
from chalkfret.model.meter import QUARTER

_LETTERS: Final = {
    "w": 4 * QUARTER, "h": 2 * QUARTER, "q": QUARTER, "e": QUARTER // 2, "s": QUARTER // 4,
    "t": QUARTER // 8, "y": QUARTER // 16,
}  # fmt: skip
_IN_THE_TIME_OF: Final = {3: 2, 5: 4, 7: 4, 9: 8}
LONGEST: Final = 4 * QUARTER * METER_COUNT_MAX  # ticks of one word
WORD: Final = re.compile(r"([whqestyWHQESTY])(?:([3579])(?!\d*:)|(\d{1,6}):(\d{1,5}))?(\.?)")


@lru_cache(maxsize=1)
def _table() -> dict[int, str]:
    """The word of every length that has one, the plainest first."""
    found: dict[int, str] = {}
    for dot, share in (("", Fraction(1)), (".", Fraction(3, 2))):
        for tuplet in (0, *_IN_THE_TIME_OF):
            for letter, ticks in _LETTERS.items():
                part = Fraction(_IN_THE_TIME_OF[tuplet], tuplet) if tuplet else Fraction(1)
                length = ticks * share * part
                if length.denominator == 1:
                    word = letter + (str(tuplet) if tuplet else "") + dot
                    found.setdefault(int(length), word)
    return found


@lru_cache(maxsize=4096)
def words(ticks: int) -> tuple[tuple[str, int], ...]:
    """The words whose lengths add up to ``ticks``, as few as may be, each with its ticks."""
    table, whole = _table(), _LETTERS["w"]
    plain = sorted((size for size, word in table.items() if word.rstrip(".") in _LETTERS), key=int)
    out: list[tuple[str, int]] = []
    while ticks > whole * 2:
        out.append(("w", whole))
        ticks -= whole
    if ticks not in table:
        first = next((s for s in reversed(plain) if s < ticks and ticks - s in table), None)
        if first is None:
            share = Fraction(ticks, QUARTER)
            return (*out, (f"q{share.numerator}:{share.denominator}", ticks))
        out.append((table[first], first))
        ticks -= first
    return (*out, (table[ticks], ticks))


def ticks_of(word: str) -> int | None:
    """The length of a word, or None where it is none."""
    match = WORD.fullmatch(word)
    if match is None:
        return None
    letter, tuplet, above, below, dot = match.groups()
    length = Fraction(_LETTERS[letter.lower()])
    if tuplet:
        length *= Fraction(_IN_THE_TIME_OF[int(tuplet)], int(tuplet))
    if above:
        if not int(below):
            return None
        length *= Fraction(int(above), int(below))
    if dot:
        length *= Fraction(3, 2)
    return int(length) if length.denominator == 1 and 0 < length <= LONGEST else None
