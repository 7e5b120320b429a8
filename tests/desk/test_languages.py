"""Our texts and Qt's own are of one language, and numbers are written as it writes them."""

import pytest
from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QDialogButtonBox

from chalkfret.desk import languages
from chalkfret.desk.app import Desk
from chalkfret.desk.beginnings import begun
from chalkfret.desk.languages import Languages, language_for
from chalkfret.desk.settings import Settings, open_settings
from chalkfret.model import NoteNaming, Paper
from chalkfret.model.validate import validate
from chalkfret.words import text
from tests.desk.two_guitars import two_guitars


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


def test_another_language_is_spoken_at_once_by_a_window_with_the_same_lesson(qtbot, look, speaking):
    desk = Desk(look, open_settings())
    desk.window.show()
    desk.window.files.show_copy(two_guitars())
    lesson, old = desk.document.lesson, desk.window
    desk.settings.change(language="de")
    qtbot.waitUntil(lambda: desk.window is not old)
    menus = [action.text() for action in desk.window.menuBar().actions()]
    assert menus[:2] == ["&Lektion", "&Bearbeiten"]
    assert desk.document.lesson is lesson
    desk.window.close()
    desk.window.deleteLater()
    desk.deleteLater()


@pytest.mark.parametrize(
    ("language", "country", "naming", "paper", "guitar"),
    [
        ("en", "en_US", NoteNaming.ENGLISH, Paper.LETTER, "Guitar 1"),
        ("de", "de_AT", NoteNaming.GERMAN, Paper.A4, "Gitarre 1"),
        ("es", "es_MX", NoteNaming.SOLFEGE, Paper.LETTER, "Guitarra 1"),
        ("es", "es_ES", NoteNaming.SOLFEGE, Paper.A4, "Guitarra 1"),
    ],
)
def test_a_new_lesson_is_as_one_has_it_there(
    monkeypatch, speaking, language, country, naming, paper, guitar
):
    speaking.speak(language)
    monkeypatch.setattr(QLocale, "system", staticmethod(lambda: QLocale(country)))
    made = begun(Settings())
    assert (made.head.note_naming, made.head.sheet.paper) == (naming, paper)
    assert made.parts[0].name == guitar
    assert not validate(made)


def test_what_was_chosen_for_new_lessons_holds_in_every_country(speaking):
    chosen = Settings(new_naming=NoteNaming.ENGLISH, new_paper=Paper.LETTER)
    speaking.speak("de")
    head = begun(chosen).head
    assert (head.note_naming, head.sheet.paper) == (NoteNaming.ENGLISH, Paper.LETTER)


def test_the_window_begins_a_new_lesson_as_the_teacher_has_it(window, speaking):
    speaking.speak("de")
    window.settings.change(new_paper=Paper.LETTER)
    window.files.new()
    lesson = window.document.lesson
    assert lesson == begun(window.settings.value)
    assert (lesson.head.note_naming, lesson.head.sheet.paper) == (NoteNaming.GERMAN, Paper.LETTER)
    assert lesson.parts[0].name == "Gitarre 1"
    assert window.document.path is None
    assert not window.document.dirty
