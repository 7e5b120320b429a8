"""What the grid paints, and what it says to those who do not see it."""

import pytest
from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest

from chalkfret.desk.pages import PAGES
from chalkfret.desk.riffs.cells import degree_cells, note_cells
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.hint import LINES
from chalkfret.desk.riffs.signs import fret_text, signs_text
from chalkfret.model import (
    QUARTER,
    ArtificialHarmonic,
    BarHead,
    Bend,
    BendPoint,
    Finger,
    FingerName,
    Key,
    Mode,
    NaturalHarmonic,
    Note,
    Sign,
    Slide,
    SlideWay,
    Tremolo,
    Trill,
    Vibrato,
    in_order,
)
from chalkfret.model.start import STANDARD_SETUP, new_lesson
from chalkfret.theory.degrees import Role
from tests.builder import lesson, riff, section
from tests.desk.hands import press

E_MINOR = Key("E", Mode.MINOR)


def cells(line, key=E_MINOR, head=BarHead()):
    return note_cells(riff(line)[0], head, STANDARD_SETUP, key)


def test_notes_lie_along_their_string_and_off_the_steps():
    held, off = cells("h 6:0 e3 6:3")
    assert (held.start, held.end, held.room) == (0, 8, 8)
    assert off.start == 8
    assert off.end == pytest.approx(8 + 4 / 3)
    assert cells("e3 6:0 3 5")[1].start == pytest.approx(4 / 3)


def test_roles_follow_the_key():
    roles = [cell.role for cell in cells("q 6:0 3 2 1")]
    assert roles == [Role.HOME, Role.FRAME, Role.PLAIN, Role.OUTSIDE]
    assert {cell.role for cell in cells("q 6:0 3 2 1", key=None)} == {Role.PLAIN}


def degrees_of(line: str, key: Key | None = E_MINOR, after: str = ""):
    notes = ((), riff(line)[0], riff(after)[0])
    return degree_cells(notes, BarHead(), STANDARD_SETUP, key)


def test_the_bar_behind_says_whether_a_note_is_raised_or_lowered():
    assert [cell.text for cell in degrees_of("q 6:0 3 r 6", after="q 6:7")] == ["1", "♭3", "♯4"]
    assert [cell.text for cell in degrees_of("q 6:0 3 r 6", after="q 6:5")] == ["1", "♭3", "♭5"]


def test_degrees_stand_at_their_onsets_low_to_high():
    found = degrees_of("q 6:0+5:2+4:2 6:3 6:3t r")
    assert [(cell.start, cell.text) for cell in found] == [(0, "1 5"), (4, "♭3")]
    assert degrees_of("q 6:0", None) == ()
    assert degrees_of("q 6:0x 6:3x") == ()


MARKED = [
    ((Sign.DEAD,), "×", ""),
    ((Sign.GHOST,), "(7)", ""),
    ((NaturalHarmonic(12.0),), "‹12›", ""),
    ((NaturalHarmonic(3.2),), "‹3.2›", ""),
    ((Sign.HAMMER_ON, Sign.PALM_MUTE), "7", "h PM"),
    ((Slide(SlideWay.FROM_NOTE), Slide(SlideWay.OUT_UP)), "7", "sl →↑"),
    ((Bend((BendPoint(0, 0), BendPoint(9, 200))),), "7", "b1"),
    ((Bend((BendPoint(0, 100), BendPoint(9, 0))),), "7", "pb½r"),
    ((Bend((BendPoint(0, 0), BendPoint(9, 130))),), "7", "b130c"),
    ((Vibrato(),), "7", "~"),
    ((Vibrato(wide=True), Trill(9)), "7", "≈ tr9"),
    ((Tremolo(2), ArtificialHarmonic(5.0)), "7", "AH5 //"),
    ((Sign.UP_STROKE, Finger(FingerName.THUMB)), "7", "up fT"),
]


@pytest.mark.parametrize(("marks", "fret", "signs"), MARKED)
def test_every_mark_is_readable_in_its_cell(marks, fret, signs):
    note = Note(0, QUARTER, 6, 7, marks=in_order(marks))
    assert (fret_text(note), signs_text(note)) == (fret, signs)


def test_no_two_signs_of_marks_read_alike():
    single = [sign for sign in Sign if sign not in (Sign.TIE, Sign.DEAD, Sign.GHOST)]
    ways = [Slide(way) for way in SlideWay]
    written = [signs_text(Note(0, 1, 1, 0, marks=(mark,))) for mark in (*single, *ways)]
    assert len(set(written)) == len(written)
    assert all(written)


def colours_in(grid, cursor):
    """The colours painted in a cell."""
    rect = grid.cell_rect(cursor).translated(-grid.horizontalOffset(), -grid.verticalOffset())
    image = grid.viewport().grab(rect).toImage()
    return {
        QColor(image.pixel(x, y)).name()
        for x in range(image.width())
        for y in range(image.height())
    }


def test_a_typed_note_is_painted_in_the_tint_of_its_role(show):
    window = show(lesson(section("A", "w 1:0", key="E minor")))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    tint = window.look.colour("home").name()
    cell = Cursor(0, 0, 0, 0, 6)
    assert tint not in colours_in(grid, cell)
    press("0")
    assert tint in colours_in(grid, cell)
    press("Ctrl+Z")
    assert tint not in colours_in(grid, cell)


def test_the_cursor_is_painted_where_it_is(show):
    window = show(lesson(section("A", "q 6:0 3 5 7")))
    grid = window.page("riffs").grid
    ochre = window.look.colour("ochre").name()
    here, there = Cursor(0, 0, 0, 0, 2), Cursor(0, 0, QUARTER, 0, 3)
    grid.move_to(here)
    assert ochre in colours_in(grid, here)
    grid.move_to(there)
    assert ochre not in colours_in(grid, here)
    assert ochre in colours_in(grid, there)


class _Painted(QObject):
    """The areas that a widget is asked to paint."""

    def __init__(self, widget):
        super().__init__(widget)
        self.areas = []
        widget.installEventFilter(self)

    def eventFilter(self, _watched, event):
        if event.type() == QEvent.Type.Paint:
            self.areas.append(event.region().boundingRect())
        return False


def test_an_edit_repaints_its_bar_alone(show, qtbot):
    window = show(lesson(section("A", " | ".join(["q 6:0 3 5 7"] * 9))))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    for page in PAGES:
        window.page(page.id)  # else they are made meanwhile, and all is painted anew
    qtbot.wait(100)
    painted = _Painted(grid.viewport())
    press("9")
    qtbot.waitUntil(lambda: bool(painted.areas))
    bar = 16 * grid.metrics.step
    assert max(area.right() for area in painted.areas) <= bar + 12
    assert bar + 12 < grid.viewport().width(), "there was more that could have been painted"


def test_the_grid_is_a_table_whose_cells_say_what_they_are(show):
    window = show(lesson(section("A", "q 6:3h 5 r r", key="E minor")))
    model = window.page("riffs").grid.grid_model
    row = model.rows.of_string(0, 6)

    def spoken(column):
        return model.index(row, column).data(Qt.ItemDataRole.AccessibleTextRole)

    where = "string 6, E2, beat 1, bar 1, section A, Guitar 1"
    assert spoken(0) == f"fret 3, G2, degree flat 3, hammer-on, {where}"
    assert spoken(1).startswith("held: fret 3, G2")
    assert spoken(8).startswith("rest, ")
    assert model.index(row, 4).data() == "5"
    degrees = model.index(row + 1, 4).data(Qt.ItemDataRole.AccessibleTextRole)
    assert degrees == "degree 4, beat 2, bar 1, section A, Guitar 1"


def test_the_current_index_follows_the_cursor(show):
    window = show(lesson(section("A", "q 6:3 5", "q 6:0")))
    grid = window.page("riffs").grid
    press("Right", "Right", "Down", "Ctrl+Down")
    index = grid.currentIndex()
    assert index.column() == 2
    assert grid.grid_model.rows[index.row()].part == 1


def test_the_mouse_points_and_selects(show):
    window = show(lesson(section("A", "q 6:0 3 5 7 | q 6:0")))
    grid = window.page("riffs").grid
    first = grid.cell_rect(Cursor(0, 0, QUARTER, 0, 5)).center()
    last = grid.cell_rect(Cursor(0, 1, 0, 0, 3)).center()
    QTest.mouseClick(grid.viewport(), Qt.MouseButton.LeftButton, pos=first)
    assert grid.here == Cursor(0, 0, QUARTER, 0, 5)
    QTest.mouseClick(
        grid.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier, last
    )
    assert grid.span.courses == (3, 4, 5)
    assert (grid.span.start.bar, grid.span.end.bar) == (0, 1)


def test_it_scrolls_so_that_the_cursor_is_in_sight(show):
    window = show(lesson(section("A", " | ".join(["q 6:0"] * 40)), section("B", "q 6:0")))
    grid = window.page("riffs").grid
    press("Ctrl+End")
    rect = grid.cell_rect(grid.here).translated(-grid.horizontalOffset(), 0)
    assert grid.viewport().rect().contains(rect.center())
    assert grid.here.section == 1
    assert window.document.section == 1
    press("Ctrl+Home")
    assert grid.horizontalOffset() == 0


def below(window):
    """The picture of the grid under its last row."""
    grid = window.page("riffs").grid
    window.repaint()
    picture = grid.viewport().grab().toImage()
    top = grid.tops[-1] + 2  # the lines of the bars end a pixel below
    return picture.copy(0, top, picture.width(), picture.height() - top)


def test_an_empty_section_says_what_to_do_first_until_something_is_written(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    assert grid.has_room_for_hints
    empty = below(window)
    press("0")
    written = below(window)
    assert written != empty
    blank = written.pixelColor(0, 0)
    assert all(
        written.pixelColor(x, y) == blank
        for x in range(0, written.width(), 3)
        for y in range(0, written.height(), 3)
    )
    press("Ctrl+Z")
    assert below(window) == empty


def test_where_the_hint_has_no_room_the_foot_says_it(show, qtbot):
    window = show(new_lesson())
    assert "type a fret" not in window.foot._place.text()
    window.resize(1100, 420)
    qtbot.waitUntil(lambda: not window.page("riffs").grid.has_room_for_hints)
    press("Right")
    assert "type a fret" in window.foot._place.text()
    press("0")
    assert "type a fret" not in window.foot._place.text()


def test_the_keys_of_the_hint_are_the_keys_that_there_are(show):
    window = show(new_lesson())
    bound = {key for action, _where in window.registry.entries() for key in action.keys}
    gestures = {"0 … 9", "Ctrl+2", "Shift+2", "Alt+Shift+3"}
    hinted = [keys for keys, _words in LINES]
    assert gestures <= set(hinted)
    assert {key for keys in hinted if keys not in gestures for key in keys.split()} <= bound
    press("Alt+Shift+3", "9", "Ctrl+2")
    found = window.document.lesson.sections[0].bars[0].notes[0]
    assert [(note.fret, note.length) for note in found] == [(9, QUARTER // 3), (12, QUARTER // 3)]
    press("Down", "Shift+2")
    assert window.document.lesson.sections[0].bars[0].notes[0][-1].course == 1


def pointing(window, cursor):
    """The ink to the left of a cell, of its upper and of its lower half, as mean columns."""
    grid = window.page("riffs").grid
    window.repaint()
    rect = grid.cell_rect(cursor)
    top = rect.top() + grid.metrics.sign_height
    across, down = grid.horizontalOffset(), grid.verticalOffset()
    image = grid.viewport().grab().toImage()
    dark = []
    for half in (0, 1):
        first = top + half * grid.metrics.pill // 2
        found = [
            x
            for x in range(rect.left() - 5, rect.left() + 5)
            for y in range(first + 2, first + grid.metrics.pill // 2 - 2)
            if QColor(image.pixel(x - across, y - down)).lightness() < 90
        ]
        dark.append(sum(found) / len(found))
    return dark


def test_a_slide_is_drawn_the_way_it_goes(show):
    window = show(lesson(section("A", "q 6:5 7 5 r | q 6:3 r r r")))
    grid = window.page("riffs").grid
    for bar, tick in ((0, QUARTER), (0, 2 * QUARTER), (1, 0)):
        grid.move_to(Cursor(0, bar, tick, 0, 6))
        press("S")
    grid.move_to(Cursor(0, 0, 0, 0, 1))
    upper, lower = pointing(window, Cursor(0, 0, QUARTER, 0, 6))
    assert upper > lower, "from 5 to 7 it rises"
    for bar, tick in ((0, 2 * QUARTER), (1, 0)):
        upper, lower = pointing(window, Cursor(0, bar, tick, 0, 6))
        assert upper < lower, "from a higher fret it falls, over a bar line too"


def test_the_foot_tells_wide_vibrato_from_the_narrow_one(show):
    window = show(lesson(section("A", "q 6:5")))
    press(*["Down"] * 5, "V")
    assert "vibrato" in window.foot._place.text()
    assert "wide" not in window.foot._place.text()
    press("Shift+V")
    assert "wide vibrato" in window.foot._place.text()


def test_undo_and_redo_lead_to_what_changes(show):
    window = show(lesson(section("A", " | ".join(["q 6:0"] * 40)), section("B", "q 6:0")))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 3, QUARTER, 0, 5))
    press("7", "Ctrl+End")
    assert grid.horizontalOffset() > 0
    for key in ("Ctrl+Z", "Ctrl+Shift+Z"):
        press("Ctrl+End", key)
        assert grid.here == Cursor(0, 3, QUARTER, 0, 5)
        rect = grid.cell_rect(grid.here).translated(-grid.horizontalOffset(), 0)
        assert grid.viewport().rect().contains(rect.center())
        assert "A  ·  bar 4, beat 2  ·  Guitar 1, string 5" in window.foot._place.text()
    assert "fret 7" in window.page("riffs").panel.note.what.text()


def test_undo_leads_to_bars_that_come_back(show):
    window = show(lesson(section("A", " | ".join(["q 6:0"] * 9)), section("B", "q 6:0")))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 5, 0, 0, 6))
    press("Ctrl+Del", "Ctrl+End", "Ctrl+Z")
    assert grid.here.time == (0, 5, 0)
    press("Ctrl+R", "Ctrl+Home", "Ctrl+Z")
    assert grid.here.time == (0, 5, 0)


def test_undo_keeps_a_selection_around_what_changes(show):
    window = show(lesson(section("A", "q 6:0 3 5 7 | q 6:0")))
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 6))
    press("Shift+End", "Alt+Up", "Ctrl+Z", "Alt+Up", "Alt+Up")
    found = window.document.lesson.sections[0].bars[0].notes[0]
    assert [note.fret for note in found] == [2, 5, 7, 9]


def inked(image, xs, ys, colour):
    """How many pixels of a part of a picture have a colour."""
    return sum(QColor(image.pixel(x, y)).name() == colour for x in xs for y in ys)


def test_repeat_signs_are_seen_over_notes_and_cursor(show):
    window = show(lesson(section("A", "w 6:0+5:2+4:2+3:1+2:0+1:0 | w 6:0")))
    grid = window.page("riffs").grid
    press("Ctrl+R")
    window.repaint()
    assert grid.here == Cursor()
    image, ink = grid.viewport().grab().toImage(), window.look.colour("ink").name()
    first, last = grid.cell_rect(Cursor()), grid.cell_rect(Cursor(0, 0, 15 * QUARTER // 4, 0, 6))
    ys = range(first.top(), last.bottom())
    for xs in (range(first.left(), first.left() + 3), range(last.right() - 2, last.right())):
        assert inked(image, xs, ys, ink) == len(xs) * len(ys), "the thick line, all through"
    dots = range(first.left() + grid.metrics.unit + 1, first.left() + 2 * grid.metrics.unit + 2)
    for string in (3, 5):
        y = grid.cell_rect(Cursor(course=string)).top()
        assert inked(image, dots, range(y - 1, y + 2), ink) > 6


def ruler(window):
    window.repaint()
    return window.page("riffs").grid.horizontalHeader().viewport().grab().toImage()


def test_an_ending_has_its_bracket_and_number_in_the_ruler(show):
    window = show(lesson(section("A", "q 6:0 | q 6:3 | q 6:5 | q 6:7")))
    grid = window.page("riffs").grid
    window.resize(2600, 800)
    press("Ctrl+Right", "Shift+Ctrl+Right")
    before = ruler(window)
    press("Ctrl+E")
    after = ruler(window)
    ys = range(grid.metrics.ruler_top, grid.metrics.ruler_top + 4)

    def changed(bar):
        left, step = 16 * bar * grid.metrics.step, grid.metrics.step
        xs = range(left + 2 * step, left + 15 * step)
        return sum(any(before.pixel(x, y) != after.pixel(x, y) for y in ys) for x in xs) / len(xs)

    assert changed(1) == 1
    assert changed(0) == 0
    left = 16 * grid.metrics.step
    words = range(left + 3 * grid.metrics.unit, left + 2 * grid.metrics.step)
    ink = window.look.colour("ink").name()
    assert inked(after, words, range(ys.stop, grid.metrics.ruler - 2), ink) > 8, "its number"


def test_a_tuplet_tells_its_number_over_its_beat(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    press("Right", "Right", "Right", "Right")

    def shown(count):
        """Pixels that are not the ruler's ground, around the middle of beat 2."""
        image, step = ruler(window), grid.metrics.step
        middle = 4 * step + count * step // 2
        ground = QColor(image.pixel(3 * step - 2, grid.metrics.ruler_top + 3)).name()
        xs, ys = (
            range(middle - 4, middle + 5),
            range(grid.metrics.ruler_top + 3, grid.metrics.ruler - 2),
        )
        return len(xs) * len(ys) - inked(image, xs, ys, ground)

    assert shown(4) == 0
    for count in (3, 5, 7):
        press(f"Alt+Shift+{count}")
        assert shown(count) > 5
    press("Alt+Shift+8")
    assert shown(8) == 0


def test_undo_leads_to_guitars_that_come_back(show):
    window = show(lesson(section("A", "q 6:0 3", "q 6:1", "q 6:2")))
    grid = window.page("riffs").grid
    press("Right", "Ctrl+Down")
    window.registry.run("part_remove")
    press("Ctrl+Home", "Ctrl+Up", "Right", "Ctrl+Z")
    assert (grid.here.tick, grid.here.part) == (QUARTER // 4, 1)
    press("Ctrl+Shift+G", "Ctrl+Z")
    assert len(window.document.lesson.parts) == grid.here.part + 1 == 3


def test_a_note_that_the_steps_of_its_beat_cut_short_keeps_its_digits_readable(show):
    window = show(new_lesson())
    grid = window.page("riffs").grid
    grid.move_to(Cursor(0, 0, 0, 0, 5))
    press("Right", "2", "Left", "Alt+Shift+3", "4", "Ctrl+Right", "2", "Ctrl+Home")
    notes = window.document.lesson.sections[0].bars[0].notes[0]
    assert [note.end for note in notes] == [QUARTER // 3, QUARTER * 2 // 3]
    image, step = grid.viewport().grab().toImage(), grid.metrics.step
    top = grid.tops[grid.grid_model.rows.of_string(0, 5)]
    digits = grid.metrics.fret_fm.horizontalAdvance("2")
    ys = range(top + grid.metrics.sign_height + 2, top + grid.metrics.string - 6)

    def dark(xs):
        return sum(QColor(image.pixel(x, y)).lightness() < 110 for x in xs for y in ys)

    second_bar = grid.grid_model.columns.bar_column(0, 1) * step
    plain = dark(range(second_bar + 3, second_bar + step - 3))
    assert plain > 10
    assert dark(range(step - digits - 1, step - 1)) >= plain * 3 // 4
