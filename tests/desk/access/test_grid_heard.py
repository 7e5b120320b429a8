"""The grid for those who hear it, read from the accessibility layer and not from our own model."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.edits import parts
from chalkfret.model.start import STANDARD_SETUP
from tests.builder import lesson, part, section, tuned
from tests.desk.access.tree import ROLE, interface, name
from tests.desk.two_guitars import two_guitars

CTRL = Qt.KeyboardModifier.ControlModifier


def riff():
    notes = "q 6:3h 5 r 6:0+5:2 | q 6:7x 3 3t r"
    return lesson(section("A", notes, key="E minor", name="Opening"))


def table(window):
    return interface(window.page("riffs").grid)


def cell(window, row, column):
    """A cell by row and column of the grid, as Qt numbers it among the headers."""
    columns = window.page("riffs").grid.grid_model.columnCount()
    return table(window).child((row + 1) * (columns + 1) + column + 1)


def test_it_is_a_table_with_cells_and_headers(show):
    window = show(riff())
    grid = window.page("riffs").grid
    assert table(window).role() is ROLE.Table
    assert name(table(window)) == "Grid of strings and steps"
    rows, columns = grid.grid_model.rowCount(), grid.grid_model.columnCount()
    assert table(window).childCount() == (rows + 1) * (columns + 1)
    here = cell(window, 6, 4)
    assert here.role() is ROLE.Cell
    inside = here.tableCellInterface()
    assert (inside.rowIndex(), inside.columnIndex()) == (6, 4)
    assert [name(one) for one in inside.rowHeaderCells()] == ["Guitar 1, string 6"]
    assert [name(one) for one in inside.columnHeaderCells()] == ["beat 2, bar 1, section A"]


def test_a_cell_says_what_is_there_first_and_then_where(show):
    window = show(riff())
    where = "string 6, E2, beat {beat}, bar {bar}, section A, Guitar 1"
    for column, what, beat, bar in (
        (0, "fret 3, G2, degree flat 3, hammer-on", "1", 1),
        (1, "held: fret 3, G2, degree flat 3, hammer-on", "1¼", 1),
        (4, "fret 5, A2, degree 4", "2", 1),
        (8, "rest", "3", 1),
        (16, "fret 7, dead note", "1", 2),
        (24, "fret 3, G2, degree flat 3, tied", "3", 2),
    ):
        assert name(cell(window, 6, column)) == f"{what}, {where.format(beat=beat, bar=bar)}"
    assert name(cell(window, 1, 0)).startswith("empty, string 1, E4, beat 1")
    assert name(cell(window, 7, 12)).startswith("degree 1 5, beat 4")
    assert name(cell(window, 7, 9)).startswith("no degree, beat 3¼")
    assert name(cell(window, 0, 0)).startswith("no cue, beat 1, ")


def test_accidentals_are_said_as_words(show):
    guitar = part("Guitar 1", tuned("Eb2 Ab2 Db3 Gb3 Bb3 Eb4"))
    window = show(lesson(section("A", "q 6:4 r r r", key="G# minor"), parts=(guitar,)))
    assert name(cell(window, 6, 0)) == (
        "fret 4, F double sharp 2, degree 7, string 6, E flat 2, beat 1, bar 1, section A, Guitar 1"
    )


def test_the_focus_is_in_the_cursors_cell_wherever_it_goes(show):
    window = show(two_guitars())
    grid = window.page("riffs").grid
    for cursor in (Cursor(0, 0, 0, 0, 6), Cursor(0, 1, 5040, 1, 2), Cursor(0, 0, 0, 0, 1)):
        grid.move_to(cursor)
        focus = table(window).focusChild()
        assert focus is not None
        assert focus.state().focused
        inside = focus.tableCellInterface()
        assert inside.rowIndex() == grid.grid_model.rows.of_string(cursor.part, cursor.course)
        assert inside.columnIndex() == grid.grid_model.columns.column(*cursor.time)


def test_the_focus_stays_in_the_cursors_cell_where_rows_and_columns_move(show):
    window = show(two_guitars())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 1, 0, 0, 3))
    before = name(table(window).focusChild())
    window.document.apply("x", parts.add(window.document.lesson, "Third", STANDARD_SETUP))
    assert name(table(window).focusChild()) == before
    grid.move_to(Cursor(0, 0, 0, 0, 3))
    window.page("riffs").typist.steps(3)
    grid.move_to(Cursor(0, 1, 0, 0, 3))
    place = grid.grid_model.columns.column(0, 1, 0)
    assert table(window).focusChild().tableCellInterface().columnIndex() == place
    window.document.undo_stack.undo()
    assert grid.grid_model.columns.column(0, 1, 0) != place, "the bar has moved"
    here = grid.grid_model.columns.column(*grid.here.time)
    assert table(window).focusChild().tableCellInterface().columnIndex() == here


def test_typing_is_told_with_note_and_degree_and_so_is_undoing_it(show, heard):
    window = show(riff())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 10080, 0, 6))
    heard.clear()
    QTest.keyClick(grid, Qt.Key.Key_7)
    assert heard.of("Announcement") == ["fret 7, B2, degree 5"]
    QTest.keyClick(grid, Qt.Key.Key_Z, CTRL)
    assert heard.of("Announcement")[1] == "Undone: Set fret 7 in section A, bar 1"
    QTest.keyClick(grid, Qt.Key.Key_Y, CTRL)
    assert heard.of("Announcement")[2] == "Done again: Set fret 7 in section A, bar 1"


def test_a_mark_and_a_removal_are_told_and_the_cell_reads_anew(show, heard):
    window = show(riff())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    heard.clear()
    QTest.keyClick(grid, Qt.Key.Key_V)
    assert heard.of("Announcement") == ["fret 3, G2, degree flat 3, hammer-on, vibrato"]
    assert heard.of("NameChanged")[0].startswith("fret 3, G2, degree flat 3, hammer-on, vibrato, ")
    QTest.keyClick(grid, Qt.Key.Key_Delete)
    assert heard.of("Announcement")[1] == "removed: fret 3, G2, degree flat 3, hammer-on, vibrato"
    assert heard.of("NameChanged")[1].startswith("rest, string 6")


def test_what_changes_much_is_told_by_what_was_done(show, heard):
    window = show(riff())
    heard.clear()
    window.registry.run("section_duplicate")
    told = heard.of("Announcement")
    assert told == [window.document.undo_stack.undoText()]


def test_what_cannot_be_done_is_told(show, heard):
    window = show(riff())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 10080, 0, 6))
    heard.clear()
    QTest.keyClick(grid, Qt.Key.Key_H)
    assert heard.of("Announcement") == [window.foot.sentence]
    assert "no note" in window.foot.sentence


def test_a_selection_is_heard_in_its_cells_and_in_no_other(show):
    window = show(riff())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    grid.move_to(Cursor(0, 0, 5040, 0, 6), select=True)
    assert name(cell(window, 6, 0)).startswith("selected: fret 3")
    assert name(cell(window, 6, 4)).startswith("selected: fret 5")
    assert name(cell(window, 6, 8)).startswith("rest")
    assert name(cell(window, 5, 0)).startswith("empty")
    grid.let_go()
    assert name(cell(window, 6, 0)).startswith("fret 3")


def test_nothing_is_worked_out_where_nobody_listens(show, heard, monkeypatch):
    window = show(riff())
    monkeypatch.setattr(QAccessible, "isActive", staticmethod(lambda: False))
    heard.clear()
    QTest.keyClick(window.page("riffs").grid, Qt.Key.Key_7)
    assert heard == []


def test_what_is_typed_into_a_field_is_not_told_a_second_time(show, heard):
    window = show(riff())
    window.registry.run("edit_name")
    heard.clear()
    QTest.keyClicks(window.page("riffs").panel.section.name, "Bridge")
    assert window.document.lesson.sections[0].head.name == "Bridge"
    assert heard.of("Announcement") == []


def test_coming_back_to_the_grid_tells_the_cell(show, heard, qtbot):
    window = show(riff())
    window.page("riffs").strip.setFocus()
    heard.clear()
    window.page("riffs").grid.setFocus()
    qtbot.waitUntil(lambda: len(heard.of("Focus")) > 0)
    assert heard.of("Focus")[0].startswith("empty, string 1, E4, beat 1, ")
