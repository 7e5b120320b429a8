"""Which bar sounds before which, and which note goes on from which.

A tie stands on the note that is reached. It is *held* where a note of the same part, string and
fret ends exactly where it begins: in its own bar, or at the end of a bar that may be heard before
it. Repeats, endings by pass and sections played again make that more than the bar before; a tie
is held where any of them holds it.
"""

from __future__ import annotations

from typing import TypeAlias

from chalkfret.model import Bars, Lesson, Mark, Note, Notes, Sign, Slide, SlideWay, in_order

BarPlace: TypeAlias = tuple[int, int]  # section, bar

_ENDS_WITH = frozenset({SlideWay.OUT_DOWN, SlideWay.OUT_UP})


def bars_before(lesson: Lesson, section: int, bar: int) -> list[BarPlace]:
    """The bars that may be heard right before a bar, the written neighbour first."""
    found = _back(lesson, section, bar - 1)
    bars = lesson.sections[section].bars
    start = bar  # where a repeat may begin whose first bars are left out in some passes
    while True:
        found += ((section, close) for close in _closes_to(lesson, section, start, found))
        if start == 0 or not bars[start - 1].head.passes:
            break
        start -= 1
    if start == 0 and lesson.sections[section].head.times > 1:
        found += _back(lesson, section, len(bars) - 1)
    return list(dict.fromkeys(found))


def bars_after(lesson: Lesson, section: int, bar: int) -> list[BarPlace]:
    """The bars that may be heard right after a bar, the written neighbour first."""
    bars = lesson.sections[section].bars
    found = heard_from(lesson, section, bar + 1)
    if bars[bar].head.repeat_close:
        found += heard_from(lesson, section, _open_of(bars, bar))
    behind = bars.slice(bar + 1, len(bars)) if lesson.sections[section].head.times > 1 else None
    if behind is not None and all(b.head.passes for b in behind):
        found += heard_from(lesson, section, 0)
    return list(dict.fromkeys(found))


def heard_from(lesson: Lesson, section: int, bar: int) -> list[BarPlace]:
    """This bar, and those that are heard in its place when its passes leave it out.

    The bar may be the one behind the last, and the section too: what comes next counts.
    """
    found: list[BarPlace] = []
    while section < len(lesson.sections):
        if bar == len(lesson.sections[section].bars):
            section, bar = section + 1, 0
            continue
        found.append((section, bar))
        if not lesson.sections[section].bars[bar].head.passes:
            return found
        bar += 1
    return found


def _back(lesson: Lesson, section: int, bar: int) -> list[BarPlace]:
    """This bar, and those before it that are heard in its place when passes leave it out."""
    found: list[BarPlace] = []
    while True:
        if bar < 0:
            if section == 0:
                return found
            section -= 1
            bar = len(lesson.sections[section].bars) - 1
        found.append((section, bar))
        if not lesson.sections[section].bars[bar].head.passes:
            return found
        bar -= 1


def _open_of(bars: Bars, close: int) -> int:
    """The bar to which a close sign sends back: the open sign, or behind the repeat before."""
    start = 0
    only_endings = bool(bars[close].head.passes)  # between ``close`` and the sign before it
    for index in range(close, -1, -1):
        head = bars[index].head
        if index < close and head.repeat_close and not only_endings:
            return start
        if head.repeat_open:
            return index
        if not head.passes:
            start, only_endings = index, False
    return 0


def _closes_to(lesson: Lesson, section: int, start: int, before: list[BarPlace]) -> list[int]:
    """The bars whose close sign sends back to ``start``, if a repeat begins there."""
    bars = lesson.sections[section].bars
    behind_repeat = not bars[start].head.passes and any(
        s == section and bars[b].head.repeat_close for s, b in before
    )
    if not (bars[start].head.repeat_open or start == 0 or behind_repeat):
        return []
    closes: list[int] = []
    for index in range(start, len(bars)):
        head = bars[index].head
        if index > start and (head.repeat_open or (closes and not head.passes)):
            break
        if head.repeat_close:
            closes.append(index)
    return closes


def at(notes: Notes, onset: int, course: int) -> Note | None:
    """The note that starts at a tick on a course."""
    for note in notes:
        if note.onset == onset and note.course == course:
            return note
        if note.onset > onset:
            break
    return None


def ends_at(notes: Notes, end: int, course: int, fret: int) -> bool:
    """Whether a note of this fret ends at a tick on a course."""
    return any(n.course == course and n.fret == fret and n.end == end for n in notes)


def goes_on(note: Note, follower: Note) -> bool:
    """Whether a tied note only goes on from ``note``: it has nothing of its own but its end."""
    own = [m for m in follower.marks if m is not Sign.TIE and not _ends(m)]
    return follower.voice == note.voice and follower.spelling == note.spelling and not own


def _ends(mark: Mark) -> bool:
    return isinstance(mark, Slide) and mark.way in _ENDS_WITH


def without_end(note: Note) -> tuple[Mark, ...]:
    """The note's marks but those of its end (a slide out), which its last tied note carries."""
    return tuple(mark for mark in note.marks if not _ends(mark))


def tied_marks(note: Note, *, last: bool) -> tuple[Mark, ...]:
    """The marks of a note that goes on from ``note`` after a bar line."""
    ends = tuple(mark for mark in note.marks if _ends(mark)) if last else ()
    return in_order((Sign.TIE, *ends))
