"""The main job by the keyboard alone: two guitars, two sections, from nothing to a file."""

from PySide6.QtWidgets import QApplication, QFileDialog

from chalkfret.files.lesson_file import load
from chalkfret.model import BeatUnit, CueKind, Key, Mode, Sign, Tempo
from tests.desk.hands import files_done, open_lesson, press, type_text


def test_a_lesson_of_two_parts_and_two_sections_is_written_saved_and_reopened(
    window, qtbot, tmp_path, monkeypatch
):
    place = tmp_path / "two.chalkfret"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_args: (str(place), ""))
    press_in(window, "Ctrl+N")
    grid = window.page("riffs").grid
    qtbot.waitUntil(grid.hasFocus)

    # Section A: a riff on the low string, palm-muted; the second guitar from the first.
    press("F2")
    type_text("Opening")
    press("F3", "Ctrl+A")
    type_text("92")
    press("F4")
    type_text("e")
    panel = window.page("riffs").panel
    panel.key.scale.setFocus()
    type_text("P")  # the first scale that begins with P
    press("Escape")
    press("Down", "Down", "Down", "Down", "Down")
    press("0", "M", "0", "M", "3", ".", "1", "0", ".", ".", "Ctrl+2", "V")
    press("Ctrl+Shift+H", "Ctrl+Home", "Ctrl+Down", "Del")
    press("Home", "Ctrl+2")

    # Section B: other tempo, other key, an effect.
    press("Ctrl+Shift+N", "F2")
    type_text("Answer")
    press("F3", "Ctrl+A")
    type_text("140")
    press("F4", "Ctrl+A")
    type_text("g")
    press("Return", "Shift+F7")
    type_text("Delay on")
    press("Tab")
    assert QApplication.focusWidget() is panel.cues.kind
    type_text("del")
    press("Escape", "Down", "5", "7", "Alt+Shift+3", "5", "7", "8")

    lesson = window.document.lesson
    press("Ctrl+S")
    files_done(window)
    assert not window.isWindowModified()
    assert load(place) == lesson

    first, second = lesson.sections
    assert lesson.parts[0].name == "Guitar 1"
    assert len(lesson.parts) == 2
    assert (first.head.name, first.head.tempo) == ("Opening", Tempo(92.0, BeatUnit.QUARTER))
    assert first.head.key == Key("E", Mode.PHRYGIAN)
    assert (second.head.letter, second.head.name) == ("B", "Answer")
    assert second.head.tempo.start == 140.0
    assert second.head.key.tonic == "G"
    assert [(cue.label, cue.kind) for cue in second.head.cues] == [("Delay on", CueKind.DELAY)]
    frets = [note.fret for note in first.bars[0].notes[0]]
    assert frets == [0, 0, 3, 1, 0, 12]
    assert [note.has(Sign.PALM_MUTE) for note in first.bars[0].notes[0]][:3] == [True, True, False]
    assert first.bars[0].notes[1] != first.bars[0].notes[0]

    press("Ctrl+N")
    assert window.document.lesson != lesson
    open_lesson(window, place)
    assert window.document.lesson == lesson


def press_in(window, key):
    """The first key, before anything in the window has the focus."""
    window.setFocus()
    press(key)
