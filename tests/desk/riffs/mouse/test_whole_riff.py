"""A whole small riff with the mouse alone; only the letters of a name are typed."""

from PySide6.QtCore import QPoint

from chalkfret.edits.drawing import bend_curve
from chalkfret.model import Bend, Note, Slide, SlideWay, Tempo
from tests.builder import lesson, section
from tests.desk.hands import press as press_keys
from tests.desk.hands import type_text
from tests.desk.riffs.mouse.hand import InGrid, Q, double_click, drag, settle

E = Q // 2


def test_a_riff_is_written_with_the_mouse_alone(show, qtbot):
    window = show(lesson(section("A", "r", tempo=100.0)))
    page = window.page("riffs")
    hand, strip = InGrid(page.grid), page.strip

    # Two bars: the section's end, drawn out in the strip by half of its width and more.
    rect = strip.rects()[0]
    end = QPoint(rect.right(), rect.bottom() - 4)
    drag(strip, end, end + QPoint(rect.width() * 9 // 10, 0))
    assert len(window.document.lesson.sections[0].bars) == 2

    # Six notes: 6:3, 5, 7 as eighths and longer, 5:5, and two in the second bar.
    hand.write(3, 6)
    drag(hand.view, hand.end(6), hand.rect(6, Q // 4).topRight() + QPoint(0, 24))
    hand.write(5, 6, E)
    drag(hand.view, hand.end(6, E), hand.rect(6, Q - Q // 4).center() + QPoint(14, 0))
    hand.write(7, 5, 2 * Q)
    drag(hand.view, hand.end(5, 2 * Q), hand.at(5, 4 * Q - Q // 4) + QPoint(10, 0))
    hand.write(12, 4, 0, bar=1)
    drag(hand.view, hand.end(4, 0, 1), hand.at(4, 2 * Q - Q // 4, 1) + QPoint(10, 0))

    # A slide from 3 to 5, and a tone bent and released on the twelfth fret.
    drag(hand.view, hand.knob(6), hand.at(6, E))
    knob = hand.knob(4, 0, 1)
    drag(hand.view, knob, knob + hand.up(2), knob + hand.up(0))

    # The tempo, twelve beats up, and a name.
    strip.reckon()
    line = strip.tempo_lines()[0][0].toPoint() + QPoint(60, 0)
    per_beat = max(1, strip.metrics.unit // 8)
    drag(strip, line, line - QPoint(0, 12 * per_beat))
    strip.reckon()
    double_click(strip, strip.rects()[0].center())
    type_text("Lantern")
    press_keys("Return")
    settle()

    wanted = lesson(
        section("A", "e 6:3 5 q r h 5:7 | h 4:12 r", name="Lantern", tempo=Tempo(112.0))
    )
    found = window.document.lesson
    slid = Note(E, E, 6, 5, marks=(Slide(SlideWay.FROM_NOTE),))
    bent = Note(0, 2 * Q, 4, 12, marks=(bend_curve(2 * Q, 200, 0),))
    assert found.sections[0].bars[0].notes[0][1] == slid
    assert found.sections[0].bars[1].notes[0] == (bent,)
    plain = [
        [Note(n.onset, n.length, n.course, n.fret) for n in bar.notes[0]]
        for bar in found.sections[0].bars
    ]
    assert plain == [list(bar.notes[0]) for bar in wanted.sections[0].bars]
    assert found.sections[0].head == wanted.sections[0].head
    assert bent.mark(Bend) is not None
    assert page.grid.hasFocus()

    stack = window.document.undo_stack
    assert stack.count() == 1 + 4 * 2 + 1 + 1 + 1 + 1, "each gesture is one step"
