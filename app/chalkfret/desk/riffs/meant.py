"""The notes that lengths and marks mean: just typed, selected, or under the cursor."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from msgspec.structs import replace
from PySide6.QtCore import QObject

from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.edits import notes, selection
from chalkfret.edits.place import Moment, Span, Spot
from chalkfret.model import Lesson, Note
from chalkfret.words.text import _


@dataclass(frozen=True)
class Typed:
    """The notes just typed, and where the cursor went: while it is there, they are meant."""

    spots: tuple[Spot, ...]
    cursor: Cursor
    anchor: Cursor | None = None
    goes_on: bool = True  # typing goes on right behind them, however long they become


def place_words(lesson: Lesson, section: int, bar: int) -> dict[str, str | int]:
    """Section and bar as undo texts name them."""
    return {"section": lesson.sections[section].head.letter, "bar": bar + 1}


class MeantNotes(QObject):
    """Which notes are meant, and one undo step that changes them all."""

    def __init__(self, document: Document, grid: Grid) -> None:
        super().__init__(grid)
        self._document, self._grid = document, grid
        self._typed: Typed | None = None

    def just_typed(self) -> list[Spot]:
        """The notes just typed, as far as they are there; none once the cursor was moved."""
        typed = self._typed
        if typed is None or self._grid.anchor not in (None, typed.anchor):
            return []
        return [spot for spot in typed.spots if self._note(spot) is not None]

    def meant(self) -> Spot | None:
        """The note just typed (of a chord its first), else the one under the cursor."""
        typed = self.just_typed()
        return typed[0] if typed else note_under(self._document.lesson, self._grid.here)

    def _note(self, spot: Spot) -> Note | None:
        lesson = self._document.lesson
        known = spot.section < len(lesson.sections) and spot.part < len(lesson.parts)
        if not known or spot.bar >= len(lesson.sections[spot.section].bars):
            return None
        return notes.note_at(lesson, spot)

    def meant_notes(self) -> list[Spot]:
        """The notes just typed, else all sounds selected, each once however often it is tied, else
        the note under the cursor.
        """
        grid, lesson = self._grid, self._document.lesson
        typed = self.just_typed()
        if typed:
            return typed
        if grid.anchor is not None:
            found = [
                Spot(stretch.section, stretch.bar, part, phrase[0][1].onset, phrase[0][1].course)
                for part, stretch, phrase in selection.sounds(lesson, grid.span)
            ]
            if found:
                return found
        spot = self.meant()
        return [] if spot is None else [spot]

    def selected_span(self) -> Span | None:
        """The selection where it is meant: it holds notes, and none were just typed."""
        grid, lesson = self._grid, self._document.lesson
        if grid.anchor is None or self.just_typed() or selection.is_empty(lesson, grid.span):
            return None
        return grid.span

    def meant_spans(self) -> list[Span]:
        """The selection where it is meant, else where each sound that is meant is struck."""
        selected = self.selected_span()
        if selected is not None:
            return [selected]
        struck = (notes.attack_of(self._document.lesson, spot) for spot in self.meant_notes())
        return [_span_at(spot) for spot in struck if spot is not None]

    def change_meant(
        self, text: str, edit: Callable[[Lesson, Spot], Lesson], merge: object = None
    ) -> bool:
        """Change every note that is meant by one undo step; say so where there is none."""
        spots = self.meant_notes()
        if not spots:
            return self.say_nothing_is_meant()

        def whole(lesson: Lesson) -> Lesson:
            for spot in spots:
                lesson = edit(lesson, spot)
            return lesson

        words = place_words(self._document.lesson, spots[0].section, spots[0].bar)
        key = None if merge is None else (merge, tuple(spots))
        return self._document.attempt(text.format(**words), whole, key)

    def change_span(
        self, text: str, edit: Callable[[Lesson, Span], Lesson], merge: object = None
    ) -> bool:
        """Like ``change_meant``, for an edit that takes all that is meant at a time."""
        spans = self.meant_spans()
        if not spans:
            return self.say_nothing_is_meant()

        def whole(lesson: Lesson) -> Lesson:
            for span in spans:
                lesson = edit(lesson, span)
            return lesson

        start = spans[0].start
        words = place_words(self._document.lesson, start.section, start.bar)
        key = None if merge is None else (merge, tuple(spans))
        return self._document.attempt(text.format(**words), whole, key)

    def say_nothing_is_meant(self) -> bool:
        """Say at the window's foot that there is no note to change; False."""
        self._document.refused.emit(
            _("There is no note under the cursor: type a fret first, or move onto a note.")
        )
        return False


def _span_at(spot: Spot) -> Span:
    """The span that takes what is struck at one spot."""
    start = Moment(spot.section, spot.bar, spot.onset)
    return Span(start, replace(start, tick=spot.onset + 1), (spot.part,), (spot.course,))


def note_under(lesson: Lesson, cursor: Cursor) -> Spot | None:
    """The note that sounds in the cursor's cell: held through it, or starting within its step."""
    if moves.behind(lesson, cursor):
        return None
    sounding = notes.sounding_at(lesson, cursor.spot)
    if sounding is not None:
        return sounding
    end = cursor.tick + moves.step_length(lesson, cursor)
    for note in lesson.sections[cursor.section].bars[cursor.bar].notes[cursor.part]:
        if note.course == cursor.course and cursor.tick <= note.onset < end:
            return replace(cursor.spot, onset=note.onset)
    return None
