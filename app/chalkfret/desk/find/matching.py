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
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final, TypeVar

T = TypeVar("T")
WORD, BEGINS, INITIALS, INSIDE, SCATTERED = range(5)
_NEVER: Final = 9
_WORDS: Final = re.compile(r"[^\W_]+|[^\w\s]+|_+")
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


def answer(typed: Sequence[str], text: str) -> tuple[int, int, int] | None:
    """How well the text answers the typed words, the least first; None where it does not.

    The worst way in which a word is answered, the sum of all ways, and where in the text the
    first typed word is answered.
    """
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


def ranked(
    typed: str, texts: Iterable[tuple[T, str]], lately: Sequence[T] = ()
) -> list[tuple[T, str]]:
    """The things whose text answers what was typed, the best first.

    Among those that answer equally well what was used ``lately`` comes first, the newest before
    the others; then they keep their order. Nothing typed: all of them.
    """
    wanted = words_of(typed)
    since = {thing: at for at, thing in enumerate(lately)}
    never = len(since)
    found = []
    for thing, text in texts:
        how = answer(wanted, text)
        if how is not None:
            worst, total, first = how
            found.append(((worst, since.get(thing, never), total, first), (thing, text)))
    found.sort(key=lambda one: one[0])
    return [thing for _how, thing in found]
