"""A language for tests alone: every text 40 % longer and full of accents, as in no language.

What fits in it fits in German; what shows no accents was not translated.
"""

import gettext
import re

from chalkfret.words import text

_ACCENTS = str.maketrans("aeiouncsyAEIOUNCSY", "áéíöüñçšýÁÉÍÖÜÑÇŠÝ")
_KEPT = re.compile(r"(\{[^{}]*\}|&.|\n)")


def longer(message: str) -> str:
    """The text with accents, and so many tildes behind it that it is 40 % longer."""
    pieces = _KEPT.split(message)
    plain = sum(len(piece) for piece in pieces[::2])
    pieces[::2] = [piece.translate(_ACCENTS) for piece in pieces[::2]]
    return "".join(pieces) + "~" * round(plain * 0.4)


class Pseudo(gettext.NullTranslations):
    """Translates every text by ``longer``."""

    def gettext(self, message: str) -> str:
        return longer(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return longer(msgid1 if n == 1 else msgid2)


PSEUDO = "pseudo"
LANGUAGES = ("en", *text.available(), PSEUDO)


def speak(language: str, monkeypatch) -> None:
    """Speak a language for the rest of the test, the pseudo-language among them."""
    if language == PSEUDO:
        monkeypatch.setattr(text, "_catalogue", lambda _language: Pseudo())
    else:
        monkeypatch.setattr(text, "_wished", language)
