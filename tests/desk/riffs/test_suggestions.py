"""The panel suggests tonic and scale from the notes; a key takes the first, a remark doubts."""

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Key, Mode
from tests.builder import lesson, part, section, tuned
from tests.desk.hands import press

LOW = tuned("C2 G2 C3 F3 A3 D4")
RIFF = "e 6:0 0 1 0 3 1 0 0 | e 6:0 7 8 7 10 8 7 5"


def opened(show, line: str = RIFF, key: str | None = None):
    window = show(lesson(section("A", line, key=key), parts=(part("Low", LOW),)))
    return window, window.page("riffs").panel.key.suggested


def key_of(window):
    return window.document.lesson.sections[0].head.key


def test_a_pause_after_the_last_key_brings_them(show, qtbot):
    _window, suggested = opened(show)
    qtbot.waitUntil(lambda: suggested.buttons[0].text() == "C Phrygian")
    assert "fits 16 of 16 notes" in suggested.reasons.text().splitlines()
    assert suggested.buttons[1].toolTip().startswith("fits ")


def test_nothing_is_looked_for_while_a_key_is_pressed(show):
    window, suggested = opened(show)
    suggested.look_now()
    before = suggested.reasons.text()
    window.page("riffs").grid.move_to(Cursor(0, 0, 0, 0, 6))
    press("4")
    assert suggested.reasons.text() == before
    suggested.look_now()
    assert suggested.reasons.text() != before


def test_one_key_takes_the_first_and_undo_gives_it_back(show):
    window, suggested = opened(show)
    press("Ctrl+K")
    assert key_of(window) == Key("C", Mode.PHRYGIAN)
    assert not suggested.buttons[0].isEnabled()  # it is what the section has
    press("Ctrl+Z")
    assert key_of(window) is None


def test_a_click_takes_another_and_the_teachers_name_of_the_tonic_stays(show):
    window, suggested = opened(show, "e 6:1 1 4 1 6 4 1 1 | e 6:1 8 9 8 11 9 8 3", key="Db")
    suggested.look_now()
    suggested.buttons[0].click()
    assert key_of(window).tonic == "Db"
    assert key_of(window).mode is not None


def test_too_few_notes_suggest_nothing_and_say_so(show, qtbot):
    window, suggested = opened(show, "q 6:0")
    suggested.look_now()
    assert not any(button.isVisible() for button in suggested.buttons)
    with qtbot.waitSignal(window.document.refused):
        press("Ctrl+K")
    assert key_of(window) is None


def test_a_key_that_the_notes_contradict_is_a_remark_that_leads_to_its_bar(show):
    window, _suggested = opened(show, "e 6:0 0 7 0 12 0 7 0 | e 6:1 8 1 3 1 8 10 8", key="C major")
    window.remarks.look_now()
    (told,) = window.remarks.found
    assert (told.code, told.where.bar) == ("key_contradicted", 2)


def test_what_one_lesson_suggests_is_not_shown_for_the_next(show):
    window, suggested = opened(show, "e 6:0 0 7 0 12 0 7 0 | e 6:0 3 5 3 0 3 5 0")
    suggested.look_now()
    assert suggested.buttons[0].isVisible()
    window.document.replace(lesson(section("A", "q 6:0")), None)
    assert not any(button.isVisible() for button in suggested.buttons)
