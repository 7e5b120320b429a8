"""Writing a bar after the model of an earlier one: its rhythm and strings, with new frets.

- ``offer`` writes the bar before from the cursor on and asks for its frets one by one: note by
  note, or (the hand) once for all equal frets of a string. Pressed again before anything else, the
  bar before that one is offered, and so on.
- While frets are asked for, Left and Right go from note to note, Ctrl and Right to the next beat,
  Up and Down put the note on the next free string, Delete takes it out. Any other move ends it;
  the last fret leads to the next bar.
- Where the bar before was taken from one further back, the bar that followed there comes first:
  a phrase goes on as it went.
"""

from __future__ import annotations

from dataclasses import dataclass

from msgspec.structs import replace

from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.meant import place_words
from chalkfret.desk.riffs.typing import Typist
from chalkfret.edits import bars, models, notes
from chalkfret.edits.models import Group
from chalkfret.edits.place import Spot
from chalkfret.model import Lesson
from chalkfret.words.text import _


@dataclass
class _Offer:
    """What was offered: the lesson before it and with it, the models, and which one it is."""

    before: Lesson
    after: Lesson
    spot: Spot
    models: list[tuple[int, int]]
    number: int
    hand: bool


class Over:
    """Frets over a bar that is already there."""

    def __init__(self, document: Document, grid: Grid, typist: Typist) -> None:
        self._document, self._grid, self._typist = document, grid, typist
        self._groups: list[Group] = []
        self._index = 0
        self._cursor: Cursor | None = None  # while it is there, frets are asked for
        self._offer: _Offer | None = None
        self._taken: tuple[Spot, tuple[int, int]] | None = None  # the last bar and its model
        typist.steer = self._steer
        grid.moved.connect(self._leave_elsewhere)
        document.replaced.connect(self._forget)

    def offer(self, hand: bool) -> None:
        """Write the bar before here, or instead of what was offered the one before that."""
        last, lesson = self._offer, self._document.lesson
        if (
            self._is_on
            and last is not None
            and last.after is lesson
            and last.hand == hand
            and self._index == 0
        ):
            last.number = (last.number + 1) % len(last.models)
            self._write(last)
            return
        here = self._grid.here
        if moves.behind(lesson, here):
            here = replace(here, bar=here.bar + 1, tick=0)
        found = models.models(lesson, here.spot, self._next_model(here.spot))
        if not found:
            self._document.refused.emit(
                _("There is no earlier bar of this guitar with notes that is as long as this one.")
            )
            return
        self._write(_Offer(lesson, lesson, here.spot, found, 0, hand))

    def _next_model(self, spot: Spot) -> tuple[int, int] | None:
        """The bar behind the model of the bar before."""
        if self._taken is None:
            return None
        last, (section, bar) = self._taken
        follows = (last.section, last.bar + 1, last.part) == (spot.section, spot.bar, spot.part)
        return (section, bar + 1) if follows else None

    def _write(self, offer: _Offer) -> None:
        spot, model = offer.spot, offer.models[offer.number]

        def edit(_now: Lesson) -> Lesson:
            roomy = offer.before
            if spot.bar == len(roomy.sections[spot.section].bars):
                roomy = bars.insert(roomy, spot.section, spot.bar)
            return models.write_like(roomy, spot, model)

        text = _("Write bar {bar} of section {section} after an earlier one")
        words = place_words(self._document.lesson, spot.section, spot.bar)
        key = ("after a model", spot)
        self._document.attempt(text.format(**words), edit, key)
        lesson = self._document.lesson
        if spot.bar == len(lesson.sections[spot.section].bars):
            return  # there may be no more bars
        self._groups = list(models.groups(lesson, spot, hand=offer.hand))
        self._offer, self._taken = offer, (spot, model)
        offer.after = lesson
        self._go(0)
        said = _(
            "As bar {bar} of section {section}: type the frets. Right keeps one, Up and Down "
            "change its string, Return goes on; the same key again offers an earlier bar."
        )
        self._document.said.emit(said.format(**place_words(lesson, *model)))

    # While frets are asked for

    @property
    def _is_on(self) -> bool:
        there = self._cursor is not None and self._cursor == self._grid.here
        return there and models.still_there(self._document.lesson, self._groups[self._index])

    def _go(self, index: int, written: Group = ()) -> None:
        """Ask for the fret of a group; behind the last one go on to the next bar.

        ``written``: the notes that just got theirs, which marks and lengths mean now.
        """
        lesson, last = self._document.lesson, self._groups[-1][-1]
        if index < len(self._groups):
            spot = self._groups[index][0]
            place = Cursor(spot.section, spot.bar, spot.onset, spot.part, spot.course)
            self._index = index
            target = self._cursor = moves.kept(lesson, place)
        else:
            start = Cursor(last.section, last.bar, 0, last.part, last.course)
            ticks = lesson.sections[last.section].bars[last.bar].head.ticks
            target, self._cursor = moves.after_typing(lesson, start, ticks), None
        if written:
            self._typist.wrote(written, target)
        self._grid.move_to(target)
        if self._cursor is not None:
            self._typist.wait_for_fret(self._take)

    def _take(self, fret: int) -> None:
        if not self._is_on:
            self._leave()
            self._typist.fret(fret)
            return
        group, lesson = self._groups[self._index], self._document.lesson
        words = place_words(lesson, group[0].section, group[0].bar)
        text = _("Set fret {fret} in section {section}, bar {bar}").format(fret=fret, **words)
        self._document.attempt(text, lambda one: models.refret(one, group, fret))
        written = [notes.note_at(self._document.lesson, spot) for spot in group]
        if all(note is not None and note.fret == fret for note in written):  # not refused
            self._go(self._index + 1, group)
        else:
            self._typist.wait_for_fret(self._take)

    def _steer(self, way: str) -> bool:
        """Take a move for a step from note to note, or for another string."""
        if not self._is_on:
            return False
        if way == "right":
            self._go(self._index + 1)
        elif way == "bar_on":
            self._go(self._next_beat())
        elif way in ("left", "back"):
            self._go(max(0, self._index - 1))
        elif way in ("up", "down"):
            self._other_string(-1 if way == "up" else 1)
        elif way == "clear":
            self._clear()
        elif way == "stop":
            self._leave()
        else:
            return False
        return True

    def _next_beat(self) -> int:
        """The first group that begins in a later beat."""
        now = self._groups[self._index][0]
        starts = self._document.lesson.sections[now.section].bars[now.bar].head.beat_starts
        later = next((start for start in starts if start > now.onset), None)
        for index in range(self._index + 1, len(self._groups)):
            if later is not None and self._groups[index][0].onset >= later:
                return index
        return len(self._groups)

    def _other_string(self, way: int) -> None:
        group = moved = self._groups[self._index]

        def edit(lesson: Lesson) -> Lesson:
            nonlocal moved
            after, moved = models.to_string(lesson, group, way)
            return after

        words = place_words(self._document.lesson, group[0].section, group[0].bar)
        text = _("Move a note to another string in section {section}, bar {bar}").format(**words)
        if self._document.attempt(text, edit):
            self._groups[self._index] = moved
            self._go(self._index)

    def _clear(self) -> None:
        group = self._groups[self._index]

        def edit(lesson: Lesson) -> Lesson:
            for spot in group:
                lesson = notes.clear(lesson, spot)
            return lesson

        words = place_words(self._document.lesson, group[0].section, group[0].bar)
        text = _("Clear a note in section {section}, bar {bar}").format(**words)
        if self._document.attempt(text, edit):
            index = self._index
            self._go(index + 1)
            del self._groups[index]
            self._index = min(index, len(self._groups) - 1)

    def _leave_elsewhere(self, cursor: Cursor) -> None:
        if self._cursor is not None and cursor != self._cursor:
            self._leave()

    def _leave(self) -> None:
        self._cursor = None

    def _forget(self) -> None:
        self._leave()
        self._offer = self._taken = None
        self._groups = []
