"""Typing into the grid: frets, lengths and marks, and the note that they mean.

- A digit writes a fret and moves on by the note's length; Ctrl and a digit writes ten more. So 1
  and 2 in a row are two notes, and Ctrl+2 is fret 12, however fast.
- Shift and a digit writes on the string above, Ctrl, Shift and a digit on the string below.
- A fret is as long as the one before it (``pace``). A beat cut into steps cuts what follows into
  such steps too.
- Lengths and marks mean the note under the cursor; right after typing, all the notes just typed,
  until the cursor is moved.
- With strings selected a fret is written on all of them; with parts selected on the cursor's
  string of each.
- A gesture may wait for the next fret and take it for itself, as long as the cursor stays.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.beats import beats_between
from chalkfret.desk.riffs.columns import spans_of, step_at, step_starts
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.digits import digit_of
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.meant import MeantNotes, Typed, place_words
from chalkfret.desk.riffs.pace import Pace, beat_at, cut_for
from chalkfret.edits import bars, gestures, notes
from chalkfret.edits.place import Spot
from chalkfret.model import Lesson
from chalkfret.words.text import _

_SHIFT = Qt.KeyboardModifier.ShiftModifier
_CTRL = Qt.KeyboardModifier.ControlModifier
_KEYPAD = Qt.KeyboardModifier.KeypadModifier


@dataclass(frozen=True)
class _Awaited:
    """Who takes the next fret, while the cursor is there."""

    take: Callable[[int], None]
    cursor: Cursor


@dataclass(frozen=True)
class _Joined:
    """Notes that the next fret sounds together with, while the cursor is at their time."""

    spots: tuple[Spot, ...]
    time: tuple[int, int, int]


class Typist(MeantNotes):
    """What typing does to the document."""

    def __init__(self, document: Document, grid: Grid) -> None:
        super().__init__(document, grid)
        self._awaited: _Awaited | None = None
        self._joined: _Joined | None = None
        self.pace = Pace()
        self.steer: Callable[[str], bool] = lambda _way: False  # who takes moves for itself
        document.replaced.connect(self._begin_anew)
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
        elif held == _SHIFT:
            self.beside(-1, digit)
        elif held == _CTRL | _SHIFT:
            self.beside(1, digit)
        else:
            return
        event.accept()

    # Frets

    def fret(self, fret: int) -> None:
        """Write a fret at the cursor, on every selected string, and move on."""
        awaited, self._awaited = self._awaited, None
        if awaited is not None and awaited.cursor == self._grid.here:
            awaited.take(fret)
            return
        spots = self._chord_spots()
        text = _("Set fret {fret} in section {section}, bar {bar}")
        words = place_words(self._document.lesson, spots[0].section, spots[0].bar)
        self.write(text.format(fret=fret, **words), dict.fromkeys(spots, fret))

    def beside(self, way: int, fret: int) -> None:
        """Write a fret on the string above (-1) or below (1), and go on there."""
        if not self.steer("up" if way < 0 else "down"):
            grid, here = self._grid, self._grid.here
            course = here.course + way
            if not 1 <= course <= len(self._document.lesson.parts[here.part].setup.courses):
                self._document.refused.emit(_("This guitar has no further string that way."))
                return
            grid.move_to(replace(here, course=course))
        self.fret(fret)

    def write(
        self, text: str, frets: Mapping[Spot, int], base: Lesson | None = None, merge: object = None
    ) -> bool:
        """Write frets that sound together, with length and voice in force, and go behind them.

        ``base``: the lesson to write into where it is not the one of now. False where refused.
        """
        spots, before = tuple(frets), self._document.lesson
        done = self._document.attempt(text, lambda now: self._written(base or now, frets), merge)
        if not done and (self._document.lesson is not before or not _stand_there(before, frets)):
            return False  # refused: the cursor stays where the sentence points
        joined = self._joined.spots if self._joined is not None else ()
        self._joined = None
        self.pace.typed(spots[0], self._voice_of(spots[0]))
        self._go_behind([*(spot for spot in joined if spot not in spots), *spots])
        return True

    def _written(self, lesson: Lesson, frets: Mapping[Spot, int]) -> Lesson:
        spot = next(iter(frets))
        section, bar = spot.section, spot.bar
        after = lesson
        if bar == len(lesson.sections[section].bars):
            after = bars.insert(lesson, section, bar)
        found = after.sections[section].bars[bar]
        voice = self.pace.voice_at(after, spot)
        length, cut = self.pace.length_at(found, spot.part, spot.onset, voice)
        if notes.note_at(after, spot) is not None:
            return gestures.write_chord(after, frets, length, voice)
        if cut is not None:
            after = bars.set_steps(after, section, bar, cut, beat=beat_at(found.head, spot.onset))
        return self._landing(gestures.write_chord(after, frets, length, voice), spot)

    def _landing(self, lesson: Lesson, spot: Spot) -> Lesson:
        """Cut the beat in which a new note ends so that the cursor can stand right behind it."""
        bar, note = lesson.sections[spot.section].bars[spot.bar], notes.note_at(lesson, spot)
        if note is None or note.end >= bar.head.ticks or note.end in step_starts(bar.head):
            return lesson
        beat = beat_at(bar.head, note.end)
        count = cut_for(bar, beat, note.end - bar.head.beat_starts[beat])
        if count is None:
            return lesson
        return bars.set_steps(lesson, spot.section, spot.bar, count, beat=beat)

    def _voice_of(self, spot: Spot) -> int:
        note = self._note(spot)
        return 0 if note is None else note.voice

    def _go_behind(self, spots: list[Spot]) -> None:
        """Go on right behind notes just typed, with the strings or parts of a chord selected.

        Of two voices the one that ends first goes on.
        """
        grid, lesson, first, last = self._grid, self._document.lesson, spots[0], spots[-1]
        start = Cursor(first.section, first.bar, first.onset, first.part, first.course)
        held: dict[int, int] = {}
        for spot in spots:
            voice = self._voice_of(spot)
            held[voice] = max(held.get(voice, 0), notes.sound_length(lesson, spot))
        target = moves.after_typing(lesson, start, min(held.values()))
        cursor = replace(target, course=last.course, part=last.part)
        chord = len(spots) > 1 and grid.anchor is not None
        if chord:
            grid.move_to(target)
        # Known before the cursor moves: whoever hears of that shows the note that is meant.
        self._typed = Typed(tuple(spots), cursor, target if chord else None)
        grid.move_to(cursor, select=chord)

    def join(self) -> None:
        """Go back to where the notes just typed, or those under the cursor, begin, a string higher.

        The next fret sounds together with them.
        """
        spots = self.just_typed() or [spot for spot in (self.meant(),) if spot is not None]
        if not spots:
            self.say_nothing_is_meant()
            return
        first, above = spots[0], min(spot.course for spot in spots) - 1
        course = above or max(spot.course for spot in spots) + 1
        start = Cursor(first.section, first.bar, first.onset, first.part, course)
        self._grid.move_to(moves.kept(self._document.lesson, start))
        self._joined = _Joined(tuple(spots), self._grid.here.time)

    def wait_for_fret(self, take: Callable[[int], None]) -> None:
        """Let ``take`` have the next fret, once, if it is typed where the cursor is now."""
        self._awaited = _Awaited(take, self._grid.here)

    def twenty_more(self) -> None:
        """The next fret is meant twenty higher."""
        awaited, here = self._awaited, self._grid.here
        waits = awaited is not None and awaited.cursor == here
        take = awaited.take if awaited is not None and waits else self.fret
        self.wait_for_fret(lambda fret: take(20 + fret))

    def wait_no_longer(self) -> None:
        """Frets are written where the cursor is again."""
        self.steer("stop")
        self._awaited = self._joined = None

    def wrote(self, spots: Iterable[Spot], cursor: Cursor) -> None:
        """Other keys wrote these notes and will move the cursor there: marks mean them."""
        self._typed = Typed(tuple(spots), cursor, goes_on=False)

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
            spot = cursor.spot
            if self._joined is not None:  # they may begin off the steps
                spot = replace(spot, onset=self._joined.spots[0].onset)
            return [spot]
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

    def _forget(self, cursor: Cursor) -> None:
        """The cursor went elsewhere than typing took it: what is under it is meant again."""
        if self._typed is not None and self._typed.cursor != cursor:
            self._typed = None
        if self._awaited is not None and self._awaited.cursor != cursor:
            self._awaited = None
        if self._joined is not None and self._joined.time != cursor.time:
            self._joined = None

    def _forget_all(self) -> None:
        """The mouse was pressed, be it where the cursor is: what is under it is meant."""
        self._typed = self._awaited = self._joined = None

    def _begin_anew(self) -> None:
        self._forget_all()
        self.pace.forget()

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

    def hold_to_bar_line(self) -> None:
        """Let what is meant sound up to its bar line; the length in force stays what it is."""

        def edit(lesson: Lesson, spot: Spot) -> Lesson:
            ticks = lesson.sections[spot.section].bars[spot.bar].head.ticks
            return notes.set_length(lesson, spot, ticks - spot.onset, across=False)

        typed, goes_on = self.just_typed(), self._typed is not None and self._typed.goes_on
        self.change_meant(_("Hold a note to the end of bar {bar} of section {section}"), edit)
        if typed and goes_on:
            self._go_behind(typed)

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
        """Keep the cursor right behind the notes just typed, however long they become.

        Their length is in force for the frets that follow.
        """
        typed, goes_on = self.just_typed(), self._typed is not None and self._typed.goes_on
        yield
        for spot in typed:
            length = notes.sound_length(self._document.lesson, spot)
            self.pace.hold(length, self._voice_of(spot))
        if typed and goes_on:
            self._go_behind(typed)

    def steps(self, count: int) -> None:
        """Cut the cursor's beat, or every beat that is selected, into so many steps.

        Notes just typed in it that do not fit its new steps move onto them; the cursor stays, or
        goes on to the next of them. Behind the last bar nothing is cut: what is typed there is.
        """
        grid, lesson = self._grid, self._document.lesson
        if moves.behind(lesson, grid.here) and grid.anchor is None:
            self.pace.hold(moves.head_at(lesson, grid.here).beats[0] // count, self.pace.voice)
            return
        beats = list(beats_between(lesson, grid.anchor or grid.here, grid.here))
        section, bar, beat = beats[0]
        typed = [spot for spot in self.just_typed() if (spot.section, spot.bar) == (section, bar)]

        def edit(after: Lesson) -> Lesson:
            for one in beats:
                after = gestures.cut_beat(after, *one, count)
            return after

        text = _("Cut a beat into {count} in section {section}, bar {bar}")
        words = place_words(lesson, section, bar)
        before, here = lesson.sections[section].bars[bar].head, grid.here
        done = self._document.attempt(text.format(count=count, **words), edit)
        if done and grid.anchor is None:  # never back into what stands before the cursor
            grid.move_to(moves.after_typing(self._document.lesson, here, 0))
        head = self._document.lesson.sections[section].bars[bar].head
        start = head.beat_starts[beat]
        self.pace.hold(spans_of(head)[step_at(head, start)][1], self.pace.voice)
        moved = gestures.on_new_steps(before, head, [spot.onset for spot in typed])
        typed = [replace(spot, onset=onset) for spot, onset in zip(typed, moved, strict=True)]
        found = [self._note(spot) for spot in typed]
        if typed and all(note and (note.onset, note.length) in spans_of(head) for note in found):
            self._go_behind(typed)
        grid.show_cursor()


def _stand_there(lesson: Lesson, frets: Mapping[Spot, int]) -> bool:
    """Whether all of the cells already hold their frets."""
    for spot, fret in frets.items():
        if spot.bar >= len(lesson.sections[spot.section].bars):
            return False
        note = notes.note_at(lesson, spot)
        if note is None or note.fret != fret:
            return False
    return True
