"""Repeats and endings: signs that frame bars, and bars that sound in some passes only.

Conventions
-----------
- Repeats are the repeated spans of ``model.repeats``, which is how timeline.unroll plays them.
- An ending is a bar with ``passes``, those of its repeat, whichever time the section is played;
  the later endings stand right behind the close sign. Outside a repeat they are the section's.
- Repeats do not nest or overlap.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.edits.draft import settled
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import check_bars
from chalkfret.edits.replacing import with_section
from chalkfret.edits.values import obey_bar
from chalkfret.model import Bar, BarHead, Bars, Lesson, Where, limits
from chalkfret.model.repeats import repeated_spans


class Repeat(Struct, frozen=True):
    """A repeat in a section: its bars from ``first`` to ``last``, and how often it sounds.

    ``end`` is the last bar of the endings that stand behind the close sign, or ``last``.
    """

    first: int
    last: int
    times: int
    end: int


def repeats_of(bars: Bars) -> tuple[Repeat, ...]:
    """The repeats of a section in order."""
    heads = [bar.head for bar in bars]
    found = []
    for start, stop, times in repeated_spans(heads):
        last = next(index for index in range(start, stop) if heads[index].repeat_close)
        found.append(Repeat(start, last, times, stop - 1))
    return tuple(found)


def repeat_around(bars: Bars, bar: int) -> Repeat | None:
    """The repeat that a bar stands in, its endings included."""
    for repeat in repeats_of(bars):
        if repeat.first <= bar <= repeat.end:
            return repeat
    return None


def set_repeat(lesson: Lesson, section: int, start: int, count: int, times: int = 2) -> Lesson:
    """Repeat these bars, ``times`` in all; 1 takes the repeat of just these bars away.

    Refused where they overlap another repeat; one that stands in the same bars gets the new times.
    """
    check_bars(lesson, section, start, count)
    found = lesson.sections[section]
    last = start + count - 1
    same = None
    for repeat in repeats_of(found.bars):
        if (repeat.first, repeat.last) == (start, last):
            same = repeat
        elif repeat.first <= last and start <= repeat.end:
            raise refuse("repeats_cross", Where(found.head.letter, start + 1),
                         first=repeat.first + 1, last=repeat.end + 1)  # fmt: skip
    if times == 1:
        return clear_repeat(lesson, section, start) if same else lesson
    heads = {index: found.bars[index].head for index in {start, last}}
    heads[start] = replace(heads[start], repeat_open=True)
    heads[last] = replace(heads[last], repeat_close=times)
    return _with_heads(lesson, section, heads)


def clear_repeat(lesson: Lesson, section: int, bar: int) -> Lesson:
    """Take away the repeat that a bar stands in: its signs, and the passes of its endings."""
    check_bars(lesson, section, bar, 1)
    found = lesson.sections[section]
    repeat = repeat_around(found.bars, bar)
    if repeat is None:
        raise refuse("no_repeat_here", Where(found.head.letter, bar + 1))
    heads = {}
    for index in range(repeat.first, repeat.end + 1):
        head = replace(found.bars[index].head, passes=())
        if index in (repeat.first, repeat.last):
            head = replace(
                head,
                repeat_open=head.repeat_open and index != repeat.first,
                repeat_close=0 if index == repeat.last else head.repeat_close,
            )
        heads[index] = head
    return _with_heads(lesson, section, heads)


def set_passes(
    lesson: Lesson, section: int, start: int, count: int, passes: tuple[int, ...]
) -> Lesson:
    """Let bars sound only in these passes (an ending); () in all."""
    check_bars(lesson, section, start, count)
    bars = lesson.sections[section].bars
    wanted = tuple(sorted(set(passes)))
    return _with_heads(lesson, section, {
        index: replace(bars[index].head, passes=wanted) for index in range(start, start + count)
    })  # fmt: skip


def next_ending(bars: Bars, bar: int) -> tuple[int, ...]:
    """The passes a bar gets next as one goes through endings: first, second, none.

    Right behind an ending it is the one that follows (behind the last one of a repeat the first),
    then the very same, which makes that ending a bar longer, then none.
    """
    passes = bars[bar].head.passes
    before = bars[bar - 1].head.passes if bar else ()
    ways: tuple[tuple[int, ...], ...] = ((1,), (2,), ())
    if before:
        repeat = repeat_around(bars, bar - 1)
        most = limits.TIMES_MAX if repeat is None else repeat.times
        following = (before[-1] + 1,) if before[-1] < most else (1,)
        ways = (following, before, ())
    if not passes or passes not in ways:
        return () if passes else ways[0]
    return ways[(ways.index(passes) + 1) % len(ways)]


def _with_heads(lesson: Lesson, section: int, heads: dict[int, BarHead]) -> Lesson:
    found = lesson.sections[section]
    changed: dict[int, Bar] = {}
    for index, head in heads.items():
        bar = found.bars[index]
        if head != bar.head:
            changed[index] = replace(bar, head=obey_bar(lesson, section, index, head))
    if not changed:
        return lesson
    after = with_section(lesson, section, replace(found, bars=found.bars.with_bars(changed)))
    return settled(after, section)


# Signs when bars come and go


def without(bars: Bars, start: int, count: int) -> Bars:
    """The bars with the signs that ``start`` to ``start + count`` will leave behind moved out.

    An open sign goes to the bar behind, a close sign to the bar before, where its partner stays.
    """
    stop = start + count
    changed: dict[int, Bar] = {}
    for repeat in repeats_of(bars):
        loses_first = start <= repeat.first < stop
        loses_last = start <= repeat.last < stop
        if loses_first and not loses_last and bars[repeat.first].head.repeat_open:
            bar = changed.get(stop, bars[stop])
            changed[stop] = replace(bar, head=replace(bar.head, repeat_open=True))
        if loses_last and not loses_first:
            bar = changed.get(start - 1, bars[start - 1])
            changed[start - 1] = replace(bar, head=replace(bar.head, repeat_close=repeat.times))
    return bars.with_bars(changed)


def whole(bars: Bars, start: int, count: int) -> tuple[Bar, ...]:
    """Copies of bars to stand behind them: signs and passes only of repeats that are whole."""
    stop = start + count
    run = list(bars.slice(start, stop))
    inside = [r for r in repeats_of(bars) if start <= r.first and r.end < stop]
    for index, bar in enumerate(run, start):
        repeat = next((r for r in inside if r.first <= index <= r.end), None)
        head = bar.head
        if repeat is None:
            head = replace(head, repeat_open=False, repeat_close=0, passes=())
        elif index == repeat.first:
            head = replace(head, repeat_open=True)
        if head != bar.head:
            run[index - start] = replace(bar, head=head)
    return tuple(run)
