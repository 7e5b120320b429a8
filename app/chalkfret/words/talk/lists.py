"""Several things in a row, as one says them: ``6, 5 and 4``."""

from __future__ import annotations

from collections.abc import Iterable

from chalkfret.words.text import _


def listed(things: Iterable[object]) -> str:
    """``6, 5 and 4``; one thing alone as it is, none as nothing."""
    words = [str(thing) for thing in things]
    if len(words) < 2:
        return "".join(words)
    return _("{all} and {last}").format(all=", ".join(words[:-1]), last=words[-1])
