"""Actions that write once more what is there: the beat, the bar, the selection; fill the bar.

Right behind what was just typed, or just written again, the beat (or bar) before the cursor is
meant, so that a pattern is typed once and goes on by one key; elsewhere it is the cursor's own.
What was written again is meant by the next marks, lengths and shifts, as if it had been typed.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.meant import place_words
from chalkfret.desk.riffs.typing import Typist
from chalkfret.edits import gestures, selection
from chalkfret.edits.place import Moment, Span, Spot
from chalkfret.model import Lesson
from chalkfret.words.text import N_, _


class AgainActions:
    """Writing again, at the cursor or over the selection."""

    def __init__(self, document: Document, grid: Grid, typist: Typist) -> None:
        self._document, self._grid, self._typist = document, grid, typist
        self._went_to: Cursor | None = None  # behind what was written again last

    def all(self) -> list[Action]:
        """The actions, in the order of their menu."""
        edit = N_("&Edit")
        return [
            Action("again", _("&Write the beat or selection again"), ("E",), edit, self._again,
                   separated=True),
            Action("again_bar", _("Write the &bar again, into the next"), ("Shift+E",), edit,
                   self._bar_again),
            Action("fill", _("&Fill the bar with the beat or selection"), ("I",), edit,
                   self._fill),
        ]  # fmt: skip

    def _source(self) -> Cursor:
        """The cell whose beat or bar is meant."""
        lesson, here = self._document.lesson, self._grid.here
        follows = here in (self._went_to, self._typist.behind_typed)
        if not (follows or moves.behind(lesson, here)):
            return here
        before = moves.step_back(lesson, here)
        return before if before.section == here.section else here

    def _span(self) -> Span:
        """The selection, where it is not just the strings of a chord typed; else the beat meant."""
        if self._selects:
            return self._grid.span
        at = self._source()
        return gestures.beat_span(self._document.lesson, at.section, at.bar, at.tick, (at.part,))

    @property
    def _selects(self) -> bool:
        return self._grid.anchor is not None and not self._typist.just_typed()

    def _attempt(self, text: str, span: Span, edit: Callable[[Lesson], Lesson]) -> bool:
        lesson = self._document.lesson
        if selection.is_empty(lesson, span):
            self._document.refused.emit(_("There are no notes here to write again."))
            return False
        words = place_words(lesson, span.start.section, span.start.bar)
        return self._document.attempt(text.format(**words), edit)

    def _again(self) -> None:
        grid, selects, span = self._grid, self._selects, self._span()
        text = _("Write a beat again in section {section}, bar {bar}")
        if selects:
            text = _("Write a selection again in section {section}, bar {bar}")
        ticks = selection.span_ticks(self._document.lesson, span)
        if not self._attempt(text, span, lambda one: gestures.repeat_span(one, span)):
            return
        after = self._document.lesson
        if not selects or grid.anchor is None:
            self._go_behind(span, 2 * ticks)
            return
        first, last = sorted((grid.anchor, grid.here), key=lambda one: one.time)
        grid.move_to(moves.after_typing(after, first, ticks))
        grid.move_to(moves.after_typing(after, last, ticks), select=True)

    def _bar_again(self) -> None:
        grid, lesson = self._grid, self._document.lesson
        if self._selects and grid.anchor is not None:
            first, last = sorted((grid.anchor, grid.here), key=lambda one: one.time)
            section, bar, parts = last.section, last.bar, grid.span.parts
            count = bar - first.bar + 1 if first.section == section else bar + 1
        else:
            at = self._source()
            section, bar, parts, count = at.section, at.bar, (at.part,), 1
        span = selection.bars_span(lesson, section, bar - count + 1, count, parts)
        text = _("Write a bar again in section {section}, bar {bar}")
        if self._attempt(
            text, span, lambda one: gestures.repeat_bar(one, section, bar, parts, count)
        ):
            self._go_behind(span, 2 * selection.span_ticks(lesson, span))

    def _fill(self) -> None:
        lesson, span = self._document.lesson, self._span()
        end = span.end
        if end.tick in (0, lesson.sections[end.section].bars[end.bar].head.ticks):
            self._document.refused.emit(_("Nothing is left of the bar to fill."))
            return
        text = _("Fill the bar in section {section}, bar {bar}")
        if self._attempt(text, span, lambda one: gestures.fill(one, span)):
            left = lesson.sections[end.section].bars[end.bar].head.ticks - end.tick
            self._go_behind(span, selection.span_ticks(lesson, span) + left)

    def _go_behind(self, span: Span, ticks: int) -> None:
        """Go so many ticks on from where a span starts, and remember it and what was written."""
        start, lesson = span.start, self._document.lesson
        cursor = replace(self._grid.here, section=start.section, bar=start.bar, tick=start.tick)
        target = moves.after_typing(lesson, cursor, ticks)
        end = moves.head_at(lesson, target).ticks if moves.behind(lesson, target) else target.tick
        copy = replace(span, start=span.end, end=Moment(target.section, target.bar, end))
        struck = selection.sounds(lesson, copy) if copy.start < copy.end else ()
        self._typist.wrote([
            Spot(stretch.section, stretch.bar, part, phrase[0][1].onset, phrase[0][1].course)
            for part, stretch, phrase in struck
        ], target)  # fmt: skip
        self._grid.move_to(target)
        self._went_to = self._grid.here
