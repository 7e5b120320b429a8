"""The program's texts in the user's language: ``_("Save")``.

Catalogues lie in ``resources/translations`` as gettext keeps them; where there is none for the
language, the texts stay as they are written in the code, in English. The language is that of the
system until ``speak`` chooses another; it is looked up when the first text is asked for.
"""

from __future__ import annotations

import gettext
from collections.abc import Mapping
from functools import lru_cache
from typing import Final, TypeVar

from chalkfret.places import RESOURCES

K = TypeVar("K")
DOMAIN: Final = "chalkfret"
TRANSLATIONS: Final = RESOURCES / "translations"

_wished: str | None = None


def speak(language: str | None) -> None:
    """Speak this language from now on (``"de"``, ``"es"``); None: the system's."""
    global _wished
    _wished = language


def available() -> list[str]:
    """The languages that have a catalogue; English needs none."""
    found = TRANSLATIONS.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")
    return sorted(path.parents[1].name for path in found)


@lru_cache(maxsize=8)
def _catalogue(language: str | None) -> gettext.NullTranslations:
    languages = None if language is None else [language]
    return gettext.translation(DOMAIN, TRANSLATIONS, languages, fallback=True)


def spoken() -> str:
    """The language whose texts are shown, as its catalogue is called ("de"); "en" without one."""
    return _catalogue(_wished).info().get("language", "en")


def _(message: str) -> str:
    """The text in the user's language."""
    return _catalogue(_wished).gettext(message)


def ngettext(one: str, many: str, count: int) -> str:
    """The text for so many things in the user's language."""
    return _catalogue(_wished).ngettext(one, many, count)


def said(texts: Mapping[K, str]) -> dict[K, str]:
    """A table of texts marked by ``N_`` in the user's language."""
    return {key: _(text) for key, text in texts.items()}


def N_(message: str) -> str:  # noqa: N802 - gettext's own name for it
    """Marks a text of a table for the catalogues; it goes through ``_`` where it is said."""
    return message
