"""Writing again what is there, filling a bar, lengths by halves and doubles, in several guitars."""

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import QUARTER, Note
from chalkfret.model.start import new_lesson
from tests.builder import lesson, riff, section
from tests.desk.hands import press
from tests.desk.riffs.test_typing import STEP, at, notes_of


def undo_text(window):
    return window.document.undo_stack.undoText()


def test_a_pattern_is_typed_once_and_goes_on_by_one_key(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("0", "0", "3", "5")
    before = window.document.undo_stack.count()
    press("E")
    assert notes_of(window) == riff("s 6:0 0 3 5 0 0 3 5")[0]
    assert grid.here == Cursor(0, 0, 2 * QUARTER, 0, 6)
    assert undo_text(window) == "Write a beat again in section A, bar 1"
    assert window.document.undo_stack.count() == before + 1
    press("E", "E", "E")
    assert notes_of(window) == riff("s 6:0 0 3 5 0 0 3 5 0 0 3 5 0 0 3 5")[0]
    assert notes_of(window, bar=1) == riff("s 6:0 0 3 5")[0], "over the bar line"


def test_elsewhere_the_cursors_own_beat_is_written_again(show):
    window = show(lesson(section("A", "q 6:1 2 3 4")))
    at(window, 0, 0, QUARTER + STEP, 0, 6)
    press("E")
    assert notes_of(window) == riff("q 6:1 2 2 4")[0]


def test_a_selection_is_written_again_and_the_copy_is_selected(show):
    window = show(lesson(section("A", "e 6:1 2 3 4 q r r", "q 6:5 5 5 5")))
    at(window, 0, 0, 0, 0, 6)
    press("Shift+Right", "Shift+Right", "Shift+Right", "E")
    assert notes_of(window) == riff("e 6:1 2 1 2 q r r")[0]
    assert notes_of(window, part=1) == riff("q 6:5 5 5 5")[0]
    assert undo_text(window) == "Write a selection again in section A, bar 1"
    press("E", "Alt+Up")
    assert notes_of(window) == riff("e 6:1 2 1 2 2 3 q r")[0]


def test_a_bar_is_written_again_at_the_end_too(show):
    window = show(lesson(section("A", "q 6:1 2 3 4", "w 6:9")))
    grid = at(window, 0, 0, QUARTER, 0, 6)
    press("Shift+E")
    assert notes_of(window, bar=1) == riff("q 6:1 2 3 4")[0]
    assert notes_of(window, bar=1, part=1) == (), "only in the cursor's guitar"
    assert undo_text(window) == "Write a bar again in section A, bar 1"
    assert grid.here.bar == 1
    assert grid.here.tick == 4 * QUARTER
    press("Shift+E")
    assert notes_of(window, bar=2) == riff("q 6:1 2 3 4")[0]


def test_a_bar_is_filled_with_what_was_typed(show):
    window = show(new_lesson())
    grid = at(window, 0, 1, 0, 0, 6)
    press("0", ".", "3", "I")
    assert notes_of(window, bar=1) == riff("e 6:0 3 0 3 0 3 0 3")[0]
    assert grid.here == Cursor(0, 2, 0, 0, 6)
    assert undo_text(window) == "Fill the bar in section A, bar 2"


def test_nothing_to_write_again_is_said_and_leaves_no_step(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    for key in ("E", "Shift+E", "I"):
        press(key)
        assert "no notes" in window.foot.sentence
    assert not window.document.dirty


def test_lengths_are_doubled_and_halved_and_typing_goes_on_behind(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("5", "Alt+.", "Alt+.", "7")
    assert notes_of(window) == (Note(0, QUARTER, 6, 5), Note(QUARTER, QUARTER, 6, 7))
    press("Shift+Home", "Alt+,")
    assert [note.length for note in notes_of(window)] == [QUARTER // 2, QUARTER // 2]
    assert undo_text(window) == "Halve the length of notes in section A, bar 1"


def test_all_marks_come_off_a_selection(show):
    window = show(lesson(section("A", "q 6:0m 3h' 5t> 7")))
    at(window, 0, 0, 0, 0, 6)
    press("Shift+End", "O")
    assert not any(note.marks for note in notes_of(window)[:2])
    assert undo_text(window) == "Take all marks off in section A, bar 1"


def test_a_fret_goes_into_all_selected_guitars(show):
    window = show(lesson(section("A", "q r r r r", "q r r r r")))
    grid = at(window, 0, 0, 0, 0, 6)
    press("Shift+Ctrl+Down", "0", "3")
    assert notes_of(window) == notes_of(window, part=1) == riff("s 6:0 3")[0]
    assert (grid.anchor.part, grid.here.part) == (0, 1)
    assert undo_text(window) == "Set fret 3 in section A, bar 1"


def test_what_is_pasted_at_the_end_brings_its_bars(show):
    window = show(lesson(section("A", "q 6:1 2 3 4")))
    grid = at(window, 0, 0, 0, 0, 6)
    press("Shift+End", "Ctrl+C", "Escape", "Home", "Ctrl+Right")
    grid.move_to(Cursor(0, 0, 2 * QUARTER, 0, 6))
    press("Ctrl+V")
    assert notes_of(window) == riff("q 6:1 2 1 2")[0]
    assert notes_of(window, bar=1) == riff("q 6:3 4")[0]
    assert undo_text(window) == "Paste notes and add bars in section A, bar 1"
    press("Ctrl+Z")
    grid.move_to(Cursor(0, 0, 4 * QUARTER, 0, 6))
    press("Ctrl+V")
    assert notes_of(window, bar=1) == riff("q 6:1 2 3 4")[0], "behind the last bar"
    press("Ctrl+Z")
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    press("Ctrl+V")
    assert not window.document.dirty, "the same notes in the same place: nothing changed"
