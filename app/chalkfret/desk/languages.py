"""The language of the window: our texts and Qt's own, chosen or the system's."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from chalkfret.words.text import available, speak

if TYPE_CHECKING:
    from chalkfret.desk.settings_window.rows import Row
    from chalkfret.desk.window import Window

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


def settings_rows(window: Window) -> list[Row]:
    """Language of the window; names of notes and paper of the lessons that are begun from now."""
    from chalkfret.desk.settings_window.rows import LANGUAGE, Choice, kept_row
    from chalkfret.model import NoteNaming, Paper
    from chalkfret.words.text import _

    return [
        kept_row(
            window.settings,
            "language",
            group=LANGUAGE,
            name=_("Language"),
            about=_("The language of the window, and of what it prints on sheets."),
            kind=Choice({SYSTEM: _("As the system’s"), **OWN_NAMES}),
            words="language Sprache idioma",
        ),
        kept_row(
            window.settings,
            "new_naming",
            group=LANGUAGE,
            name=_("Names of notes"),
            about=_("For new lessons. An open one has its own choice, on the page Sheet."),
            kind=Choice(
                {
                    None: _("As the language has them"),
                    NoteNaming.ENGLISH: _("C D E F G A B"),
                    NoteNaming.GERMAN: _("C D E F G A H (B is B flat)"),
                    NoteNaming.SOLFEGE: _("Do Re Mi Fa Sol La Si"),
                }
            ),
        ),
        kept_row(
            window.settings,
            "new_paper",
            group=LANGUAGE,
            name=_("Paper"),
            about=_("For new lessons. An open one has its own choice, on the page Sheet."),
            kind=Choice(
                {
                    None: _("As in your country"),
                    Paper.A4: _("A4, 210 × 297 mm"),
                    Paper.LETTER: _("Letter, 8½ × 11 in"),
                }
            ),
        ),
    ]


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
