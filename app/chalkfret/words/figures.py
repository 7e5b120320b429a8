"""Numbers as the reader's language writes them: "4.5" in English, "4,5" in German.

Only the decimal sign differs among the languages spoken here; it is the Unicode CLDR's, by Babel.
Files and keys of files never go through this.
"""

from __future__ import annotations

from functools import lru_cache

from chalkfret.words.text import spoken


@lru_cache(maxsize=8)
def _decimal_sign(tag: str) -> str:
    if tag.startswith("en"):  # most starts never need to load the library
        return "."
    from babel import Locale

    symbols = Locale.parse(tag).number_symbols["latn"]
    return str(symbols["decimal"])


def fixed(number: float, digits: int) -> str:
    """The number with so many decimal digits."""
    return f"{number:.{digits}f}".replace(".", _decimal_sign(spoken()))


def inches_words(inches: float) -> str:
    """A scale length in inches, in as few digits as it needs: ``25.5``."""
    return f"{inches:.4g}".replace(".", _decimal_sign(spoken()))


def signed(number: float, digits: int) -> str:
    """The number with its sign, a true minus."""
    return f"{'+' if number >= 0 else '−'}{fixed(abs(number), digits)}"


def number_words(number: float) -> str:
    """A figure as a sentence names it: at most three digits after the sign, no idle zeros."""
    text = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace(".", _decimal_sign(spoken()))
