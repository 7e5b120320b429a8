"""Our texts and Qt's own are of one language, and numbers are written as it writes them."""

import pytest
from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QDialogButtonBox

from chalkfret.desk import languages
from chalkfret.desk.languages import Languages, language_for
from chalkfret.words import text


@pytest.fixture
def speaking(qapp):
    before = QLocale()
    made = Languages(qapp)
    yield made
    made.speak("en")
    text.speak(None)
    QLocale.setDefault(before)


@pytest.mark.parametrize(
    ("language", "cancel", "comma"), [("de", "Abbrechen", ","), ("es", "Cancelar", ",")]
)
def test_qt_speaks_with_us(qtbot, speaking, language, cancel, comma):
    speaking.speak(language)
    assert text.spoken() == language
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
    qtbot.addWidget(box)
    assert box.button(QDialogButtonBox.StandardButton.Cancel).text().replace("&", "") == cancel
    assert QLocale().decimalPoint() == comma


def test_back_to_english(qtbot, speaking):
    speaking.speak("de")
    speaking.speak("en")
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
    qtbot.addWidget(box)
    assert box.button(QDialogButtonBox.StandardButton.Cancel).text().replace("&", "") == "Cancel"
    assert text.spoken() == "en"


class _System:
    def __init__(self, *tags):
        self._tags = tags

    def uiLanguages(self):
        return list(self._tags)


@pytest.mark.parametrize(
    ("tags", "spoken"),
    [
        (("de-AT", "de", "en"), "de"),
        (("fr-FR", "es-MX", "en"), "es"),
        (("fr-FR",), "en"),
        (("en-GB", "de"), "en"),
    ],
)
def test_without_a_wish_it_is_the_first_of_the_systems_that_is_here(monkeypatch, tags, spoken):
    monkeypatch.setattr(languages.QLocale, "system", staticmethod(lambda: _System(*tags)))
    assert language_for(languages.SYSTEM) == spoken
    assert language_for("es") == "es"
    assert language_for("xx") == spoken


def test_every_language_has_its_own_name():
    assert set(languages.OWN_NAMES) == {"en", *text.available()}
