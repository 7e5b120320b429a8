"""Drags of notes: carried along and across the strings, alone or as selected; drawn out by the end.

Along a string is time, from step to step. On another string a note keeps its pitch, with Ctrl its
fret; on a string where the pitch does not lie, it is refused.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QPainter

from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.mouse.drag import CTRL, Drag, Held
from chalkfret.desk.riffs.mouse.marking import outline, trace
from chalkfret.desk.riffs.mouse.places import Places
from chalkfret.desk.riffs.mouse.wording import is_end, moment_of, where_words
from chalkfret.edits import notes, selection
from chalkfret.edits.place import Moment, Ruler, Span, Spot
from chalkfret.model import Lesson, Note
from chalkfret.words.text import _

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.desk.riffs.grid import Grid


class CarryNote(Drag):
    """One note, with its ties, to another cell: also of another part or section."""

    def __init__(self, document: Document, grid: Grid, spot: Spot, press: Cursor) -> None:
        super().__init__(document)
        self._grid, self._places, self._press = grid, Places(grid), press
        struck = notes.attack_of(document.lesson, spot)
        self.spot = spot if struck is None else struck
        begun = moment_of(self.spot)
        held = Moment(press.section, press.bar, press.tick)
        self._before = self._places.ticks_at(held) - self._places.ticks_at(begun)
        self._from = self._places.sound(self.lesson, self.spot)
        self.target = self.spot

    def move(self, where: QPoint, held: Held) -> None:
        cell = self._places.cell(where, behind=False)
        if cell is None:
            return
        ruler = Ruler(self.lesson.sections[cell.section].bars, 0)
        at = max(0, ruler.tick_of(cell.bar) + cell.tick - self._before)
        bar, onset = ruler.place(at) or (cell.bar, cell.tick)
        keep_pitch = not held & CTRL
        to = Spot(cell.section, bar, cell.part, onset, cell.course)
        self.target = to
        if to == self.spot:
            self.preview, self.words, self.refusal = None, _("Let go: nothing moves."), ""
            return
        words = where_words(self.lesson, moment_of(to))
        text, hint = _("Move a note to section {section}, bar {bar}"), self._hint(keep_pitch)
        lost = self._lost()
        if lost is not None:
            text = _("Move a note to section {section}, bar {bar}, in place of fret {fret}")
            hint = self._hint_in_place(keep_pitch)
            words["fret"] = lost.fret
        self.propose(
            text.format(**words),
            hint.format(string=to.course, **words),
            lambda lesson: notes.move(lesson, self.spot, to, keep_pitch=keep_pitch),
        )

    def _lost(self) -> Note | None:
        """The note that starts in the target's cell and would go."""
        found = notes.note_at(self.lesson, self.target)
        is_own = found is not None and notes.attack_of(self.lesson, self.target) == self.spot
        return None if is_own else found

    @property
    def _stays_on_string(self) -> bool:
        return (self.target.course, self.target.part) == (self.spot.course, self.spot.part)

    def _hint_in_place(self, keep_pitch: bool) -> str:
        if self._stays_on_string:
            return _("To section {section}, bar {bar}, beat {beat}, in place of fret {fret}")
        if keep_pitch:
            return _(
                "To section {section}, bar {bar}, beat {beat}, string {string}, same pitch, in "
                "place of fret {fret}; Ctrl: same fret"
            )
        return _(
            "To section {section}, bar {bar}, beat {beat}, string {string}, same fret, in place of "
            "fret {fret}"
        )

    def _hint(self, keep_pitch: bool) -> str:
        if self._stays_on_string:
            return _("To section {section}, bar {bar}, beat {beat}")
        if keep_pitch:
            return _(
                "To section {section}, bar {bar}, beat {beat}, string {string}, same pitch; "
                "Ctrl: same fret"
            )
        return _("To section {section}, bar {bar}, beat {beat}, string {string}, same fret")

    def end(self) -> bool:
        done = super().end()
        if done:
            to = self.target
            self._grid.move_to(Cursor(to.section, to.bar, to.onset, to.part, to.course))
        return done

    def paint(self, painter: QPainter) -> None:
        m = self._grid.metrics
        for rect in self._from:
            trace(painter, m, self._places.pill(rect))
        if self.preview is not None:
            for rect in self._places.sound(self.preview, self.target):
                outline(painter, m, self._places.pill(rect))
        elif self.refusal:
            to = self.target
            cell = self._grid.cell_rect(Cursor(to.section, to.bar, to.onset, to.part, to.course))
            outline(painter, m, self._places.pill(cell), refused=True)


class CarrySelection(Drag):
    """All that is selected, within its section; across strings only the notes of one part."""

    def __init__(self, document: Document, grid: Grid, press: Cursor) -> None:
        super().__init__(document)
        self._grid, self._places, self._press = grid, Places(grid), press
        self._anchor, self._here = grid.anchor or grid.here, grid.here
        self._span = grid.span
        self._by = (0, 0)  # columns and courses
        self._from = self._sounds(self.lesson, self._span)

    def _sounds(self, lesson: Lesson, span: Span) -> list[QRect]:
        found = []
        for part, stretch, phrase in selection.sounds(lesson, span):
            note = phrase[0][1]
            spot = Spot(stretch.section, stretch.bar, part, note.onset, note.course)
            found += self._places.sound(lesson, spot)
        return found

    def move(self, where: QPoint, held: Held) -> None:
        cell = self._places.cell(where, behind=False)
        if cell is None:
            return
        self._by = (0, 0)
        if cell.section != self._press.section:
            self.refuse(_("A selection is moved within its section: cut and paste it further."))
            return
        if cell.part != self._press.part:
            self.refuse(_("A selection stays in its guitar: cut and paste it into another one."))
            return
        courses = cell.course - self._press.course
        if courses and len(self._span.parts) > 1:
            self.refuse(_("Notes of several guitars are moved in time only, not across strings."))
            return
        columns = self._grid.grid_model.columns
        along = int(
            columns.column(cell.section, cell.bar, cell.tick)
            - columns.column(self._press.section, self._press.bar, self._press.tick)
        )
        ticks = self._places.ticks_at(Moment(*cell.time)) - self._places.ticks_at(
            Moment(*self._press.time)
        )
        self._by = (along, courses)
        if not along and not courses:
            self.preview, self.words, self.refusal = None, _("Let go: nothing moves."), ""
            return
        self._offer(ticks, courses, keep_pitch=not held & CTRL)

    def _offer(self, ticks: int, courses: int, keep_pitch: bool) -> None:
        lesson, span = self.lesson, self._span
        hint = _("Move the selected notes in time")
        if courses and keep_pitch:
            hint = _("Move the selected notes to other strings, same pitch; Ctrl: same frets")
        elif courses:
            hint = _("Move the selected notes to other strings, same frets")
        text = _("Move notes in section {section}, bar {bar}")
        self.propose(
            text.format(**where_words(lesson, span.start)),
            hint,
            lambda one: selection.shift(
                one, span, courses=courses, ticks=ticks, keep_pitch=keep_pitch and courses != 0
            ),
        )

    def end(self) -> bool:
        done = super().end()
        if done:
            self._grid.move_to(self._moved(self._anchor))
            self._grid.move_to(self._moved(self._here), select=True)
        return done

    def _moved(self, cursor: Cursor) -> Cursor:
        columns = self._grid.grid_model.columns
        along, courses = self._by
        column = int(columns.column(*cursor.time)) + along
        section, bar, tick = columns.place(column)
        return replace(cursor, section=section, bar=bar, tick=tick, course=cursor.course + courses)

    def paint(self, painter: QPainter) -> None:
        m = self._grid.metrics
        along, courses = self._by
        across = along * m.step
        for rect in self._from:
            trace(painter, m, self._places.pill(rect))
            if self._by != (0, 0):
                moved = self._places.pill(rect.translated(across, courses * m.string))
                outline(painter, m, moved, refused=bool(self.refusal))


class Stretch(Drag):
    """The end of a note, to a line between steps; the note never vanishes."""

    reach = 3  # pixels: it is a handle
    shape = Qt.CursorShape.SizeHorCursor
    scrolls_down = False

    def __init__(self, document: Document, grid: Grid, spot: Spot) -> None:
        super().__init__(document)
        self._grid, self._places = grid, Places(grid)
        struck = notes.attack_of(document.lesson, spot)
        self.spot = spot if struck is None else struck
        self._begun = self._places.ticks_at(moment_of(self.spot))

    def move(self, where: QPoint, held: Held) -> None:
        spot = self.spot
        line = self._places.line(where.x())
        bars = self.lesson.sections[spot.section].bars
        if line.section > spot.section:
            last = len(bars) - 1
            line = Moment(spot.section, last, bars[last].head.ticks)
        elif line.section < spot.section:
            line = Moment(spot.section, 0, 0)
        length = self._places.ticks_at(line) - self._begun
        if length <= 0:
            line, length = self._shortest()
        if length == notes.sound_length(self.lesson, spot):
            self.preview, self.words, self.refusal = None, _("As long as it was"), ""
            return
        until = _("Until section {section}, bar {bar}, beat {beat}")
        if is_end(self.lesson, line):
            until = _("Until the end of section {section}")
        text = _("Change the length of a note in section {section}, bar {bar}")
        self.propose(
            text.format(**where_words(self.lesson, moment_of(spot))),
            until.format(**where_words(self.lesson, line)),
            lambda lesson: notes.set_length(lesson, spot, length),
        )

    def _shortest(self) -> tuple[Moment, int]:
        """To the first line between steps behind where the note begins."""
        spot = self.spot
        head = self.lesson.sections[spot.section].bars[spot.bar].head
        end = next(
            (start + length for start, length in head.step_spans if start + length > spot.onset),
            head.ticks,
        )
        return Moment(spot.section, spot.bar, end), end - spot.onset

    def paint(self, painter: QPainter) -> None:
        m = self._grid.metrics
        for rect in self._places.sound(self.preview or self.lesson, self.spot):
            outline(painter, m, self._places.pill(rect))
