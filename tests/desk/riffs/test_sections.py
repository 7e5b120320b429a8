"""Bars, sections and parts by keys; the strip and the panel, typed into without the mouse."""

from PySide6.QtWidgets import QApplication

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.panel.tempo_group import Taps
from chalkfret.edits import cues
from chalkfret.model import (
    BeatUnit,
    CueKind,
    Key,
    Meter,
    Mode,
    Place,
    Setting,
    Swing,
    SwingUnit,
    Tempo,
)
from chalkfret.model.start import new_lesson
from tests.builder import lesson, section
from tests.desk.hands import press, type_text
from tests.desk.two_guitars import two_guitars


def head_of(window, index=0):
    return window.document.lesson.sections[index].head


def letters(window):
    return [one.head.letter for one in window.document.lesson.sections]


def test_bars_come_go_and_are_copied(show):
    window = show(lesson(section("A", "q 6:0 | q 6:3 | q 6:5")))
    grid = window.page("riffs").grid
    press("Ctrl+Right", "Ctrl+Return")
    assert len(window.document.lesson.sections[0].bars) == 4
    assert grid.here.bar == 2
    press("Ctrl+Del", "Ctrl+Left", "Shift+Ctrl+Right", "Ctrl+D")
    frets = [
        [note.fret for note in bar.notes[0]] for bar in window.document.lesson.sections[0].bars
    ]
    assert frets == [[0], [3], [0], [3], [5]] or frets == [[0], [3], [5], [3], [5]]
    press("Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
    assert len(window.document.lesson.sections[0].bars) == 3


def test_repeats_and_endings(show):
    window = show(lesson(section("A", "q 6:0 | q 6:3 | q 6:5 | q 6:7")))
    bars = lambda: window.document.lesson.sections[0].bars  # noqa: E731
    press("Shift+Ctrl+Right", "Ctrl+R", "Ctrl+R")
    assert bars()[0].head.repeat_open
    assert bars()[1].head.repeat_close == 3
    press("Escape", "Ctrl+E")
    assert bars()[1].head.passes == (1,)
    press("Ctrl+Shift+R")
    assert not any(bar.head.repeat_open or bar.head.repeat_close for bar in bars())


def test_the_key_of_endings_goes_on_from_the_ending_before(show):
    window = show(lesson(section("A", "q 6:0 | q 6:3 | q 6:5 | q 6:7")))
    passes = lambda: [bar.head.passes for bar in window.document.lesson.sections[0].bars]  # noqa: E731
    press("Shift+Ctrl+Right", "Ctrl+R", "Escape", "Ctrl+E", "Ctrl+Right", "Ctrl+E")
    assert passes() == [(), (1,), (2,), ()]
    press("Ctrl+E")
    assert passes() == [(), (1,), (1,), ()], "an ending of two bars"
    press("Ctrl+E")
    assert passes() == [(), (1,), (), ()]
    press("Ctrl+E", "Ctrl+Right", "Ctrl+E")
    assert passes() == [(), (1,), (2,), (1,)], "twice in all: behind the second they begin anew"
    press("Ctrl+E", "Ctrl+E")
    assert passes() == [(), (1,), (2,), ()]


def test_sections_are_added_copied_moved_split_joined_and_taken_away(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    press("Ctrl+Shift+N")
    assert letters(window) == ["A", "B"]
    assert window.document.section == grid.here.section == 1
    press("Ctrl+Shift+PgUp")
    assert letters(window) == ["B", "A"]
    press("Ctrl+Shift+D")
    assert len(letters(window)) == 3
    press("Ctrl+Right", "Ctrl+Shift+K")
    assert len(letters(window)) == 4
    press("PgUp", "Ctrl+Shift+J")
    assert len(letters(window)) == 3
    press("Ctrl+Shift+Del", "Ctrl+Shift+Del", "Ctrl+Shift+Del")
    assert len(letters(window)) == 1
    assert "last section" in window.foot.sentence or window.foot.sentence


def test_parts_are_added_with_and_without_notes(show):
    window = show(lesson(section("A", "q 6:0")))
    press("Ctrl+Shift+G", "Up", "Ctrl+Up", "Ctrl+Shift+H")
    parts = window.document.lesson.parts
    assert len({part.name for part in parts}) == 3
    counts = sorted(len(notes) for notes in window.document.lesson.sections[0].bars[0].notes)
    assert counts == [0, 1, 1]
    window.registry.run("part_remove")
    assert len(window.document.lesson.parts) == 2


def test_a_section_is_described_by_keys_alone(show):
    window = show(new_lesson())
    press("F2")
    type_text("Opening")
    press("F3")
    type_text("92,5")
    press("Tab", "Tab")  # past Tap, to the beat
    assert QApplication.focusWidget() is window.page("riffs").panel.tempo.unit
    press("Down")
    press("F4")
    type_text("eb")
    press("Tab", "L")  # the first scale that begins with L
    press("F6")
    press("Ctrl+A")
    type_text("7/8")
    press("F9")
    type_text("Keep it quiet.")
    press("Escape")
    head = head_of(window)
    assert head.name == "Opening"
    assert head.tempo == Tempo(92.5, BeatUnit.DOTTED_QUARTER)
    assert head.key.tonic == "Eb"
    assert head.notes == "Keep it quiet."
    assert window.document.lesson.sections[0].bars[0].head.meter == Meter(7, 8)
    assert window.page("riffs").grid.hasFocus()
    texts = [window.document.undo_stack.text(i) for i in range(window.document.undo_stack.count())]
    assert texts.count("Change the name of section A") == 1, "typing a name is one step"


def test_the_tempo_changes_gradually_and_swings(show):
    window = show(new_lesson())
    tempo = window.page("riffs").panel.tempo
    tempo.end.setFocus()
    type_text("140")
    tempo.swing.chosen.emit(SwingUnit.EIGHTH)
    assert head_of(window).tempo == Tempo(100.0, end=140.0)
    assert head_of(window).swing == Swing(SwingUnit.EIGHTH, 2.0)
    tempo.ratio.setFocus()
    press("Ctrl+A")
    type_text("1.5")
    assert head_of(window).swing.ratio == 1.5
    press("Ctrl+Z", "Ctrl+Z", "Ctrl+Z")
    assert head_of(window).tempo.end is None or not window.document.undo_stack.canUndo()


def test_taps_give_the_mean_of_their_gaps():
    times = iter([0.0, 0.5, 1.0, 1.6, 60.0, 61.0])
    taps = Taps(lambda: next(times))
    assert [taps.tap() for _ in range(6)] == [None, 120, 120, round(60 / (1.6 / 3)), None, 60]


def test_a_scale_of_ones_own(show):
    window = show(lesson(section("A", "q 6:0", key="E minor")))
    key = window.page("riffs").panel.key
    key.degrees.setFocus()
    press("Ctrl+A")
    type_text("1 b2 3 #4 5")
    assert head_of(window).key == Key("E", None, ("1", "b2", "3", "#4", "5"))
    assert key.row.accessibleName() == "E 1, F ♭2, G♯ 3, A♯ ♯4, B 5"
    key.scale.chosen.emit(Mode.DORIAN)
    assert head_of(window).key == Key("E", Mode.DORIAN)


def test_what_cannot_be_read_is_said_and_changes_nothing(show):
    window = show(new_lesson())
    before = window.document.lesson
    press("F3", "Ctrl+A")
    type_text("9000")
    tempo = window.page("riffs").panel.tempo
    assert tempo.start.is_refused
    assert head_of(window).tempo.start in (90.0, 100.0)  # read as it was typed, and held
    assert before.sections[0].bars is window.document.lesson.sections[0].bars


def test_a_cue_begins_at_the_cursor_and_is_changed_moved_and_removed(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 1, 0, 0, 6))
    press("Shift+F7")
    type_text("Phase on")
    cues = window.page("riffs").panel.cues
    cues.kind.chosen.emit(CueKind.PHASE)
    cues.end.setFocus()
    type_text("3:2.5")
    cue = head_of(window).cues[0]
    assert (cue.label, cue.kind, cue.start) == ("Phase on", CueKind.PHASE, Place(1, 0))
    assert cue.end == Place(2, 5040 * 3 // 2)
    cues.start.setFocus()
    press("Ctrl+A")
    type_text("1")
    assert head_of(window).cues[0].start == Place(0, 0)
    cues.remove.click()
    assert head_of(window).cues == ()


def cue_with(show, kind, settings=()):
    """A window on a lesson with one cue, its cue group, and how to see the cue's settings."""
    made = cues.add(new_lesson(), 0, "On", kind, Place(0, 0), settings=settings)
    window = show(made)
    group = window.page("riffs").panel.cues
    return window, group, lambda: head_of(window).cues[0].settings


def names_seen(group):
    rows = [row for row in group.knobs.rows if row.isVisible()]
    return [group._form.labelForField(row).text() for row in rows]


def test_each_kind_of_effect_has_its_knobs(show):
    window, group, settings = cue_with(show, CueKind.DELAY)
    assert names_seen(group) == ["Time", "Feedback", "Mix"]
    assert group.knobs.fields[0].placeholderText() == "usually 350"
    group.knobs.fields[0].setFocus()
    type_text("340")
    press("Tab")
    type_text("25,5")
    assert settings() == (Setting("time", 340.0), Setting("feedback", 25.5))
    stack = window.document.undo_stack
    assert [stack.text(index) for index in range(stack.count())] == [
        "Change time of a cue of section A",
        "Change feedback of a cue of section A",
    ]
    press("Ctrl+A", "Backspace")
    assert settings() == (Setting("time", 340.0),), "an empty field says nothing"


def test_a_knob_beyond_its_bounds_is_refused_with_the_reason(show):
    _window, group, settings = cue_with(show, CueKind.OCTAVE)
    field = group.knobs.fields[0]
    field.setFocus()
    type_text("-")
    assert not field.property("refused"), "nobody is told off in the middle of a number"
    type_text("12")
    assert settings() == (Setting("interval", -12.0),)
    press("Tab")
    field.setFocus()
    press("Ctrl+A")
    type_text("120")
    assert field.property("refused")
    assert group._saying.text == "interval: from -24 to 24 semitones; nothing: not said."
    assert settings() in ((Setting("interval", 12.0),), (Setting("interval", -12.0),))


def test_another_kind_keeps_only_what_it_has_too(show):
    before = (Setting("rate", 0.3), Setting("depth", 40.0))
    window, group, settings = cue_with(show, CueKind.PHASE, before)
    group.kind.setFocus()
    group.knobs.fields[1].setFocus()
    press("Ctrl+A")
    type_text("900")  # refused, and of no use for the next kind
    group.kind.setFocus()
    press("Down")
    assert head_of(window).cues[0].kind is CueKind.TREMOLO
    assert names_seen(group) == ["Rate", "Depth"]
    assert [one.name for one in settings()] == ["depth"], "0.3 Hz is too slow for a tremolo"
    assert group.knobs.fields[1].text() == f"{settings()[0].value:g}"
    assert group._saying.text == ""


def test_a_free_cue_has_knobs_of_the_teachers_own(show):
    window, group, settings = cue_with(show, CueKind.FREE)
    assert names_seen(group) == []
    group.knobs.free.setFocus()
    type_text("gain 7, tone 4.5")
    assert settings() == (Setting("gain", 7.0), Setting("tone", 4.5))
    assert window.document.undo_stack.count() == 1
    press("Tab")
    group.knobs.free.setFocus()
    press("End")
    type_text(", tone 3")
    press("Tab")
    assert "named once" in group._saying.text
    assert settings() == (Setting("gain", 7.0), Setting("tone", 4.5))


def test_another_cue_shows_its_own_words_whatever_was_being_typed(show):
    made = cues.add(new_lesson(), 0, "First", CueKind.DRIVE, Place(0, 0))
    made = cues.add(made, 0, "Second", CueKind.DRIVE, Place(1, 0))
    window = show(made)
    group = window.page("riffs").panel.cues
    group.knobs.fields[0].setFocus()
    type_text("500")
    assert group.knobs.fields[0].property("refused")
    group.list.setFocus()
    press("Down")
    assert group.label.text() == "Second"
    assert group.knobs.fields[0].text() == ""


def test_what_the_sheet_does_behind_and_for_a_bar(show):
    window = show(new_lesson())
    press("Ctrl+Right", "F6")
    group = window.page("riffs").panel.bars
    group.break_after.setFocus()
    press("Down")
    group.simile.setFocus()
    press("Space")
    heads = [bar.head for bar in window.document.lesson.sections[0].bars]
    assert [head.break_after for head in heads] == [None, "system", None, None]
    assert [head.simile for head in heads] == [False, True, False, False]
    press("F12", "Ctrl+Right")
    assert not group.simile.isChecked(), "the next bar has no wishes"
    press("Ctrl+Z", "Ctrl+Z")
    assert not window.document.dirty


def test_the_strip_shows_time_and_tempo_and_chooses_a_section(show, qtbot):
    window = show(
        lesson(
            section("A", "q 6:0 | q 6:0", tempo=60),
            section("B", "q 6:0 | q 6:0", tempo=120),
            section("C", "q 6:0 | q 6:0", tempo=Tempo(60.0, end=120.0)),
        )
    )
    strip = window.page("riffs").strip
    widths = [rect.width() for rect in strip.rects()]
    assert widths[0] > widths[2] > widths[1]
    press("F10", "Right")
    assert window.document.section == 1
    assert window.page("riffs").grid.here.section == 1
    qtbot.mouseClick(strip, _left(), pos=strip.rects()[2].center())
    assert window.document.section == 2
    assert "60 to 120 quarter notes a minute" in strip.accessibleDescription()
    press("Return")
    assert window.page("riffs").grid.hasFocus()


def _left():
    from PySide6.QtCore import Qt

    return Qt.MouseButton.LeftButton


def test_the_strip_follows_an_edit_of_tempo(show, qtbot):
    window = show(lesson(section("A", "q 6:0", tempo=60), section("B", "q 6:0", tempo=60)))
    strip = window.page("riffs").strip
    before = strip.rects()[0].width()
    press("F3", "Ctrl+A")
    type_text("240")
    qtbot.waitUntil(lambda: strip.rects()[0].width() < before)


def test_figures_wait_for_a_note(show):
    window = show(new_lesson())
    grid, note = window.page("riffs").grid, window.page("riffs").panel.note
    fields = (note.spelling, note.voice, note.bend, note.trill, note.tremolo, note.artificial)
    assert not any(field.isEnabled() for field in fields)
    assert "None: type a fret" in note.what.text()
    press("F8")
    assert "no note under the cursor" in window.foot.sentence
    assert grid.hasFocus()
    press("5", "F8")
    assert note.spelling.hasFocus()
    assert all(field.isEnabled() for field in fields)
    assert "fret 5" in note.what.text(), "the note just typed is meant"
    press("F12", "Right")
    assert not any(field.isEnabled() for field in fields)


def test_a_bend_that_bends_nothing_is_told_and_not_taken(show):
    window = show(lesson(section("A", "q 6:5 5")))
    press("Down", "Down", "Down", "Down", "Down", "F8", "Tab", "Tab", "Tab")
    note = window.page("riffs").panel.note
    for text, why in (("0", "Nothing is bent"), ("0 0@1/2", "Nothing"), ("0 200", "where")):
        press("Ctrl+A")
        type_text(text)
        press("Return")
        assert not window.document.dirty, text
        assert why in note._saying.text
    type_text("@1/4")
    assert window.document.dirty


def test_the_figures_of_a_note(show):
    window = show(lesson(section("A", "q 6:5 5", key="A minor")))
    press("Down", "Down", "Down", "Down", "Down")
    note = window.page("riffs").panel.note
    assert "A2, 1" in note.what.text()
    press("F8", "Tab", "Tab", "Tab")
    assert QApplication.focusWidget() is note.bend
    type_text("0 150@1/3")
    bend = window.document.lesson.sections[0].bars[0].notes[0][0].marks[0]
    assert [(point.tick, point.cents) for point in bend.curve] == [(0, 0), (1680, 150)]
    note.trill.setFocus()
    type_text("12")
    note.natural.setFocus()
    type_text("3.2")
    marks = window.document.lesson.sections[0].bars[0].notes[0][0].marks
    assert len(marks) == 3
    note.natural.setFocus()
    press("Ctrl+A", "Del")
    assert len(window.document.lesson.sections[0].bars[0].notes[0][0].marks) == 2


def test_bars_are_described_by_their_fields(show):
    window = show(lesson(section("A", "q 6:0 3 5 7 | q 6:0 | q 6:0 | r")))
    bars = window.page("riffs").panel.bars
    head = lambda index: window.document.lesson.sections[0].bars[index].head  # noqa: E731
    press("F6", "Ctrl+A")
    type_text("3/4")
    assert head(0).meter == Meter(4, 4), "the notes do not fit, and that is said"
    assert bars.meter.is_refused
    assert window.foot.sentence
    press("Escape", "Escape", "Ctrl+Right", "F6", "Ctrl+A")
    type_text("7/8")
    bars.grouping.setFocus()
    type_text("3+2+2")
    assert (head(1).meter, head(1).grouping) == (Meter(7, 8), (3, 2, 2))
    bars.times.setFocus()
    type_text("3")
    assert (head(1).repeat_open, head(1).repeat_close) == (True, 3)
    press("F12", "Ctrl+Right")
    bars.passes.setFocus()
    type_text("1 2")
    assert head(2).passes == (1, 2)
    bars.fermata.setFocus()
    type_text("2.5")
    assert [(one.tick, one.seconds) for one in head(2).pauses] == [(0, 2.5)]
    press("Ctrl+A", "Del")
    assert head(2).pauses == ()
    press("Escape", "Ctrl+Right")
    bars.pickup.setFocus()
    type_text("1")
    assert head(3).pickup == 5040


def test_page_up_says_and_does_two_things(show):
    window = show(lesson(section("A", "q 6:0"), section("B", "q 6:0 | q 6:0")))
    grid = window.page("riffs").grid
    press("Ctrl+End", "PgUp")
    assert grid.here.time == (1, 0, 0)
    press("PgUp")
    assert grid.here.time == (0, 0, 0)
    texts = {action.keys: action.text for action, _where in window.registry.entries()}
    assert texts["PgUp",] == "To the beginning of the section, then the one before"


def test_notes_and_bars_name_their_section(show):
    window = show(lesson(section("A", "q 6:0"), section("B", "q 6:0")))
    panel = window.page("riffs").panel
    assert panel.notes.title.text() == "Teacher’s notes, section A"
    press("PgDown")
    assert panel.notes.title.text() == "Teacher’s notes, section B"
    assert panel.bars.title.text() == "Bars, section B"


def test_a_guitar_with_the_same_notes_gets_the_next_number(show):
    window = show(new_lesson())
    press("5", "Ctrl+Shift+H", "Ctrl+Shift+H")
    names = [part.name for part in window.document.lesson.parts]
    assert sorted(names) == ["Guitar 1", "Guitar 2", "Guitar 3"]
    assert all(window.document.lesson.sections[0].bars[0].notes)


def test_without_a_cue_there_is_only_how_to_begin_one(show):
    window = show(two_guitars())
    cues = window.page("riffs").panel.cues
    assert not cues.label.isVisible()
    assert not cues.remove.isVisible()
    press("F7")
    assert cues.new.hasFocus()
    press("Space")
    assert cues.label.hasFocus()
    assert cues.end.isVisible()
    cues.remove.click()
    assert cues.new.hasFocus()
    assert not cues.label.isVisible()


def test_bars_that_are_as_the_other_guitar_already_are_said_to_be_so(show):
    window = show(lesson(section("A", "q 6:0 3 5 7", "r")))
    press("Ctrl+Down", "Ctrl+Shift+E")
    before = window.document.lesson
    window.page("riffs").grid.move_to(Cursor(0, 0, 0, 1, 6))
    press("Ctrl+Shift+E")
    assert window.document.lesson is before
    assert "already" in window.foot.sentence
