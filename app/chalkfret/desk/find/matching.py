"""Which of many texts is meant by a few letters, and how well each answers.

Conventions: texts are compared without case and accents (``folded``). Every word that is typed must
be answered by the text, best in one of these ways, the best first: it is a word of the text; it
begins one; it is the first letters of words in a row ("pm": palm mute); it stands inside a word;
its letters stand in a word in their order, from the word's first on ("plm": palm). What is found
by some letters is found by fewer of them, so typing on only narrows. Digits are meant as they
stand: they are a number or begin one, never inside or scattered.

No Qt here.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

WORD, BEGINS, INITIALS, INSIDE, SCATTERED = range(5)
_NEVER: Final = 9
How = tuple[int, int, int]
"""The worst way in which a typed word is answered, the sum of all ways, and where in the text the
first typed word is answered."""
_WORDS: Final = re.compile(r"\d+|[^\W\d_]+|[^\w\s]+|_+")  # "b12" is two
_PLAIN: Final = str.maketrans({"ß": "ss", "ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "’": "'"})


def folded(text: str) -> str:
    """The text without case and accents: "Stärke" is found by "starke"."""
    apart = unicodedata.normalize("NFKD", text.casefold()).translate(_PLAIN)
    bare = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return bare.casefold()


@lru_cache(maxsize=16384)
def words_of(text: str) -> tuple[str, ...]:
    """The folded words of a text, signs between them as words of their own."""
    return tuple(_WORDS.findall(folded(text)))


def answer(typed: Sequence[str], text: str) -> How | None:
    """How well the text answers the typed words, the least first; None where it does not."""
    words = words_of(text)
    worst = total = first = 0
    for number, one in enumerate(typed):
        way, place = _way(one, words)
        if way == _NEVER:
            return None
        worst, total = max(worst, way), total + way
        if number == 0:
            first = place
    return worst, total, first


def numbered(typed: Sequence[str], common: str, count: int) -> Iterator[tuple[int, How]]:
    """How well each of the texts "``common`` 1" to "``common`` count" answers.

    The same as ``answer`` for each, in the time that the answers take.
    """
    words = words_of(common)
    ways = [_way(one, words) for one in typed]
    missing = [one for one, (way, _place) in zip(typed, ways, strict=True) if way == _NEVER]
    numbers = _beginning_with(missing[0], count) if missing else range(1, count + 1)
    for number in numbers:
        how = _with_number(typed, ways, str(number), len(words))
        if how is not None:
            yield number, how


def _beginning_with(digits: str, count: int) -> Iterator[int]:
    """The numbers from 1 to ``count`` whose digits begin so, in their order."""
    if not digits.isascii() or not digits.isdigit() or digits.startswith("0"):
        return
    first, run = int(digits), 1
    while first <= count:
        yield from range(first, min(first + run, count + 1))
        first, run = first * 10, run * 10


def _with_number(
    typed: Sequence[str], ways: Sequence[tuple[int, int]], number: str, behind: int
) -> How | None:
    """``answer`` where a number stands behind words that answer in these ways."""
    worst = total = first = 0
    for at, (one, (way, place)) in enumerate(zip(typed, ways, strict=True)):
        if way > WORD and number.startswith(one):
            its = WORD if number == one else BEGINS
            if its < way:
                way, place = its, behind
        if way == _NEVER:
            return None
        worst, total = max(worst, way), total + way
        if at == 0:
            first = place
    return worst, total, first


def _way(typed: str, words: Sequence[str]) -> tuple[int, int]:
    """The best way in which one typed word is answered, and by which of the words."""
    best, place = _NEVER, 0
    for at, word in enumerate(words):
        if word.startswith(typed):
            way = WORD if word == typed else BEGINS
            if way < best:
                best, place = way, at
                if way == WORD:
                    break
    if best < _NEVER or typed.isdigit():
        return best, place
    begins = "".join(word[0] for word in words).find(typed)
    if begins >= 0:  # so do words in a row
        return INITIALS, begins
    for at, word in enumerate(words):
        if typed in word:
            return INSIDE, at
    for at, word in enumerate(words):
        if _is_scattered(typed, word):
            return SCATTERED, at
    return _NEVER, 0


def _is_scattered(typed: str, word: str) -> bool:
    if len(typed) > len(word) or typed[0] != word[0]:
        return False
    letters = iter(word)
    return all(letter in letters for letter in typed)
