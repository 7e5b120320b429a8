"""Gestures of the writing hand, by real keys: neighbours, chords, models, shapes, voices, bars."""

import pytest

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import QUARTER, Note, Sign
from chalkfret.model.start import new_lesson
from tests.builder import lesson, riff, section
from tests.desk.hands import press
from tests.desk.riffs.test_typing import STEP, at, notes_of


def undo_text(window):
    return window.document.undo_stack.undoText()


def test_shift_writes_on_the_string_above_and_with_ctrl_below(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("0", "Shift+2", "Shift+3", "Ctrl+Shift+4", "5")
    assert notes_of(window) == riff("s 6:0 5:2 4:3 5:4 5:5 q r r")[0]
    assert grid.here.course == 5
    at(window, 0, 1, 0, 0, 1)
    press("Shift+3")
    assert notes_of(window, bar=1) == ()
    assert "no further string" in window.foot.sentence


def test_frets_from_20_to_36_are_twenty_more(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 1)
    press("Y", "0", "Y", "4", "Y", "Ctrl+6", "5")
    assert [note.fret for note in notes_of(window)] == [20, 24, 36, 5]


def test_to_a_string_by_its_number(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 1)
    press("Q", "5", "3")
    assert notes_of(window) == (Note(0, STEP, 5, 3),)
    press("Q", "8")
    assert grid.here.course == 5
    assert "strings 1 to 6" in window.foot.sentence
    press("Q", "Escape", "3")
    assert len(notes_of(window)) == 2, "Escape: a fret again"


def test_a_length_holds_until_another_and_each_voice_has_its_own(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 1)
    press("3", "Alt+.", "5", "Alt+.", "7")
    assert [note.length for note in notes_of(window)] == [2 * STEP, 4 * STEP, 4 * STEP]
    press("Shift+W", "Q", "6", "0", "Alt+.", "Alt+.", "Alt+.", "0")
    assert [(n.length, n.voice) for n in notes_of(window) if n.course == 6] == [(8 * STEP, 1)] * 2
    press("8")
    assert notes_of(window, bar=1) == (Note(0, 8 * STEP, 6, 8, voice=1),), "the string's voice"
    press("Q", "1", "3")
    assert notes_of(window, bar=1)[1] == Note(8 * STEP, 4 * STEP, 1, 3)


def test_a_voice_given_to_what_was_typed_goes_on(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 5)
    press("3", "W", "5", "Up", "0")
    assert [note.voice for note in notes_of(window)] == [1, 1, 1]


def test_a_beat_is_cut_for_the_length_in_force(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("Alt+Shift+3", "1", "2", "3", "4")
    assert window.document.lesson.sections[0].bars[0].head.steps == (3, 3, 4, 4)
    press("Alt+.", "Alt+.", ",")  # of any odd length, typing goes on right behind it
    here = grid.here.tick
    assert here == notes_of(window)[-1].end
    press("7")
    assert notes_of(window)[-1].onset == here


def test_a_sixteenth_that_begins_the_beat_becomes_a_triplet_when_it_is_cut(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("5", "Alt+Shift+3", "7", "8")
    assert notes_of(window) == riff("e3 6:5 7 8 q r r r")[0]
    press("Right", "Right", "1", "2", "3", "4", "Left", "Alt+Shift+3")
    assert len(notes_of(window)) == 7


def test_a_beat_cut_behind_a_chord_leaves_the_whole_chord_alone(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 2 * QUARTER, 0, 6)
    press("3", "C", "5", "C", "5", ".")
    chord = notes_of(window)
    length = chord[0].length
    assert [note.length for note in chord] == [QUARTER // 2] * 3
    assert grid.here.tick == 2 * QUARTER + length
    press("Alt+Shift+3")
    assert grid.here.tick == 2 * QUARTER + 2 * QUARTER // 3, "at or behind where it was"
    press("7")
    assert [note.length for note in notes_of(window)[:3]] == [length] * 3
    assert notes_of(window)[3].onset == 2 * QUARTER + 2 * QUARTER // 3


@pytest.mark.parametrize(
    ("key", "bar", "steps"),
    [("E", 0, (3, 3, 4, 4)), ("I", 0, (3, 3, 3, 3)), ("Shift+E", 1, (3, 4, 4, 4))],
)
def test_a_triplet_written_again_is_a_triplet_and_one_step(show, key, bar, steps):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("Alt+Shift+3", "5", "7", "8")
    before = window.document.undo_stack.count()
    press(key)
    assert window.document.lesson.sections[0].bars[bar].head.steps == steps
    assert window.document.undo_stack.count() == before + 1


def test_a_chord_is_joined_note_by_note(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("3", "C", "5", "C", "5", ".", "M", "0")
    chord = notes_of(window)[:3]
    assert [(n.course, n.fret, n.length) for n in chord] == [(4, 5, 2 * STEP), (5, 5, 2 * STEP),
                                                            (6, 3, 2 * STEP)]  # fmt: skip
    assert all(note.has(Sign.PALM_MUTE) for note in chord)
    assert notes_of(window)[3] == Note(2 * STEP, 2 * STEP, 4, 0)
    assert grid.here.tick == 4 * STEP


def test_the_next_fret_joins_the_note_under_the_cursor(show):
    window = show(lesson(section("A", "q 6:0 3 5 7")))
    at(window, 0, 0, QUARTER, 0, 6)
    press("C", "5")
    assert notes_of(window)[1:3] == (Note(QUARTER, STEP, 5, 5), Note(QUARTER, QUARTER, 6, 3))
    at(window, 0, 0, 0, 0, 1)
    press("C")
    assert "no note" in window.foot.sentence


def test_a_shape_moves_along_the_neck(show):
    window = show(lesson(section("A", "q 6:3+5:5+4:5 6:0+5:0 r r | r r r r")))
    at(window, 0, 1, 0, 0, 1)
    press("Shift+C", "5")
    power = notes_of(window, bar=1)
    assert [(note.course, note.fret) for note in power] == [(5, 5), (6, 5)]
    press("Shift+C", "Shift+C", "8")
    chord = notes_of(window, bar=1)[2:]
    assert [(n.course, n.fret) for n in chord] == [(4, 10), (5, 10), (6, 8)]
    assert undo_text(window) == "Write a hand shape in section A, bar 2"
    at(window, 0, 0, 0, 0, 1)
    press("Shift+C")
    assert "no chord before" in window.foot.sentence


def test_return_goes_to_the_next_bar_and_adds_one_at_the_end(show):
    window = show(lesson(section("A", "q 6:0")))
    grid = at(window, 0, 0, QUARTER, 0, 6)
    press("Return")
    assert grid.here == Cursor(0, 0, 4 * QUARTER, 0, 6)
    press("Return", "5")
    assert [len(bar.notes[0]) for bar in window.document.lesson.sections[0].bars] == [1, 0, 1]


def test_what_was_typed_sounds_to_the_bar_line_and_the_length_stays_in_force(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("3", "5", "Shift+Return", "7")
    assert notes_of(window)[1] == Note(STEP, 15 * STEP, 6, 5)
    assert notes_of(window, bar=1) == (Note(0, STEP, 6, 7),)


def test_a_bar_gets_the_rhythm_and_strings_of_the_one_before_with_new_frets(show):
    window = show(lesson(section("A", "e 6:0 5:2 q 4:2 h 3:1")))
    grid = at(window, 0, 0, 4 * QUARTER, 0, 6)
    press("K")
    assert notes_of(window, bar=1) == notes_of(window)
    assert "As bar 1 of section A" in window.foot.sentence
    press("3", "Right", "Shift+7", "Down", "5")
    assert notes_of(window, bar=1) == riff("e 6:3 5:2 q 3:7 h 4:5")[0]
    assert grid.here == Cursor(0, 1, 4 * QUARTER, 0, 4)
    assert window.document.lesson.sections[0].bars[0].notes[0] == riff("e 6:0 5:2 q 4:2 h 3:1")[0]


def test_the_hand_moves_with_its_picking(show):
    window = show(lesson(section("A", "e 6:3 5:3 4:5 5:3 6:3 5:3 4:5 5:3")))
    at(window, 0, 0, 4 * QUARTER, 0, 6)
    press("Z", "5", "5", "7", "9")
    assert notes_of(window, bar=1) == riff("e 6:5 5:5 4:7 5:5 6:5 5:5 4:7 5:5")[0]
    assert notes_of(window, bar=2) == (Note(0, STEP, 4, 9),), "typing goes on behind it"


def test_pressed_again_an_earlier_bar_is_offered_and_the_phrase_goes_on_from_there(show):
    window = show(lesson(section("A", "q 6:1 1 1 1 | q 6:2 2 2 2 | q 6:2 2 2 2")))
    at(window, 0, 2, 4 * QUARTER, 0, 6)
    before = window.document.undo_stack.count()
    press("K", "K", "Return", "K", "Return")
    frets = [bar.notes[0][0].fret for bar in window.document.lesson.sections[0].bars]
    assert frets == [1, 2, 2, 1, 2]
    assert window.document.undo_stack.count() == before + 2, "an offer is one step"
    press("Ctrl+Z", "Ctrl+Z")
    assert len(window.document.lesson.sections[0].bars) == 3


def test_while_frets_are_asked_for_delete_and_escape_do_what_they_say(show):
    window = show(lesson(section("A", "q 6:1 2 3 4")))
    at(window, 0, 0, 4 * QUARTER, 0, 6)
    press("K", "Del", "7", "Escape", "5")
    assert [(n.onset, n.fret) for n in notes_of(window, bar=1)] == [
        (QUARTER, 7), (2 * QUARTER, 5), (3 * QUARTER, 4),
    ]  # fmt: skip
    at(window, 0, 1, 0, 0, 6)
    press("K", "Ctrl+Right", "Ctrl+Right", "9", "H")
    assert notes_of(window, bar=1)[2] == Note(2 * QUARTER, QUARTER, 6, 9, marks=(Sign.HAMMER_ON,))


def test_without_an_earlier_bar_it_is_said(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("K")
    assert "no earlier bar" in window.foot.sentence
    assert not window.document.dirty


def test_what_is_written_again_is_shifted_by_the_next_keys(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("0", "0", "3", "5", "E", "Alt+Up", "Alt+Up", "E")
    assert [note.fret for note in notes_of(window)] == [0, 0, 3, 5, 2, 2, 5, 7, 2, 2, 5, 7]


def test_a_beat_with_a_chord_just_typed_is_written_again_without_escape(show):
    window = show(new_lesson())
    at(window, 0, 0, 0, 0, 6)
    press("Shift+Up", "Shift+Up", "0", "Alt+.", "Alt+.", "E")
    assert len(notes_of(window)) == 6
    assert {note.onset for note in notes_of(window)} == {0, QUARTER}


def test_a_note_just_typed_goes_to_the_string_beside_at_its_pitch(show):
    window = show(new_lesson())
    grid = at(window, 0, 0, 0, 0, 6)
    press("7", "Alt+Shift+Up")
    assert notes_of(window) == (Note(0, STEP, 5, 2),)
    assert grid.here == Cursor(0, 0, STEP, 0, 5)
    press("M")
    assert notes_of(window)[0].has(Sign.PALM_MUTE)


@pytest.mark.parametrize(
    ("key", "wanted"),
    [
        ("Ctrl+Shift+E", "q 6:0 6:3 h 5:2"),
        ("Ctrl+Shift+O", "q 4:2 4:5 h 3:4"),
        ("Ctrl+Shift+Q", "q 6:0+5:2 6:3+5:5 h 5:2+4:4"),
    ],
)
def test_the_second_guitar_follows_by_a_rule(show, key, wanted):
    window = show(lesson(section("A", "q 6:0 6:3 h 5:2 | w 6:0", "w r | w r")))
    grid = at(window, 0, 0, 0, 1, 1)
    press(key)
    assert notes_of(window, part=1) == riff(wanted)[0]
    assert grid.here == Cursor(0, 1, 0, 1, 1)
    press("Ctrl+Z")
    assert notes_of(window, part=1) == ()
