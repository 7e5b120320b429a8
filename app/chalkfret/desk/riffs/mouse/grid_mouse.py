"""The mouse in the grid: which press begins which drag, and what shows that it could.

A press on a note carries it, on its end draws it out, on the knob over its end draws a slide or a
bend; in the selection it carries all of it; on a cue it moves the cue. Anywhere else, and with
Shift everywhere, it selects. A press where the cursor is already offers the frets.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QWheelEvent,
)

from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.mouse.band import Band
from chalkfret.desk.riffs.mouse.chooser import FretChooser
from chalkfret.desk.riffs.mouse.cue_drags import DragCue
from chalkfret.desk.riffs.mouse.drag import CTRL, SHIFT, Drag, Hand
from chalkfret.desk.riffs.mouse.menu import grid_menu
from chalkfret.desk.riffs.mouse.note_drags import CarryNote, CarrySelection, Stretch
from chalkfret.desk.riffs.mouse.places import CueHit, NoteHit, Places, Zone
from chalkfret.desk.riffs.mouse.scrolling import Scroller
from chalkfret.desk.riffs.mouse.shape_drag import DrawShape
from chalkfret.edits import notes
from chalkfret.model import Lesson, setup_in
from chalkfret.model.limits import FRET_MAX
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.grid import Grid

_SHAPES = {
    Zone.BODY: Qt.CursorShape.OpenHandCursor,
    Zone.START: Qt.CursorShape.SizeHorCursor,
    Zone.END: Qt.CursorShape.SizeHorCursor,
    Zone.KNOB: Qt.CursorShape.CrossCursor,
}


class GridMouse(QObject):
    """All that the mouse does in one grid."""

    fret_chosen = Signal(int)  # to be written at the cursor
    beat_cut = Signal(int)  # into so many steps
    name_wanted = Signal(object, int, object, QRect)  # Named, whose, the widget and where on it
    hinted = Signal(str)  # what a drag would do; "" when there is none

    def __init__(self, grid: Grid, document: Document) -> None:
        super().__init__(grid)
        self._grid, self.document = grid, document
        self.places = Places(grid)
        self.scroller = Scroller(grid)
        self.hand = Hand(self, document)
        self.chooser: FretChooser | None = None
        self._hovered: NoteHit | CueHit | None = None
        self._came_by_mouse = False  # this press brought the focus: it chooses no fret
        self._last_fret = 0
        self._last_where = QPoint()
        self._last_held = Qt.KeyboardModifier.NoModifier
        self.hand.changed.connect(self._repaint)
        self.hand.hinted.connect(self.hinted)
        grid.moved.connect(self.close_chooser)
        document.changed.connect(self._forget)
        document.replaced.connect(self._forget)
        for bar in (grid.horizontalScrollBar(), grid.verticalScrollBar()):
            bar.valueChanged.connect(self.leave)  # what was under the pointer no longer is

    @property
    def preview(self) -> Lesson | None:
        """The lesson as it would be if the drag ended now."""
        drag = self.hand.drag
        return None if drag is None else drag.preview

    def _where(self, point: QPoint) -> QPoint:
        grid = self._grid
        return point + QPoint(grid.horizontalOffset(), grid.verticalOffset())

    def _repaint(self) -> None:
        self._grid.viewport().update()
        self._show_shape()

    def _forget(self) -> None:
        """The lesson is another; the page says anew where it is, so nothing is hinted."""
        hit, self._hovered = self._hovered, None
        if isinstance(hit, NoteHit):
            self._update(hit.rect)
        self._hide_chooser()

    # Presses

    def press(self, event: QMouseEvent) -> None:
        """A button went down: of two at a time the second abandons what the first began."""
        self.close_chooser()
        if self.hand.abandon() or event.button() is not Qt.MouseButton.LeftButton:
            return
        grid, where = self._grid, self._where(event.position().toPoint())
        cell = self.places.cell(where)
        if cell is None:
            return
        before = (grid.here, grid.anchor)
        if event.modifiers() & SHIFT:
            self._extend(cell)
            self.hand.press(where, Band(self.document, grid, before))
            return
        hit = self.places.note(where)
        if grid.selects(cell) and (hit is None or hit.zone is Zone.BODY):
            self.hand.press(
                where,
                CarrySelection(self.document, grid, cell),
                lambda: self._point(cell),
            )
            return
        self._point(cell)
        self.hand.press(where, self._drag(hit, where, cell, before), self._click(before, hit))

    def _drag(
        self,
        hit: NoteHit | None,
        where: QPoint,
        cell: Cursor,
        before: tuple[Cursor, Cursor | None],
    ) -> Drag:
        document, grid = self.document, self._grid
        if hit is not None:
            if hit.zone is Zone.END:
                return Stretch(document, grid, hit.spot)
            if hit.zone is Zone.KNOB:
                return DrawShape(document, grid, hit)
            return CarryNote(document, grid, hit.spot, cell)
        cue = self.places.cue(where)
        if cue is not None:
            return DragCue(document, grid, cue, where)
        return Band(document, grid, before)

    def _click(self, before: tuple[Cursor, Cursor | None], hit: NoteHit | None):
        """What a press without a drag does: where the cursor was already, it offers the frets."""
        here = self._grid.here
        again = before == (here, None) and not self._came_by_mouse
        handle = hit is not None and hit.zone is not Zone.BODY
        return self.offer_frets if again and not handle else None

    def _extend(self, cell: Cursor) -> None:
        if cell != self._grid.here:
            self._grid.move_to(cell, select=True)
            self._grid.pointed.emit(cell)

    def _point(self, cell: Cursor) -> None:
        self._grid.move_to(cell)
        self._grid.pointed.emit(cell)

    def move(self, event: QMouseEvent) -> None:
        """The pointer moved, with a button down or without."""
        self._last_where, self._last_held = event.position().toPoint(), event.modifiers()
        if not event.buttons():
            self._hover(self._where(self._last_where))
            return
        self.hand.move(self._where(self._last_where), event.modifiers())
        self.hand.scroll_by(self._scroll if self._outside() != QPoint() else None)

    def _outside(self) -> QPoint:
        """How far the pointer is out of the view, where the view goes along."""
        drag = self.hand.drag
        if drag is None:
            return QPoint()
        view, where = self._grid.viewport().rect(), self._last_where
        x = min(0, where.x()) + max(0, where.x() - view.right())
        y = min(0, where.y()) + max(0, where.y() - view.bottom())
        return QPoint(x, y if drag.scrolls_down else 0)

    def _scroll(self) -> None:
        """Go on in the direction in which the pointer left the view, faster the farther it is."""
        out, step = self._outside(), self._grid.metrics.step
        self.scroller.by(max(-step, min(step, out.x() // 2)), max(-step, min(step, out.y() // 2)))
        self.hand.move(self._where(self._last_where), self._last_held)

    def release(self, event: QMouseEvent) -> None:
        """A button came up."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._came_by_mouse = False
            self.hand.release()
            self._hover(self._where(event.position().toPoint()))

    # Keys and focus

    def came(self, reason: Qt.FocusReason) -> None:
        """The focus came."""
        self._came_by_mouse = reason is Qt.FocusReason.MouseFocusReason

    def gone(self) -> None:
        """The focus went: nothing half done stays."""
        self.hand.abandon()
        self.close_chooser()

    def wants(self, event: QKeyEvent) -> bool:
        """Whether a key is Escape for what the mouse is doing, and no action's."""
        busy = self.hand.is_down or self.chooser is not None
        return busy and event.key() == Qt.Key.Key_Escape

    def key(self, event: QKeyEvent) -> bool:
        """A key went down or up; whether it was for the mouse."""
        if event.type() == QEvent.Type.KeyPress and self.wants(event):
            self.close_chooser()
            self.hand.abandon()
            return True
        held = {Qt.Key.Key_Control: CTRL, Qt.Key.Key_Shift: SHIFT}.get(Qt.Key(event.key()))
        if held is None or self.hand.drag is None:
            return False
        down = event.type() == QEvent.Type.KeyPress
        now = event.modifiers() | held if down else event.modifiers() & ~held
        self.hand.hold(now, self._where(self._last_where))
        return True

    # What is under the pointer

    def _hover(self, where: QPoint) -> None:
        inside = self._grid.viewport().rect().contains(self._last_where)
        hit = (self.places.note(where) or self.places.cue(where)) if inside else None
        if hit != self._hovered:
            before, self._hovered = self._hovered, hit
            for one in (before, hit):
                if isinstance(one, NoteHit):
                    self._update(one.rect)
            self.hinted.emit(self._hover_words())
        self._show_shape()

    def leave(self) -> None:
        """The pointer left the grid."""
        if self._hovered is not None:
            if isinstance(self._hovered, NoteHit):
                self._update(self._hovered.rect)
            self._hovered = None
            self.hinted.emit("")

    def _update(self, rect: QRect) -> None:
        grid = self._grid
        rim = grid.metrics.unit
        moved = rect.translated(-grid.horizontalOffset(), -grid.verticalOffset())
        grid.viewport().update(moved.adjusted(-rim, -rim, rim, rim))

    def _hover_words(self) -> str:
        """What can be dragged here; of a note's body, which is everywhere, nothing is said."""
        hit = self._hovered
        if hit is None or (isinstance(hit, NoteHit) and hit.zone is Zone.BODY):
            return ""
        if isinstance(hit, CueHit):
            if hit.zone is Zone.BODY:
                return _("Drag: the cue moves")
            return _("Drag: the cue begins or ends there")
        if hit.zone is Zone.END:
            return _("Drag: the note becomes longer or shorter")
        return _("Drag up: a bend. Drag to another note on the string: a slide.")

    def _show_shape(self) -> None:
        drag, shape = self.hand.drag, Qt.CursorShape.ArrowCursor
        if drag is not None:
            shape = Qt.CursorShape.ForbiddenCursor if drag.refusal else drag.shape
        elif self._hovered is not None:
            shape = _SHAPES[self._hovered.zone]
        if self._grid.viewport().cursor().shape() is not shape:
            self._grid.viewport().setCursor(shape)

    def paint(self, painter: QPainter) -> None:
        """Paint the drag, or the handles of the note under the pointer."""
        if self.hand.drag is not None:
            self.hand.paint(painter)
        elif isinstance(self._hovered, NoteHit):
            self._paint_handles(painter, self._hovered)

    def _paint_handles(self, painter: QPainter, hit: NoteHit) -> None:
        m, pill = self._grid.metrics, self.places.pill(hit.rect)
        x = pill.right() - m.unit // 2
        painter.setPen(QPen(m.blue, m.px(2)))
        painter.drawLine(x, pill.top() + m.px(4), x, pill.bottom() - m.px(4))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(m.blue if hit.zone is Zone.KNOB else m.surface)
        painter.drawEllipse(self.places.knob(hit.rect).adjusted(1, 1, -1, -1))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

    # Frets, menu, wheel

    def offer_frets(self) -> None:
        """Open the frets over the cursor's cell, the likeliest under the pointer."""
        grid, lesson = self._grid, self.document.lesson
        here = grid.here
        section, part = lesson.sections[here.section], lesson.parts[here.part]
        setup = setup_in(section, part)
        spot = None
        if not moves.behind(lesson, here):
            spot = notes.sounding_at(lesson, here.spot)
        now = self._last_fret
        if spot is not None and spot.onset == here.tick:
            note = notes.note_at(lesson, spot)
            now = now if note is None else note.fret
        most = min(FRET_MAX, max(setup.fret_count - setup.capo_fret(here.course), now, 0))
        self.chooser = FretChooser(grid, grid.metrics, most, now)
        self.chooser.chosen.connect(self._choose)
        self.chooser.marked.connect(
            lambda fret: self.hinted.emit(_("Press to write fret {fret}").format(fret=fret))
        )
        view = grid.viewport()
        self.chooser.open_at(view.mapTo(grid, self._last_where), view.geometry())

    def _choose(self, fret: int) -> None:
        self.close_chooser()
        self._last_fret = fret
        self.fret_chosen.emit(fret)

    def close_chooser(self) -> None:
        """Take the frets away."""
        if self._hide_chooser():
            self.hinted.emit("")

    def _hide_chooser(self) -> bool:
        chooser, self.chooser = self.chooser, None
        if chooser is None:
            return False
        chooser.hide()
        chooser.deleteLater()
        return True

    def menu(self, event: QContextMenuEvent) -> None:
        """The menu at the pointer, for what is selected there, else for the cell there."""
        where = event.pos()
        if event.reason() is QContextMenuEvent.Reason.Mouse:
            cell = self.places.cell(self._where(where))
            if cell is not None and not self._grid.selects(cell):
                self._point(cell)
        else:
            here = self._grid.cell_rect(self._grid.here).bottomLeft()
            where = here - self._where(QPoint())
        menu = grid_menu(self._grid, self.beat_cut.emit)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self._grid.viewport().mapToGlobal(where))

    def wheel(self, event: QWheelEvent) -> None:
        """The wheel or two fingers over the grid."""
        self.close_chooser()
        self.scroller.wheel(event)
        if self.hand.drag is not None:
            self.hand.hold(event.modifiers(), self._where(self._last_where))
