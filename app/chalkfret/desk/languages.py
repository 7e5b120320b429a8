"""The language of the window: our texts and Qt's own, chosen or the system's."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from chalkfret.words.text import available, speak

SYSTEM: Final = ""  # the wish for whatever language the system has

OWN_NAMES: Final = {"de": "Deutsch", "en": "English", "es": "Español"}
"""How each language calls itself: who looks for it reads no other."""


def language_for(wish: str) -> str:
    """The language to speak: the wished one, else the first of the system's that is here."""
    here = {"en", *available()}
    if wish in here:
        return wish
    system = (tag.partition("-")[0] for tag in QLocale.system().uiLanguages())
    return next((language for language in system if language in here), "en")


class Languages:
    """What the application speaks; Qt's own dialogs follow our texts."""

    def __init__(self, app: QCoreApplication) -> None:
        self._app = app
        self._qt = QTranslator(app)

    def speak(self, wish: str) -> None:
        """Speak another language. Windows made before keep their texts: build them anew."""
        language = language_for(wish)
        speak(language)
        self._app.removeTranslator(self._qt)
        folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        # Qt is written in English: there is a file for it, with plurals alone.
        if language != "en" and self._qt.load(f"qtbase_{language}", folder):
            self._app.installTranslator(self._qt)
        QLocale.setDefault(_locale(language))


def _locale(language: str) -> QLocale:
    """The system's own locale where it is of this language, for its numbers and dates."""
    system = QLocale.system()
    spoken = QLocale(language)
    return system if system.language() is spoken.language() else spoken
