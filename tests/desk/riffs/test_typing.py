"""Real keys in the real grid, and the lesson and pixels that come of them."""

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import QUARTER, Key, Mode, Note, Sign, Trill, Vibrato
from chalkfret.model.marks import (
    ArtificialHarmonic,
    Bend,
    Finger,
    NaturalHarmonic,
    Slide,
    SlideWay,
    Tremolo,
)
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section
from tests.desk.hands import press

STEP = QUARTER // 4


def notes_of(window, bar=0, part=0, section_index=0):
    return window.document.lesson.sections[section_index].bars[bar].notes[part]


def at(window, *place):
    grid = window.page("riffs").grid
    grid.move_to(Cursor(*place))
    return grid


def test_digits_write_frets_and_move_on_by_a_step(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("0", "3", "Ctrl+2", "Y", "1")
    assert notes_of(window) == tuple(
        Note(index * STEP, STEP, 6, fret) for index, fret in enumerate((0, 3, 12, 21))
    )
    assert grid.here == Cursor(0, 0, 4 * STEP, 0, 6)


def test_every_fret_is_one_undo_step_with_a_readable_text(show):
    window = show(new_lesson())
    before = window.document.lesson
    at(window, 0, 2, 0, 0, 6)
    press("7")
    assert window.document.undo_stack.undoText() == "Set fret 7 in section A, bar 3"
    press("Ctrl+Z")
    assert window.document.lesson is before
    assert window.document.undo_stack.redoText() == "Set fret 7 in section A, bar 3"
    press("Ctrl+Shift+Z")
    assert [note.fret for note in notes_of(window, bar=2)] == [7]


def test_full_stop_and_comma_change_the_note_just_typed_and_typing_goes_on_behind_it(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("5", ".", ".", ",", "7")
    assert notes_of(window) == (Note(0, 2 * STEP, 6, 5), Note(2 * STEP, 2 * STEP, 6, 7))
    press("Ctrl+Z", "Ctrl+Z")
    assert notes_of(window) == (Note(0, STEP, 6, 5),), "three changes of length are one step"


def test_a_triplet_note_that_is_lengthened_goes_on_by_the_steps_of_the_next_beat(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 2 * QUARTER, 0, 6)
    press("Alt+Shift+3", "5", ".", ".")
    assert notes_of(window) == (Note(2 * QUARTER, QUARTER, 6, 5),)
    press(".")
    assert notes_of(window) == (Note(2 * QUARTER, QUARTER + STEP, 6, 5),)
    assert grid.here.tick == 3 * QUARTER + STEP
    press(",", ",")
    assert notes_of(window) == (Note(2 * QUARTER, 2 * QUARTER // 3, 6, 5),)


def test_length_under_the_cursor(show):
    window = show(lesson(section("A", "e 6:0 3 5 7")))
    at(window, 0, 0, QUARTER // 2, 0, 6)
    press(",")
    assert notes_of(window)[1] == Note(QUARTER // 2, STEP, 6, 3)


LETTERS = {
    "H": Sign.HAMMER_ON, "P": Sign.PULL_OFF, "X": Sign.DEAD, "G": Sign.GHOST,
    "M": Sign.PALM_MUTE, "L": Sign.LET_RING, "T": Sign.TAP, "A": Sign.ACCENT,
    "Shift+A": Sign.STACCATO, "D": Sign.DOWN_STROKE, "U": Sign.UP_STROKE,
    "S": Slide(SlideWay.FROM_NOTE), "V": Vibrato(), "Shift+V": Vibrato(wide=True),
    "N": NaturalHarmonic(5.0), "Shift+N": ArtificialHarmonic(), "R": Trill(6),
    "Shift+T": Tremolo(3),
}  # fmt: skip


def test_a_letter_puts_its_mark_on_and_off(show):
    window = show(lesson(section("A", "q 6:5 5 5 5")))
    at(window, 0, 0, QUARTER, 0, 6)
    for key, mark in LETTERS.items():
        press(key)
        assert notes_of(window)[1].marks == (mark,), key
        for _ in range(5):  # keys of several kinds go through them all before they come off
            press(key)
            if not notes_of(window)[1].marks:
                break
        assert notes_of(window)[1].marks == (), key


def test_bend_slides_and_fingers_go_through_their_kinds(show):
    window = show(lesson(section("A", "q 6:5 5 5 5")))
    at(window, 0, 0, 0, 0, 6)
    tops = []
    for _ in range(4):
        press("B")
        tops.append(max(point.cents for point in notes_of(window)[0].mark(Bend).curve))
    assert tops == [200, 100, 300, 50]
    press("B")
    assert notes_of(window)[0].mark(Bend).curve[-1].cents == 0, "bend and release"
    press("F", "F")
    assert notes_of(window)[0].mark(Finger).finger == "2"
    press("Shift+S")
    assert notes_of(window)[0].mark(Slide).way is SlideWay.IN_FROM_BELOW


def test_a_tie_joins_equal_frets_and_says_so_where_it_cannot(show):
    window = show(lesson(section("A", "q 6:5 5 3 3")))
    at(window, 0, 0, QUARTER, 0, 6)
    press("J")
    assert notes_of(window)[1].has(Sign.TIE)
    at(window, 0, 0, 2 * QUARTER, 0, 6)
    press("J")
    assert not notes_of(window)[2].has(Sign.TIE)
    assert "tie" in window.foot.sentence.lower()


def test_marks_mean_the_note_just_typed(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("5", "M", "7", "H")
    assert [note.marks for note in notes_of(window)] == [(Sign.PALM_MUTE,), (Sign.HAMMER_ON,)]


def test_marks_and_lengths_mean_all_of_the_chord_just_typed(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    press("Ctrl+N", "Shift+Down", "5", "M", ".")
    muted = (Sign.PALM_MUTE,)
    assert notes_of(window) == tuple(Note(0, 2 * STEP, course, 5, marks=muted) for course in (1, 2))
    assert (grid.anchor, grid.here) == (Cursor(0, 0, 2 * STEP, 0, 1), Cursor(0, 0, 2 * STEP, 0, 2))
    press("Alt+.", "7", "M", "M")
    assert [(note.onset, note.length, note.marks) for note in notes_of(window)] == [
        *[(0, QUARTER, muted)] * 2,
        *[(QUARTER, QUARTER, ())] * 2,
    ]
    press("Backspace")
    assert [note.onset for note in notes_of(window)] == [0, 0]
    press("9", "Alt+Up", "H", "O")
    assert notes_of(window)[2:] == tuple(Note(QUARTER, QUARTER, course, 10) for course in (1, 2))


def test_marks_mean_the_chord_just_typed_over_other_notes(show):
    window = show(lesson(section("A", "s 1:1+2:1 1:2+2:2 1:3+2:3")))
    at(window, 0, 0, 0, 0, 1)
    press("Shift+Down", "5", "M", "7", "H")
    marked = [(note.fret, note.marks) for note in notes_of(window)]
    palm_muted, hammered, untouched = (5, (Sign.PALM_MUTE,)), (7, (Sign.HAMMER_ON,)), (3, ())
    assert marked == [palm_muted] * 2 + [hammered] * 2 + [untouched] * 2


def test_marks_mean_the_note_just_typed_over_another_until_the_cursor_moves(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("0", "3", "Home", "0", "M")
    assert [note.marks for note in notes_of(window)] == [(Sign.PALM_MUTE,), ()]
    press("Home", "M", "0", "M", "0", "M")
    assert [note.marks for note in notes_of(window)] == [(Sign.PALM_MUTE,)] * 2
    press("Home", "7", "Left", "Right", "M")
    assert [note.marks for note in notes_of(window)] == [(Sign.PALM_MUTE,), ()]
    press("Home", "8", "Backspace")
    assert [(note.onset, note.fret) for note in notes_of(window)] == [(STEP, 0)]
    assert window.page("riffs").grid.here.tick == 0


def test_a_press_of_the_mouse_where_the_cursor_is_means_the_note_there(show):
    window = show(lesson(section("A", "s 6:1 2 3")))
    grid = at(window, 0, 0, 0, 0, 6)
    press("5")
    place = grid.cell_rect(grid.here).center()
    QTest.mouseClick(grid.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert grid.here.tick == STEP
    press("M")
    assert [note.marks for note in notes_of(window)] == [(), (Sign.PALM_MUTE,), ()]


def test_a_mark_without_a_note_is_refused_in_the_foot_and_leaves_no_step(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("H")
    assert "no note" in window.foot.sentence
    assert not window.document.dirty
    press("5")
    assert window.foot.sentence == ""


def test_marks_go_on_all_selected_notes(show):
    window = show(lesson(section("A", "q 6:5m 5 5 5")))
    at(window, 0, 0, 0, 0, 6)
    press("Shift+End", "M")
    assert all(note.has(Sign.PALM_MUTE) for note in notes_of(window))
    press("M")
    assert not any(note.has(Sign.PALM_MUTE) for note in notes_of(window))


def test_typing_behind_the_last_bar_adds_one_in_the_same_undo_step(show):
    window = show(new_lesson(bars=1))
    at(window, 0, 0, 0, 0, 6)
    press("End", "2")
    grid = window.page("riffs").grid
    assert grid.here.tick == 4 * QUARTER, "behind the last bar"
    press("4")
    assert len(window.document.lesson.sections[0].bars) == 2
    assert notes_of(window, bar=1) == (Note(0, STEP, 6, 4),)
    press("Ctrl+Z")
    assert len(window.document.lesson.sections[0].bars) == 1


def test_a_fret_over_selected_strings_is_a_chord(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 4)
    press("Shift+Down", "Shift+Down", "0", "3")
    assert notes_of(window) == tuple(
        Note(onset, STEP, course, fret)
        for onset, fret in ((0, 0), (STEP, 3))
        for course in (4, 5, 6)
    )


def test_alt_shift_and_a_digit_cuts_the_beat_and_never_a_note(show):
    window = show(lesson(section("A", "s 6:0 1 2 3 | q 6:5")))
    before = notes_of(window)
    at(window, 0, 0, 0, 0, 6)  # from within the beat the cursor goes on to the next new step
    for count in (1, 2, 3, 5, 6, 7, 8):
        press(f"Alt+Shift+{count}")
        head = window.document.lesson.sections[0].bars[0].head
        assert head.steps == (count, 4, 4, 4)
        assert notes_of(window) is before


def test_a_triplet_is_written_by_its_steps_and_goes_on_into_the_next_beat(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("Alt+Shift+3", "1", "2", "3", "4")
    third = QUARTER // 3
    assert notes_of(window) == (
        Note(0, third, 6, 1), Note(third, third, 6, 2), Note(2 * third, third, 6, 3),
        Note(QUARTER, third, 6, 4),
    )  # fmt: skip
    press("Right", "Right", "Alt+Shift+4", "5", "6")
    assert [note.length for note in notes_of(window)[4:]] == [STEP, STEP]


def test_delete_and_backspace(show):
    window = show(lesson(section("A", "e 6:0 3 5 7")))
    at(window, 0, 0, 0, 0, 6)
    press("Del")
    assert [note.fret for note in notes_of(window)] == [3, 5, 7]
    at(window, 0, 0, 3 * QUARTER, 0, 6)
    press("9", "Backspace")
    assert [note.fret for note in notes_of(window)] == [3, 5, 7]
    assert window.page("riffs").grid.here.tick == 3 * QUARTER


def test_notes_are_copied_to_another_part_and_cut(show):
    window = show(lesson(section("A", "e 6:0 3 5h 7", "h r")))
    grid = at(window, 0, 0, 0, 0, 6)
    press("Shift+Right", "Shift+Right", "Shift+Right", "Shift+Right", "Shift+Right", "Ctrl+C")
    grid.move_to(Cursor(0, 0, 0, 1, 6))
    press("Ctrl+V")
    assert notes_of(window, part=1) == notes_of(window, part=0)[:3]
    at(window, 0, 0, 0, 0, 6)
    press("Ctrl+A", "Ctrl+X")
    assert window.document.lesson.sections[0].bars[0].notes == ((), ())
    assert window.document.undo_stack.undoText() == "Cut notes in section A, bar 1"


def test_a_note_goes_up_the_neck_and_to_another_string_at_the_same_pitch(show):
    window = show(lesson(section("A", "q 6:5")))
    at(window, 0, 0, 0, 0, 6)
    press("Alt+Up", "Alt+Up")
    assert notes_of(window)[0].fret == 7
    press("Alt+Shift+Up")
    note = notes_of(window)[0]
    assert (note.course, note.fret) == (5, 2)
    assert window.page("riffs").grid.here.course == 5


def test_notes_move_in_time(show):
    window = show(lesson(section("A", "q 6:5")))
    at(window, 0, 0, 0, 0, 6)
    press("Alt+Shift+Right")
    assert notes_of(window)[0].onset == STEP
    assert window.page("riffs").grid.here.tick == STEP


def test_a_fret_beyond_the_bound_is_refused_in_a_sentence(show):
    window = show(lesson(section("A", "q 6:36")))
    at(window, 0, 0, 0, 0, 6)
    press("Alt+Up")
    assert "36" in window.foot.sentence
    assert not window.document.dirty


def tied(window):
    """A sound over the bar line, in three pieces, all selected, with a quarter before it."""
    shown = window(lesson(section("A", "q 6:3 6:5 h 6:5t | q 6:5t r r 6:0")))
    at(shown, 0, 0, 0, 0, 6)
    press("Shift+Ctrl+Right")
    return shown


def test_selected_tied_notes_go_up_the_neck_once_and_stay_tied(show):
    window = tied(show)
    press("Alt+Up", "Alt+Up")
    found = [*notes_of(window), *notes_of(window, bar=1)]
    assert [note.fret for note in found] == [5, 7, 7, 7, 0]
    assert [note.has(Sign.TIE) for note in found] == [False, False, True, True, False]
    press("Ctrl+Z")
    assert not window.document.dirty, "both steps up the neck are one"


def test_a_selected_tied_sound_gets_longer_and_shorter_by_one_step(show):
    window = tied(show)
    press(".")
    assert notes_of(window, bar=1)[0].length == QUARTER + STEP
    press(",", ",")
    assert notes_of(window, bar=1)[0].length == QUARTER - STEP
    assert notes_of(window)[0].length == QUARTER - 2 * STEP, "it had no room to get longer"


def test_a_selected_tied_sound_changes_its_voice_once(show):
    window = tied(show)
    press("W")
    found = [*notes_of(window), *notes_of(window, bar=1)]
    assert [note.voice for note in found] == [1, 1, 1, 1, 0]


def test_untying_a_selection_says_so(show):
    window = tied(show)
    press("J")
    assert not any(note.has(Sign.TIE) for bar in (0, 1) for note in notes_of(window, bar))
    assert window.document.undo_stack.undoText().startswith("Take away tied")


def test_a_string_fifty_cents_off_is_called_by_its_own_name(show):
    # Common practice: a string is called by the note it is tuned to, however far off that it is.
    plain = lesson(section("A", "q 6:0", key=Key("E", Mode.MINOR)))
    courses = plain.parts[0].setup.courses
    low = replace(courses[5], strings=(replace(courses[5].strings[0], cents=60.0),))
    setup = replace(plain.parts[0].setup, courses=(*courses[:5], low))
    window = show(replace(plain, parts=(replace(plain.parts[0], setup=setup),)))
    at(window, 0, 0, 0, 0, 6)
    assert "E2, 1" in window.page("riffs").place_words()
