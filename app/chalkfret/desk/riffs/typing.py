"""Typing into the grid: frets, lengths and marks, and the note that they mean.

- A digit writes a fret and moves on by the note's length; Ctrl and a digit writes ten more, Ctrl
  and Shift twenty more. So 1 and 2 in a row are two notes, and Ctrl+2 is fret 12, however fast.
- Shift and a digit cuts the beat into so many steps.
- Lengths and marks mean the note under the cursor; right after typing, all the notes just typed,
  until the cursor is moved.
- With strings selected a fret is written on all of them; with parts selected on the cursor's
  string of each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction

from msgspec.structs import replace
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QKeyEvent

from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.columns import spans_of, step_at
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.digits import digit_of
from chalkfret.desk.riffs.grid import Grid
from chalkfret.edits import bars, gestures, notes, selection
from chalkfret.edits.place import Moment, Span, Spot
from chalkfret.model import Lesson, Note
from chalkfret.words.text import _

_SHIFT = Qt.KeyboardModifier.ShiftModifier
_CTRL = Qt.KeyboardModifier.ControlModifier
_KEYPAD = Qt.KeyboardModifier.KeypadModifier


@dataclass(frozen=True)
class _Typed:
    """The notes just typed, and where the cursor went: while it is there, they are meant."""

    spots: tuple[Spot, ...]
    cursor: Cursor
    anchor: Cursor | None


def place_words(lesson: Lesson, section: int, bar: int) -> dict[str, str | int]:
    """Section and bar as undo texts name them."""
    return {"section": lesson.sections[section].head.letter, "bar": bar + 1}


class Typist(QObject):
    """What typing does to the document."""

    def __init__(self, document: Document, grid: Grid) -> None:
        super().__init__(grid)
        self._document, self._grid = document, grid
        self._typed: _Typed | None = None
        grid.typed.connect(self.take)
        grid.moved.connect(self._forget)
        grid.pointed.connect(self._forget_all)

    def take(self, event: QKeyEvent) -> None:
        """A key that no action has: digits, with what is held beside them."""
        digit = digit_of(event)
        if digit is None:
            return
        held = event.modifiers() & ~_KEYPAD
        if held == Qt.KeyboardModifier.NoModifier:
            self.fret(digit)
        elif held == _CTRL:
            self.fret(10 + digit)
        elif held == _CTRL | _SHIFT:
            self.fret(20 + digit)
        elif held == _SHIFT and digit:
            self.steps(digit)
        else:
            return
        event.accept()

    # Frets

    def fret(self, fret: int) -> None:
        """Write a fret at the cursor, on every selected string, and move on."""
        lesson, spots = self._document.lesson, self._chord_spots()
        spot = spots[0]
        section = lesson.sections[spot.section]
        new_bar = spot.bar == len(section.bars)
        length = self._length_at(lesson, spot)

        def edit(before: Lesson) -> Lesson:
            after = bars.insert(before, spot.section, spot.bar) if new_bar else before
            return gestures.write_into(after, tuple(spots), fret, length)

        text = _("Set fret {fret} in section {section}, bar {bar}")
        words = place_words(lesson, spot.section, spot.bar)
        before = self._document.lesson
        if not self._document.attempt(text.format(fret=fret, **words), edit):
            if self._document.lesson is not before:
                return
            if notes_differ(before, spots, fret):
                return  # refused: the cursor stays where the sentence points
        self._go_behind(spots)

    def _go_behind(self, spots: list[Spot]) -> None:
        """Go on right behind notes just typed, with the strings or parts of a chord selected."""
        grid, lesson, first, last = self._grid, self._document.lesson, spots[0], spots[-1]
        start = Cursor(first.section, first.bar, first.onset, first.part, first.course)
        held = max(notes.sound_length(lesson, spot) for spot in spots)
        target = moves.after_typing(lesson, start, held)
        cursor = replace(target, course=last.course, part=last.part)
        chord = len(spots) > 1 and grid.anchor is not None
        if chord:
            grid.move_to(target)
        # Known before the cursor moves: whoever hears of that shows the note that is meant.
        self._typed = _Typed(tuple(spots), cursor, target if chord else None)
        grid.move_to(cursor, select=chord)

    def _chord_spots(self) -> list[Spot]:
        """The cells that a fret is written in: the cursor's, the strings selected there, or the
        cursor's string in every part that is selected.
        """
        grid, lesson = self._grid, self._document.lesson
        cursor = grid.here
        if moves.behind(lesson, cursor):
            cursor = replace(cursor, bar=cursor.bar + 1, tick=0)
        anchor = grid.anchor
        if anchor is None or (anchor.part, anchor.course) == (cursor.part, cursor.course):
            return [cursor.spot]
        first = min(anchor, grid.here, key=lambda one: one.time)
        if moves.behind(lesson, first):
            first = cursor
        if anchor.part != cursor.part:
            low, high = sorted((anchor.part, cursor.part))
            string = replace(first, course=cursor.course)
            return [
                moves.kept(lesson, replace(string, part=part)).spot for part in range(low, high + 1)
            ]
        low, high = sorted((anchor.course, grid.here.course))
        return [replace(first, course=course).spot for course in range(low, high + 1)]

    @staticmethod
    def _length_at(lesson: Lesson, spot: Spot) -> int:
        run = lesson.sections[spot.section].bars
        head = run[min(spot.bar, len(run) - 1)].head
        return spans_of(head)[step_at(head, spot.onset)][1]

    # The note that is meant

    def _forget(self, cursor: Cursor) -> None:
        """The cursor went elsewhere than typing took it: what is under it is meant again."""
        if self._typed is not None and self._typed.cursor != cursor:
            self._typed = None

    def _forget_all(self) -> None:
        """The mouse was pressed, be it where the cursor is: what is under it is meant."""
        self._typed = None

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
        self._document.said.emit(
            _("There is no note under the cursor: type a fret first, or move onto a note.")
        )
        return False

    # Lengths and steps

    def stretch(self, steps: int) -> None:
        """Make what is meant so many steps longer (shorter below 0); typing goes on behind it."""

        def edit(lesson: Lesson, spot: Spot) -> Lesson:
            return notes.stretch(lesson, spot, steps)

        text = _("Lengthen a note in section {section}, bar {bar}")
        if steps < 0:
            text = _("Shorten a note in section {section}, bar {bar}")
        with self._going_on():
            self.change_meant(text, edit, merge="length")

    def scale(self, factor: Fraction) -> None:
        """Make what is meant so many times as long; typing goes on behind it."""
        text = _("Double the length of notes in section {section}, bar {bar}")
        if factor < 1:
            text = _("Halve the length of notes in section {section}, bar {bar}")
        with self._going_on():
            self.change_span(
                text, lambda lesson, span: gestures.scale_lengths(lesson, span, factor)
            )

    @property
    def behind_typed(self) -> Cursor | None:
        """The place right behind the notes just typed, while they are meant."""
        return self._grid.here if self.just_typed() else None

    def go_back_to(self, spots: list[Spot]) -> None:
        """Go where notes were just typed, with the strings or parts of a chord selected."""
        first, *others = (
            Cursor(spot.section, spot.bar, spot.onset, spot.part, spot.course) for spot in spots
        )
        grid = self._grid
        grid.move_to(moves.kept(self._document.lesson, first))
        if others:
            grid.move_to(moves.kept(self._document.lesson, others[-1]), select=True)

    @contextmanager
    def _going_on(self) -> Iterator[None]:
        """Keep the cursor right behind the notes just typed, however long they become."""
        typed = self.just_typed()
        yield
        if typed:
            self._go_behind(typed)

    def steps(self, count: int) -> None:
        """Cut the cursor's beat, or every beat that is selected, into so many steps."""
        grid, lesson = self._grid, self._document.lesson
        beats = list(self._beats())

        def edit(after: Lesson) -> Lesson:
            for section, bar, beat in beats:
                after = bars.set_steps(after, section, bar, count, beat=beat)
            return after

        section, bar, _beat = beats[0]
        text = _("Cut a beat into {count} in section {section}, bar {bar}")
        words = place_words(lesson, section, bar)
        self._document.attempt(text.format(count=count, **words), edit)
        grid.show_cursor()

    def _beats(self) -> Iterator[tuple[int, int, int]]:
        """Section, bar and beat of all beats in the selection."""
        grid, lesson = self._grid, self._document.lesson
        first, last = sorted((grid.anchor or grid.here, grid.here), key=lambda one: one.time)
        for section in range(first.section, last.section + 1):
            run = lesson.sections[section].bars
            for bar in range(len(run)):
                starts = run[bar].head.beat_starts
                for beat, start in enumerate(starts):
                    end = starts[beat + 1] if beat + 1 < len(starts) else run[bar].head.ticks
                    behind = beat + 1 == len(starts) and last.tick >= end
                    ends = (section, bar, end) > first.time or behind
                    if ends and (section, bar, start) <= last.time:
                        yield section, bar, beat


def notes_differ(lesson: Lesson, spots: list[Spot], fret: int) -> bool:
    """Whether any of the cells does not already hold this fret."""
    for spot in spots:
        if spot.bar >= len(lesson.sections[spot.section].bars):
            return True
        note = notes.note_at(lesson, spot)
        if note is None or note.fret != fret:
            return True
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
