"""The bars of a paste that can be written as a whole, instead of note by note.

A bar is *easy* where a clip covers it from bar line to bar line on all strings, and all that the
clip brings into it begins there, ends there, is not tied and stops no other note. What is then
written is what laying note by note comes to; hundreds of bars are pasted in a frame or two.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from msgspec.structs import replace

from chalkfret.edits.clip import ClipNote
from chalkfret.edits.place import Span, Stretch, stretches
from chalkfret.model import Lesson, Note, Notes, Sign


def easy_bars(
    lesson: Lesson, landing: Span, notes: Sequence[ClipNote]
) -> tuple[dict[int, Notes], Sequence[ClipNote]]:
    """The easy bars of a landing on one part, with all that is in them after the paste; and the
    notes that must be laid one by one.

    ``notes`` lie from the landing's start on, in order of time.
    """
    shares = list(stretches(lesson, landing))
    starts = [share.base - shares[0].base for share in shares]  # of the bars, from the first one on
    ends = [start + share.stop for start, share in zip(starts, shares, strict=True)]
    first = landing.start.tick
    inside: list[list[Note]] = [[] for _share in shares]
    easy = [share.stop - share.start == _ticks(lesson, share) for share in shares]
    last: dict[int, tuple[int, int]] = {}  # of each course: where its last note ends, and its bar
    index = 0
    for placed in notes:
        at, note = first + placed.at, placed.note
        while index + 1 < len(starts) and at >= starts[index + 1]:
            index += 1
        end = at + note.length
        before, bar = last.get(note.course, (0, 0))
        if note.marks and Sign.TIE in note.marks:
            easy[index] = easy[bar] = False
        if before > at:
            easy[index] = False
        over = index
        while over < len(ends) and end > ends[over]:
            easy[over] = False
            over += 1
            if over < len(easy):
                easy[over] = False
        last[note.course] = end, index
        tick = at - starts[index]
        inside[index].append(replace(note, onset=tick) if tick else note)
    found = {share.bar: tuple(inside[place]) for place, share in enumerate(shares) if easy[place]}
    if all(easy):
        return found, ()
    bars = [bisect_right(starts, first + placed.at) - 1 for placed in notes]
    return found, [placed for placed, bar in zip(notes, bars, strict=True) if not easy[bar]]


def _ticks(lesson: Lesson, share: Stretch) -> int:
    return lesson.sections[share.section].bars[share.bar].head.ticks


def begins_tied(lesson: Lesson, part: int) -> bool:
    """Whether any bar begins with a note of the part that is tied to one before the bar."""
    for section in lesson.sections:
        for bar in section.bars:
            for note in bar.notes[part]:
                if note.onset:
                    break
                if note.marks and Sign.TIE in note.marks:
                    return True
    return False
