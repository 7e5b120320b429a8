"""Each kind of drag: what it does, what it shows on the way, and that Escape leaves no trace."""

from dataclasses import dataclass

import msgspec
import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtTest import QTest

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.edits.drawing import bend_curve
from chalkfret.model import Bend, Cue, CueKind, Note, Place, Sign, Slide, SlideWay, Tempo
from tests.builder import lesson, riff, section
from tests.desk.hands import press as press_keys
from tests.desk.riffs.mouse.hand import (
    CTRL,
    SHIFT,
    InGrid,
    Q,
    click,
    drag,
    hover,
    move,
    press,
    pull,
    release,
    settle,
)

E = Q // 2


@dataclass
class Desk:
    """The window with one lesson, and hands in its grid and strip."""

    window: object
    hand: InGrid
    strip: object

    @property
    def lesson(self):
        return self.window.document.lesson

    def rows(self, part=0, section_index=0):
        return [bar.notes[part] for bar in self.lesson.sections[section_index].bars]

    @property
    def foot(self) -> str:
        return self.window.foot._place.text()

    @property
    def said(self) -> str:
        return self.window.foot._said.text()


CUE = Cue("cue-1", "drive on", CueKind.DRIVE, Place(0, Q), Place(1, 0))


@pytest.fixture
def desk(show) -> Desk:
    window = show(
        lesson(
            section("A", "q 6:5 6:7 5:2 r | e 6:3 5 q 5:7 h r | r", "q 6:0 r r r | r | r",
                    cues=(CUE,)),
            section("B", "q 4:2 r r r | r", "r | r", tempo=Tempo(80.0, end=120.0)),
        )
    )  # fmt: skip
    page = window.page("riffs")
    page.strip.reckon()
    return Desk(window, InGrid(page.grid), page.strip)


# Notes


def test_a_note_dragged_onto_another_says_which_one_goes(desk):
    hand = desk.hand
    press(hand.view, hand.at(6, 0))
    move(hand.view, hand.at(6, Q))
    assert desk.foot == "To section A, bar 1, beat 2, in place of fret 7"
    release(hand.view, hand.at(6, Q))
    stack = desk.window.document.undo_stack
    assert stack.undoText() == "Move a note to section A, bar 1, in place of fret 7"
    drag(hand.view, hand.at(6, Q), hand.at(6, 0))
    assert stack.undoText() == "Move a note to section A, bar 1", "nothing was there"


def test_a_note_is_dragged_along_its_string(desk):
    hand = desk.hand
    drag(hand.view, hand.at(5, 2 * Q), hand.at(5, 3 * Q))
    assert desk.rows()[0] == riff("q 6:5 6:7 r 5:2")[0]
    assert hand.grid.here == Cursor(0, 0, 3 * Q, 0, 5)
    drag(hand.view, hand.at(5, 3 * Q), hand.at(5, 2 * Q, bar=2))
    assert desk.rows()[2] == (Note(2 * Q, Q, 5, 2),)


def test_a_held_note_is_carried_by_where_it_is_held(desk):
    hand = desk.hand
    press(hand.view, hand.at(5, Q + E, bar=1) + QPoint(2, 0))  # amid the quarter at beat two
    move(hand.view, hand.at(5, 2 * Q + E, bar=1))
    release(hand.view, hand.at(5, 2 * Q + E, bar=1))
    assert desk.rows()[1] == riff("e 6:3 5 q r 5:7 r")[0]


def test_a_note_keeps_its_pitch_on_another_string_and_with_ctrl_its_fret(desk):
    hand = desk.hand
    drag(hand.view, hand.at(6, Q), hand.at(5, Q))
    assert desk.rows()[0] == riff("q 6:5 5:2 5:2 r")[0]
    drag(hand.view, hand.at(5, Q), hand.at(4, Q), held=CTRL)
    assert desk.rows()[0] == riff("q 6:5 4:2 5:2 r")[0]


def test_where_the_pitch_does_not_lie_it_is_refused_with_a_sentence(desk):
    hand = desk.hand
    before = desk.lesson
    pull(hand.view, hand.at(5, 2 * Q), hand.at(3, 2 * Q))
    assert hand.grid.viewport().cursor().shape() is Qt.CursorShape.ForbiddenCursor
    assert "outside 0 to 36" in desk.foot
    assert hand.grid.mouse.preview is None
    release(hand.view, hand.at(3, 2 * Q))
    assert desk.lesson is before
    assert "outside 0 to 36" in desk.said


def test_ctrl_pressed_on_the_way_counts(desk):
    hand = desk.hand
    pull(hand.view, hand.at(5, 2 * Q), hand.at(3, 2 * Q))
    assert hand.grid.mouse.preview is None
    QTest.keyPress(hand.grid, Qt.Key.Key_Control, CTRL)
    assert hand.grid.mouse.preview is not None
    QTest.keyRelease(hand.grid, Qt.Key.Key_Control)
    assert hand.grid.mouse.preview is None
    press_keys("Escape")


def test_a_note_is_dragged_into_the_other_guitar(desk):
    hand = desk.hand
    drag(hand.view, hand.at(5, 2 * Q), hand.at(5, 2 * Q, part=1))
    assert desk.rows()[0] == riff("q 6:5 6:7 r r")[0]
    assert desk.rows(1)[0] == riff("q 6:0 r 5:2 r")[0]


def test_a_shaking_hand_drags_nothing(desk):
    hand = desk.hand
    before = desk.lesson
    drag(hand.view, hand.at(6), hand.at(6) + QPoint(3, 2))
    assert desk.lesson is before


def test_what_is_seen_on_the_way_is_what_letting_go_makes(desk):
    hand = desk.hand
    pull(hand.view, hand.at(6), hand.at(5, Q))
    seen = hand.grid.mouse.preview
    assert desk.window.document.undo_stack.count() == 0
    release(hand.view, hand.at(5, Q))
    assert desk.lesson is seen
    assert desk.window.document.undo_stack.count() == 1


def test_the_note_is_painted_where_it_would_go(desk):
    hand = desk.hand
    rect = hand.rect(5, 3 * Q)
    plain = hand.view.grab(rect).toImage()
    pull(hand.view, hand.at(5, 2 * Q), hand.at(5, 3 * Q))
    dragged = hand.view.grab(rect).toImage()
    release(hand.view, hand.at(5, 3 * Q))
    hand.grid.move_to(Cursor(0, 0, 0, 0, 1))
    hover(hand.view, hand.at(1))
    written_there = hand.view.grab(rect).toImage()
    tint = QPoint(rect.width() - 8, rect.height() // 2)
    assert dragged.pixelColor(tint) == written_there.pixelColor(tint)
    assert dragged.pixelColor(tint) != plain.pixelColor(tint)


# Selections


def test_a_selection_is_drawn_and_dragged(desk):
    hand = desk.hand
    drag(hand.view, hand.at(4, 0), hand.at(6, Q + 3 * Q // 4))
    assert hand.grid.span.courses == (4, 5, 6)
    drag(hand.view, hand.at(6, Q), hand.at(6, 3 * Q))
    assert desk.rows()[0] == riff("q r r 6:5+5:2 6:7")[0]
    assert hand.grid.span.start.tick == 2 * Q
    drag(hand.view, hand.at(4, 2 * Q), hand.at(3, 2 * Q), held=CTRL)
    assert desk.rows()[0] == riff("q r r 5:5+4:2 5:7")[0]


def test_a_selection_keeps_its_pitches(desk):
    hand = desk.hand
    drag(hand.view, hand.at(5, 0), hand.at(6, Q))
    press_keys("Escape")
    click(hand.view, hand.at(6, 0))
    click(hand.view, hand.at(6, Q), held=SHIFT)
    drag(hand.view, hand.at(6, 0), hand.at(5, 0))
    assert desk.rows()[0] == riff("q 5:0 5:2 5:2 r")[0]


def test_notes_of_several_guitars_move_in_time_alone(desk):
    hand = desk.hand
    before = desk.lesson
    drag(hand.view, hand.at(3, 0), hand.at(6, Q, part=1))
    drag(hand.view, hand.at(6, 0), hand.at(5, 0))
    assert desk.lesson is before
    assert "in time only" in desk.said
    drag(hand.view, hand.at(6, 0), hand.at(6, 2 * Q))
    assert desk.rows(1)[0] == riff("q r r 6:0 r")[0]


def test_a_press_in_the_selection_without_a_drag_lets_it_go(desk):
    hand = desk.hand
    drag(hand.view, hand.at(4, 0), hand.at(6, Q))
    click(hand.view, hand.at(5, Q))
    assert hand.grid.anchor is None
    assert hand.grid.here == Cursor(0, 0, Q, 0, 5)


# Lengths and shapes


def test_a_note_is_drawn_out_by_its_end_over_the_bar_line_and_back(desk):
    hand = desk.hand
    drag(hand.view, hand.end(5, 2 * Q), hand.rect(5, E, bar=1).topLeft() + QPoint(0, 25))
    assert desk.rows()[0][-1] == Note(2 * Q, 2 * Q, 5, 2)
    assert desk.rows()[1][0] == Note(0, E, 5, 2, marks=(Sign.TIE,))
    drag(hand.view, hand.end(5, 2 * Q), hand.rect(5, Q + E).center())
    assert desk.rows()[0][-1] == Note(2 * Q, Q // 4, 5, 2), "a step is the least"
    assert desk.rows()[1] == riff("e 6:3 5 q 5:7 h r")[0]


def test_a_slide_is_drawn_to_a_note_that_touches_and_backwards(desk):
    hand = desk.hand
    drag(hand.view, hand.knob(6), hand.at(6, Q))
    assert desk.rows()[0][1].marks == (Slide(SlideWay.FROM_NOTE),)
    drag(hand.view, hand.knob(6, E, bar=1), hand.at(6, 0, bar=1))
    assert desk.rows()[1][1].marks == (Slide(SlideWay.FROM_NOTE),)


def test_a_slide_to_nowhere_is_refused(desk):
    hand = desk.hand
    before = desk.lesson
    drag(hand.view, hand.knob(5, 2 * Q), hand.at(5, 3 * Q))
    assert desk.lesson is before
    assert "same string" in desk.said


@pytest.mark.parametrize(
    ("way", "held", "curve"),
    [
        ((1,), Qt.KeyboardModifier.NoModifier, bend_curve(Q, 100, 100)),
        ((3, 1), Qt.KeyboardModifier.NoModifier, bend_curve(Q, 300, 100)),
        ((2, 0), Qt.KeyboardModifier.NoModifier, bend_curve(Q, 200, 0)),
        ((0.5,), CTRL, bend_curve(Q, 50, 50)),
        ((2,), SHIFT, bend_curve(Q, 200, 200, before=True)),
    ],
)
def test_a_bend_is_drawn_by_its_shape(desk, way, held, curve):
    hand = desk.hand
    knob = hand.knob(5, 2 * Q)
    points = [knob + hand.up(height) for height in way]
    press(hand.view, knob)
    for point in points:
        move(hand.view, point, held)
    release(hand.view, points[-1], held)
    assert desk.rows()[0][-1].mark(Bend) == curve


# Cues


def lane(desk, x: int) -> QPoint:
    return QPoint(x, desk.hand.grid.tops[1] // 2)


def test_a_cue_is_moved_and_its_ends(desk):
    hand = desk.hand
    start, end = hand.rect(1, Q).left(), hand.rect(1, 0, bar=1).left()
    step = hand.grid.metrics.step
    drag(hand.view, lane(desk, start + 1), lane(desk, start + 2 * step))
    assert desk.lesson.sections[0].head.cues[0].start == Place(0, Q + E)
    drag(hand.view, lane(desk, end - 1), lane(desk, end + 4 * step))
    assert desk.lesson.sections[0].head.cues[0].end == Place(1, Q)
    middle = (start + end) // 2 + step
    drag(hand.view, lane(desk, middle), lane(desk, middle - 2 * step))
    cue = desk.lesson.sections[0].head.cues[0]
    assert (cue.start, cue.end) == (Place(0, Q), Place(1, E))
    assert desk.window.document.undo_stack.count() == 3


def test_a_cue_is_drawn_to_the_end_of_its_section_and_no_further(desk):
    hand = desk.hand
    end = hand.rect(1, 0, bar=1).left()
    border = hand.rect(1, 0, section=1).left()
    before = desk.lesson
    pull(hand.view, lane(desk, end - 1), lane(desk, border + 90))
    assert "stays within its section" in desk.foot
    move(hand.view, lane(desk, border))
    release(hand.view, lane(desk, border))
    assert desk.lesson.sections[0].head.cues[0].end is None
    desk.window.document.undo_stack.undo()
    assert desk.lesson is before


# The strip


def end_of(desk, index: int) -> QPoint:
    rect = desk.strip.rects()[index]
    return QPoint(rect.right(), rect.bottom() - 4)


def test_empty_bars_come_and_go_but_none_with_notes(desk):
    bar = desk.strip.rects()[0].width() / 3
    drag(desk.strip, end_of(desk, 0), end_of(desk, 0) + QPoint(round(2 * bar), 0))
    assert len(desk.lesson.sections[0].bars) == 5
    desk.strip.reckon()
    bar = desk.strip.rects()[0].width() / 5
    drag(desk.strip, end_of(desk, 0), end_of(desk, 0) - QPoint(round(3 * bar), 0))
    assert len(desk.lesson.sections[0].bars) == 2
    before = desk.lesson
    desk.strip.reckon()
    drag(desk.strip, end_of(desk, 0), end_of(desk, 0) - QPoint(desk.strip.width() // 4, 0))
    assert desk.lesson is before
    assert "bar holds notes" in desk.said


def test_with_ctrl_the_end_says_how_often(desk):
    wide = desk.strip.rects()[1].width()
    drag(desk.strip, end_of(desk, 1), end_of(desk, 1) + QPoint(wide * 2, 0), held=CTRL)
    assert desk.lesson.sections[1].head.times == 3


def test_a_gradual_tempo_is_dragged_at_either_end(desk):
    first, last = (point.toPoint() for point in desk.strip.tempo_lines()[1])
    start = first + QPoint(12, round((last.y() - first.y()) * 12 / (last.x() - first.x())))
    drag(desk.strip, start, start - QPoint(0, 9))
    assert desk.lesson.sections[1].head.tempo == Tempo(89.0, end=120.0)
    desk.strip.reckon()
    first, last = (point.toPoint() for point in desk.strip.tempo_lines()[1])
    end = last - QPoint(12, round((last.y() - first.y()) * 12 / (last.x() - first.x())))
    drag(desk.strip, end, end + QPoint(0, 15), held=CTRL)
    assert desk.lesson.sections[1].head.tempo == Tempo(89.0, end=118.5)


def test_a_section_is_dragged_to_another_place(desk):
    rects = desk.strip.rects()
    drag(desk.strip, rects[1].center() + QPoint(0, 8), QPoint(rects[0].left() + 10, 20))
    assert [one.head.letter for one in desk.lesson.sections] == ["B", "A"]
    assert desk.hand.grid.here.section == 0
    assert desk.strip.rects()[0].width() < desk.strip.rects()[1].width()


# Abandoned


def _note(desk):
    return desk.hand.view, desk.hand.at(6), desk.hand.at(5, 2 * Q)


def _selection(desk):
    hand = desk.hand
    drag(hand.view, hand.at(4, 0), hand.at(6, Q))
    return hand.view, hand.at(6), hand.at(6, 2 * Q)


def _length(desk):
    return desk.hand.view, desk.hand.end(5, 2 * Q), desk.hand.at(5, 3 * Q) + QPoint(9, 0)


def _slide(desk):
    return desk.hand.view, desk.hand.knob(6), desk.hand.at(6, Q)


def _bend(desk):
    return desk.hand.view, desk.hand.knob(6), desk.hand.knob(6) + desk.hand.up(3)


def _cue(desk):
    x = desk.hand.rect(1, Q).left()
    return desk.hand.view, lane(desk, x + 30), lane(desk, x + 90)


def _cue_end(desk):
    x = desk.hand.rect(1, 0, bar=1).left()
    return desk.hand.view, lane(desk, x), lane(desk, x - 40)


def _band(desk):
    return desk.hand.view, desk.hand.at(3, 0), desk.hand.at(6, 3 * Q)


def _end(desk):
    return desk.strip, end_of(desk, 0), end_of(desk, 0) + QPoint(200, 0)


def _tempo(desk):
    point = desk.strip.tempo_lines()[0][0].toPoint() + QPoint(40, 0)
    return desk.strip, point, point - QPoint(0, 20)


def _order(desk):
    first, second = desk.strip.rects()[:2]
    return desk.strip, second.center() + QPoint(0, 8), first.center() - QPoint(60, 0)


KINDS = [_note, _selection, _length, _slide, _bend, _cue, _cue_end, _band, _end, _tempo, _order]
CHANGES = [kind for kind in KINDS if kind is not _band]


def written(desk) -> bytes:
    return msgspec.json.encode(desk.lesson)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__.strip("_"))
def test_escape_abandons_any_drag(desk, kind):
    widget, start, there = kind(desk)
    before, value, cursor = desk.lesson, written(desk), desk.hand.grid.here
    pull(widget, start, there)
    mouse = desk.strip.mouse if widget is desk.strip else desk.hand.grid.mouse
    assert mouse.hand.drag is not None
    press_keys("Escape")
    assert mouse.hand.drag is None
    move(widget, there + QPoint(5, 5))
    release(widget, there + QPoint(5, 5))
    assert desk.lesson is before
    assert written(desk) == value
    assert desk.window.document.undo_stack.count() == 0
    if kind is _band:
        assert (desk.hand.grid.here, desk.hand.grid.anchor) == (cursor, None)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__.strip("_"))
def test_losing_the_focus_abandons_any_drag(desk, kind):
    widget, start, there = kind(desk)
    before = desk.lesson
    pull(widget, start, there)
    desk.window.page("riffs").panel.section.name.setFocus()
    release(widget, there)
    assert desk.lesson is before
    assert desk.window.document.undo_stack.count() == 0


@pytest.mark.parametrize("kind", CHANGES, ids=lambda kind: kind.__name__.strip("_"))
def test_the_same_drag_let_go_is_one_step_that_can_be_undone(desk, kind):
    widget, start, there = kind(desk)
    before = desk.lesson
    pull(widget, start, there)
    assert desk.foot, "the foot says what letting go would do"
    release(widget, there)
    assert desk.lesson != before
    assert desk.window.document.undo_stack.count() == 1
    desk.window.document.undo_stack.undo()
    assert desk.lesson is before


def test_a_lesson_changed_by_others_ends_the_drag(desk):
    widget, start, there = _note(desk)
    pull(widget, start, there)
    press_keys("7")
    after = desk.lesson
    release(widget, there)
    assert desk.lesson is after


def test_a_second_button_abandons(desk):
    widget, start, there = _note(desk)
    before = desk.lesson
    pull(widget, start, there)
    press(widget, there)
    release(widget, there)
    assert desk.lesson is before


# What shows that it can be dragged


def test_the_pointer_says_what_a_drag_would_do(desk):
    hand = desk.hand
    shape = lambda: hand.view.cursor().shape()  # noqa: E731
    for point, wanted in (
        (hand.at(6), Qt.CursorShape.OpenHandCursor),
        (hand.end(6), Qt.CursorShape.SizeHorCursor),
        (hand.knob(6), Qt.CursorShape.CrossCursor),
        (hand.at(2, Q), Qt.CursorShape.ArrowCursor),
        (lane(desk, hand.rect(1, Q).left()), Qt.CursorShape.SizeHorCursor),
        (lane(desk, hand.rect(1, Q).left() + 40), Qt.CursorShape.OpenHandCursor),
    ):
        hover(hand.view, point)
        assert shape() is wanted
    hover(hand.view, hand.end(6))
    assert "longer or shorter" in desk.foot
    hover(hand.view, hand.at(2, Q))
    assert "string" in desk.foot, "where the cursor is"
    settle()


class Painted(QObject):
    """Sees how wide each painting of a widget is."""

    def __init__(self, parent) -> None:
        super().__init__(parent)
        self.widths: list[int] = []
        parent.installEventFilter(self)

    def eventFilter(self, _watched, event) -> bool:
        if event.type() == QEvent.Type.Paint:
            self.widths.append(event.region().boundingRect().width())
        return False


def test_typing_repaints_no_more_with_the_pointer_in_the_grid(desk, qtbot):
    hand = desk.hand
    press_keys("7")  # the first one may change the lines round the grid
    hover(hand.view, hand.at(6, Q))
    qtbot.wait(500)  # till the other pages are made, which dresses the window anew
    painted = Painted(hand.view)
    press_keys("7")
    settle()
    assert painted.widths
    assert max(painted.widths) < hand.view.width()


def test_undoing_while_the_pointer_or_a_drag_is_over_what_goes(desk):
    window, hand = desk.window, desk.hand
    drag(desk.strip, end_of(desk, 1), end_of(desk, 1) + QPoint(desk.strip.rects()[1].width(), 0))
    assert len(desk.lesson.sections[1].bars) > 2
    hand.grid.setFocus()
    last = len(desk.lesson.sections[1].bars) - 1
    hand.grid.move_to(Cursor(1, last, 0, 0, 3))
    settle()
    press_keys("5")
    hover(hand.view, hand.at(3, 0, bar=last, section=1))
    pull(hand.view, hand.at(3, 0, bar=last, section=1), hand.at(3, Q, bar=last, section=1))
    while window.document.undo_stack.canUndo():
        window.document.undo_stack.undo()
    release(hand.view, hand.at(3, Q, bar=0))
    assert hand.grid.here.section == 1
    pull(hand.view, hand.at(2, Q), hand.at(3, 2 * Q))
    window.document.undo_stack.redo()
    press_keys("Escape")
    release(hand.view, hand.at(3, 2 * Q))
    settle()
