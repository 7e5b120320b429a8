"""A lesson while one edit writes notes into it.

A ``Draft`` lives inside one edit function and never leaves it. It holds the changed notes of the
parts' bars; ``done`` makes the new lesson, in which all that did not change is the same object,
and the very same lesson where nothing did. Ties that lost the note they came from are taken off.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict

from msgspec.structs import replace

from chalkfret.edits import ties
from chalkfret.edits.faults import CannotEdit
from chalkfret.model import Bar, Lesson, Note, Notes, Sign, with_notes
from chalkfret.model.repeats import too_long_played


class Draft:
    """Notes of a lesson, to be read and written by section, bar and part."""

    def __init__(self, lesson: Lesson) -> None:
        self.lesson = lesson
        self._changed: dict[tuple[int, int, int], Notes] = {}

    def notes(self, section: int, bar: int, part: int) -> Notes:
        """The notes as they stand now."""
        changed = self._changed.get((section, bar, part))
        if changed is not None:
            return changed
        return self.lesson.sections[section].bars[bar].notes[part]

    def put(self, section: int, bar: int, part: int, notes: Notes) -> None:
        """Replace the notes of a part in a bar."""
        self._changed[section, bar, part] = notes

    def ticks(self, section: int, bar: int) -> int:
        """Length of a bar."""
        return self.lesson.sections[section].bars[bar].head.ticks

    def at(self, section: int, bar: int, part: int, onset: int, course: int) -> Note | None:
        """The note that starts there."""
        return ties.at(self.notes(section, bar, part), onset, course)

    def swap(self, section: int, bar: int, part: int, old: Note, new: Note | None) -> None:
        """Replace or (None) remove one note that keeps its onset and course."""
        notes = self.notes(section, bar, part)
        index = notes.index(old)
        between = () if new is None else (new,)
        self.put(section, bar, part, (*notes[:index], *between, *notes[index + 1 :]))

    # Sounds and their ties

    def held(self, section: int, bar: int, part: int, note: Note) -> bool:
        """Whether a tied note has a note that it goes on from."""
        if note.onset:
            notes = self.notes(section, bar, part)
            return ties.ends_at(notes, note.onset, note.course, note.fret)
        return any(
            ties.ends_at(self.notes(s, b, part), self.ticks(s, b), note.course, note.fret)
            for s, b in ties.bars_before(self.lesson, section, bar)
        )

    def followers(
        self, section: int, bar: int, part: int, note: Note
    ) -> list[tuple[int, int, Note]]:
        """The tied notes that go on from a note, with their section and bar."""
        end = note.end
        if end < self.ticks(section, bar):
            places = [(section, bar)]
        else:
            places, end = ties.bars_after(self.lesson, section, bar), 0
        found = []
        for s, b in places:
            follower = self.at(s, b, part, end, note.course)
            if follower and follower.has(Sign.TIE) and follower.fret == note.fret:
                found.append((s, b, follower))
        return found

    def sound(self, section: int, bar: int, part: int, note: Note) -> list[tuple[int, int, Note]]:
        """A note and all tied notes that go on from it, each once, the note itself first."""
        found = [(section, bar, note)]
        seen = {(section, bar, note.onset)}
        for s, b, piece in found:
            for place in self.followers(s, b, part, piece):
                key = (place[0], place[1], place[2].onset)
                if key not in seen:
                    seen.add(key)
                    found.append(place)
        return found

    def silence(self, section: int, bar: int, part: int, onset: int, course: int) -> None:
        """End what sounds on a course at a tick, with the tied notes that go on from it."""
        notes = self.notes(section, bar, part)
        cut = [n for n in notes if n.course == course and n.onset <= onset < n.end]
        for note in cut:
            tail = self.followers(section, bar, part, note)
            shorter = replace(note, length=onset - note.onset) if note.onset < onset else None
            self.swap(section, bar, part, note, shorter)
            self._drop(part, tail)

    def _drop(self, part: int, tail: list[tuple[int, int, Note]]) -> None:
        """Remove tied notes that nothing holds any more, and what goes on from them."""
        while tail:
            section, bar, note = tail.pop()
            there = self.at(section, bar, part, note.onset, note.course)
            if there is note and not self.held(section, bar, part, note):
                tail += self.followers(section, bar, part, note)
                self.swap(section, bar, part, note, None)

    def lay(self, section: int, bar: int, part: int, note: Note) -> None:
        """Write a note, whose length may run over the bar line, as a player would write it.

        What sounded on the string ends where it begins; it ends at the next note on the string or
        with the section; over a bar line it goes on as a tied note.
        """
        self.silence(section, bar, part, note.onset, note.course)
        pieces, onset, left = [], note.onset, note.length
        while left:
            ticks = self.ticks(section, bar)
            stop = self._next(section, bar, part, onset, note.course, ticks)
            size = min(left, stop - onset)
            if size:
                pieces.append((bar, onset, size))
                left -= size
            if stop < ticks or bar + 1 == len(self.lesson.sections[section].bars):
                break
            bar, onset = bar + 1, 0
        for index, (at, start, size) in enumerate(pieces):
            last = index == len(pieces) - 1
            if index:
                marks = ties.tied_marks(note, last=last)
            else:
                marks = note.marks if last else ties.without_end(note)
            if marks != note.marks or start != note.onset or size != note.length:
                self._insert(section, at, part, replace(note, onset=start, length=size,
                                                        marks=marks))  # fmt: skip
            else:
                self._insert(section, at, part, note)

    def _next(self, section: int, bar: int, part: int, onset: int, course: int, ticks: int) -> int:
        """The first tick from ``onset`` on at which a note starts on a course, or the bar's end."""
        return next(
            (
                n.onset
                for n in self.notes(section, bar, part)
                if n.course == course and n.onset >= onset
            ),
            ticks,
        )

    def _insert(self, section: int, bar: int, part: int, note: Note) -> None:
        notes = self.notes(section, bar, part)
        index = bisect_left(notes, (note.onset, note.course), key=lambda n: (n.onset, n.course))
        self.put(section, bar, part, (*notes[:index], note, *notes[index:]))

    # The new lesson

    def done(self) -> Lesson:
        """The lesson with what was written; the very same one where nothing changed."""
        before = self.lesson.sections
        changed = [
            (section, bar, part)
            for (section, bar, part), notes in self._changed.items()
            if before[section].bars[bar].notes[part] != notes
        ]
        if not changed:
            return self.lesson
        after: dict[tuple[int, int], list[ties.BarPlace]] = {}  # the same for all parts
        heard: dict[tuple[int, int, int], None] = {}
        for section, bar, part in changed:
            if (section, bar) not in after:
                after[section, bar] = ties.bars_after(self.lesson, section, bar)
            heard[section, bar, part] = None
            heard.update(((s, b, part), None) for s, b in after[section, bar])
        for place in heard:
            self.untie(*place)
        return self._rebuilt()

    def untie(self, section: int, bar: int, part: int) -> None:
        """Take off the ties of a part's bar that no note holds: the notes are struck anew."""
        notes = self.notes(section, bar, part)
        tied = [n for n in notes if n.marks and Sign.TIE in n.marks]
        loose = [n for n in tied if not self.held(section, bar, part, n)]
        if loose:
            self.put(section, bar, part, tuple(
                replace(n, marks=tuple(m for m in n.marks if m is not Sign.TIE))
                if n in loose else n
                for n in notes
            ))  # fmt: skip

    def _rebuilt(self) -> Lesson:
        bars: dict[int, dict[int, Bar]] = defaultdict(dict)
        for (section, index, part), notes in self._changed.items():
            bar = bars[section].get(index) or self.lesson.sections[section].bars[index]
            bars[section][index] = with_notes(bar, part, notes)
        sections = list(self.lesson.sections)
        for place, changed in bars.items():
            old = sections[place]
            run = old.bars.with_bars(changed)
            if run is not old.bars:
                sections[place] = replace(old, bars=run)
        if all(new is old for new, old in zip(sections, self.lesson.sections, strict=True)):
            return self.lesson  # all that was written was a tie that nothing holds
        return replace(self.lesson, sections=tuple(sections))


def settled(lesson: Lesson, *sections: int) -> Lesson:
    """The lesson with ties taken off that no note holds, in these sections and where they lead.

    Every edit by which bars, repeats or times come and go ends here: raises CannotEdit where the
    lesson would play beyond reason.
    """
    for broken in too_long_played(lesson):
        raise CannotEdit(broken)
    draft = Draft(lesson)
    for section in sections:
        if section >= len(lesson.sections):
            continue
        for index, bar in enumerate(lesson.sections[section].bars):
            for part, notes in enumerate(bar.notes):
                if any(note.marks and Sign.TIE in note.marks for note in notes):
                    draft.untie(section, index, part)
        for s, b in ties.heard_from(lesson, section + 1, 0):
            for part in range(len(lesson.parts)):
                draft.untie(s, b, part)
    return draft.done()


def same_where_equal(old: Lesson, new: Lesson) -> Lesson:
    """``new`` with the objects of ``old`` where several edits in a row led back to equal bars."""
    if new is old or len(new.sections) != len(old.sections):
        return new
    sections = list(new.sections)
    for index, (was, now) in enumerate(zip(old.sections, new.sections, strict=True)):
        if now is was or len(now.bars) != len(was.bars):
            continue
        back = {
            at: before
            for at, (before, bar) in enumerate(zip(was.bars, now.bars, strict=True))
            if bar is not before and bar == before
        }
        bars = now.bars.with_bars(back)
        if now.head is was.head and bars == was.bars:
            sections[index] = was
        elif bars is not now.bars:
            sections[index] = replace(now, bars=bars)
    if all(now is was for now, was in zip(sections, old.sections, strict=True)):
        return old
    return replace(new, sections=tuple(sections))
