"""The panel says what each guitar sounds in and is shaped as, counts it, and may be overruled."""

from chalkfret.desk.riffs.cursor import Cursor
from tests.builder import lesson, part, section, tuned
from tests.desk.hands import press, type_text

LOW = tuned("C2 G2 C3 F3 A3 D4")


def opened(show, line: str, key: str | None = "Bb lydian"):
    window = show(lesson(section("A", line, key=key), parts=(part("Low", LOW),)))
    return window, window.page("riffs").panel.key


def test_it_says_what_it_sounds_in_and_counts_on_demand(show):
    _window, group = opened(show, "q 5:3 2 3 5")
    assert group.shape.line.text() == "sounds in B♭, shaped as C"
    assert group.shape.line.toolTip().startswith("Open string 5 is G2; fret 3 is B♭2.")
    assert not group.shape.counted.isVisible()
    group.shape.button.click()
    assert group.shape.counted.isVisible()
    assert group.shape.counted.text().splitlines()[:2] == [
        "Open string 5 is G2; fret 3 is B♭2. In standard tuning it is C3.",
        "Plays B♭\N{NO-BREAK SPACE}(1), C\N{NO-BREAK SPACE}(2), A\N{NO-BREAK SPACE}(7).",
    ]


def test_without_a_tonic_there_is_nothing_to_say(show):
    _window, group = opened(show, "q 5:3", key=None)
    assert not group.shape.line.isVisible()
    assert not group.shape.button.isVisible()
    assert not group.shaped.isEnabled()


def test_it_follows_what_is_typed(show):
    window, group = opened(show, "q 5:3 r r r")
    window.page("riffs").grid.move_to(Cursor(0, 0, 0, 0, 6))
    press("Ctrl+0")  # a B flat on the sixth string, which is two tones lower
    assert group.shape.line.text().endswith("shaped as no one key: the strings differ")


def test_the_teacher_overrules_it(show):
    window, group = opened(show, "q 5:3 2 3 5")
    group.shaped.setFocus()
    type_text("D")
    assert window.document.lesson.sections[0].head.shape_key == "D"
    assert group.shape.line.text() == "sounds in B♭, shaped as D"


def test_the_foot_names_the_chord_under_the_cursor(show):
    window, _group = opened(show, "q 6:5+5:5+4:7 r r r", key="C minor")
    page = window.page("riffs")
    page.grid.move_to(Cursor(0, 0, 0, 0, 6))
    assert "Fsus2" in page.place_words()
