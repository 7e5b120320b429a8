"""What is legal in a bar of one part but surely not meant: overlaps, ties and slurs from nowhere.

A mark that joins two notes is judged against each bar that can sound right before; it is remarked
on only where none of them makes sense of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from chalkfret.model.bars import Bar, Note, Notes
from chalkfret.model.faults import Fault, Where, fault
from chalkfret.model.marks import NaturalHarmonic, Sign, Slide, SlideWay, Trill
from chalkfret.model.setup import Setup

_SLIDE = Slide(SlideWay.FROM_NOTE)


@lru_cache(maxsize=1024)  # a long section: of the others, what was found is kept
def bar_remarks(bar: Bar, index: int, setup: Setup, before: tuple[Bar, ...]) -> tuple[Fault, ...]:
    """The remarks on the notes of part ``index`` in a bar; their places name the string only.

    ``before`` are the bars that can sound right before this one.
    """
    return tuple(_remarks(bar, index, setup, before))


def _remarks(bar: Bar, index: int, setup: Setup, before: tuple[Bar, ...]) -> Iterator[Fault]:
    last: dict[int, Note] = {}
    for note in bar.notes[index]:
        where = Where(course=note.course)
        yield from _on_neck(note, setup, where)
        previous = last.get(note.course)
        if previous is not None:
            if previous.end > note.onset:
                yield fault("notes_overlap", where)
            yield from _joined(note, previous, previous.end >= note.onset, where)
        else:
            yield from _joined_over_bar_line(note, index, before, where)
        last[note.course] = note


def _joined_over_bar_line(
    note: Note, index: int, before: tuple[Bar, ...], where: Where
) -> Iterator[Fault]:
    if not note.marks:
        return
    verdicts = []
    for bar in before:
        previous = _last_on(bar.notes[index], note.course)
        touching = previous is not None and previous.end == bar.head.ticks and note.onset == 0
        verdicts.append(tuple(_joined(note, previous, touching, where)))
    if not verdicts:
        verdicts.append(tuple(_joined(note, None, False, where)))
    yield from min(verdicts, key=len)


def _last_on(notes: Notes, course: int) -> Note | None:
    return next((note for note in reversed(notes) if note.course == course), None)


def _joined(note: Note, before: Note | None, touching: bool, where: Where) -> Iterator[Fault]:
    """A note's joining marks against the note before it on its string, if there is one."""
    if not note.marks:
        return
    if note.has(Sign.TIE):
        if before is None or not touching:
            yield fault("tie_from_nothing", where)
        elif before.fret != note.fret:
            yield fault("tie_other_fret", where, before=before.fret, fret=note.fret)
    for mark, from_nothing, wrong_way, right in (
        (Sign.HAMMER_ON, "hammer_from_nothing", "hammer_downward", 1),
        (Sign.PULL_OFF, "pull_from_nothing", "pull_upward", -1),
        (_SLIDE, "slide_from_nothing", "slide_nowhere", 0),
    ):
        if mark not in note.marks:
            continue
        if before is None:
            yield fault(from_nothing, where)
        elif before.mark(NaturalHarmonic) is None and before.mark(Trill) is None:
            way = (note.fret > before.fret) - (note.fret < before.fret)
            if way == 0 or way == -right:
                yield fault(wrong_way, where, before=before.fret, fret=note.fret)


def _on_neck(note: Note, setup: Setup, where: Where) -> Iterator[Fault]:
    if note.marks and note.mark(NaturalHarmonic) is not None:
        return  # it lies over the open string, wherever the fret is
    capo = setup.capo_fret(note.course)
    trill = note.mark(Trill) if note.marks else None
    highest = max(note.fret, trill.fret) if trill is not None else note.fret
    if capo + highest > setup.fret_count:
        if capo:
            yield fault("fret_beyond_neck_capo", where, fret=highest, capo=capo,
                        frets=setup.fret_count)  # fmt: skip
        else:
            yield fault("fret_beyond_neck", where, fret=highest, frets=setup.fret_count)
    first = max(string.first_fret for string in setup.course(note.course).strings)
    if note.fret and capo + note.fret <= first:
        yield fault("fret_on_short_string", where, fret=note.fret, first=first)
    if trill is not None and trill.fret == note.fret:
        yield fault("trill_nowhere", where, fret=note.fret)
