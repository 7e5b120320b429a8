"""A language for tests alone: every text 40 % longer and full of accents, as in no language.

What fits in it fits in German; what shows no accents was not translated.
"""

import gettext
import re

from chalkfret.words import text

_ACCENTS = str.maketrans("aeiouncsyAEIOUNCSY", "áéíöüñçšýÁÉÍÖÜÑÇŠÝ")
_KEPT = re.compile(r"(\{[^{}]*\}|&.|\s+)")


def longer(message: str) -> str:
    """The text with accents, and tildes behind its words that make it 40 % longer."""
    pieces, owed = _KEPT.split(message), 0.0
    for at in range(0, len(pieces), 2):
        owed += 0.4 * len(pieces[at])
        tail = int(owed + 1e-9) if pieces[at] else 0
        owed -= tail
        pieces[at] = pieces[at].translate(_ACCENTS) + "~" * tail
    return "".join(pieces)


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
