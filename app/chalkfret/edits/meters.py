"""Meter and pickup: edits that change how long bars are.

``overflow`` says what becomes of notes that no longer fit:

- ``refuse``: the edit is refused, naming the first bar and part whose notes run over;
- ``cut``: they are shortened, or dropped where they start too late;
- ``reflow`` (meter only): the music of the bars flows on over the new bar lines, with ties, and
  the number of bars changes with it. Cues and pauses stay with their music.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from itertools import accumulate
from typing import Literal

from msgspec.structs import replace

from chalkfret.edits import cue_places
from chalkfret.edits.bars import pause_tick
from chalkfret.edits.draft import same_where_equal, settled
from chalkfret.edits.faults import refuse
from chalkfret.edits.place import Ruler, Spot, check_bars
from chalkfret.edits.replacing import updated, with_section
from chalkfret.edits.selection import bars_span, copy, paste
from chalkfret.edits.values import obey_bar
from chalkfret.model import (
    Bar,
    BarHead,
    Bars,
    Lesson,
    Meter,
    Note,
    Notes,
    Pause,
    Place,
    Section,
    Where,
)
from chalkfret.model.start import empty_bar

Overflow = Literal["refuse", "cut"]


def set_meter(
    lesson: Lesson,
    section: int,
    start: int,
    count: int,
    meter: Meter,
    overflow: Literal["refuse", "cut", "reflow"] = "refuse",
    *,
    grouping: tuple[int, ...] = (),
) -> Lesson:
    """Give bars a meter and a grouping of its units (() the usual one)."""
    check_bars(lesson, section, start, count)
    bars = lesson.sections[section].bars
    fresh: dict[BarHead, BarHead] = {}  # most bars share a few heads
    heads: dict[int, BarHead] = {}
    for index in range(start, start + count):
        old = bars[index].head
        if (old.meter, old.grouping) != (meter, grouping):
            if old not in fresh:
                pickup = old.pickup if old.pickup and old.pickup < meter.ticks else None
                head = replace(
                    old, meter=meter, grouping=grouping, steps=(), pickup=pickup, pauses=()
                )
                fresh[old] = obey_bar(lesson, section, index, head)
            heads[index] = fresh[old]
    if not heads:
        return lesson
    if overflow == "reflow":
        return _reflowed(lesson, section, start, count, meter, grouping)
    return _resized(lesson, section, heads, overflow)


def set_pickup(
    lesson: Lesson, section: int, bar: int, ticks: int | None, overflow: Overflow = "refuse"
) -> Lesson:
    """Let a bar lack its beginning, so that only ``ticks`` of it remain; None: a full bar.

    What the bar holds keeps its distance from the bar's end.
    """
    check_bars(lesson, section, bar, 1)
    old = lesson.sections[section].bars[bar].head
    if ticks == old.meter.ticks:
        ticks = None
    if ticks == old.pickup:
        return lesson
    new = replace(old, pickup=ticks, steps=(), pauses=())
    head = obey_bar(lesson, section, bar, new)
    return _resized(lesson, section, {bar: head}, overflow, from_end=True)


def _resized(
    lesson: Lesson,
    section: int,
    heads: dict[int, BarHead],
    overflow: Overflow,
    *,
    from_end: bool = False,
) -> Lesson:
    """Bars with new heads, one for one; notes that do not fit are refused or cut."""
    found = lesson.sections[section]
    changed: dict[int, Bar] = {}
    shifts: dict[int, tuple[int, int]] = {}  # bar -> shift of its ticks, its new length
    for index, head in sorted(heads.items()):
        bar = found.bars[index]
        shift = head.ticks - bar.head.ticks if from_end else 0
        shifts[index] = shift, head.ticks
        rows = []
        for part, notes in enumerate(bar.notes):
            fitted = _all_fitted(notes, shift, head.ticks)
            over = max((max(n.end + shift - head.ticks, -n.onset - shift) for n in notes),
                       default=0)  # fmt: skip
            if over > 0 and overflow == "refuse":
                where = Where(found.head.letter, index + 1, lesson.parts[part].name)
                raise refuse("notes_do_not_fit", where, ticks=over)
            rows.append(notes if fitted == notes else fitted)
        pauses = (replace(p, tick=min(max(p.tick + shift, 0), head.ticks)) for p in bar.head.pauses)
        whole = replace(head, pauses=tuple(sorted(pauses, key=pause_tick)))
        changed[index] = updated(bar, head=whole, notes=tuple(rows))

    def place(at: Place) -> Place:
        shift, most = shifts.get(at.bar, (0, at.tick))
        return Place(at.bar, min(max(at.tick + shift, 0), most))

    head_now = cue_places.each(found.head, place, place)
    new = replace(found, head=head_now, bars=found.bars.with_bars(changed))
    after = with_section(lesson, section, new)
    return settled(after, section)


def _all_fitted(notes: Notes, shift: int, ticks: int) -> Notes:
    """The notes as far as they lie in a bar of so many ticks.

    Notes cut at their front all start at the bar line: order changes, and of two on one string
    the one that was struck later stays.
    """
    kept = (_fitted(note, shift, ticks) for note in notes)
    places = {(note.onset, note.course): note for note in kept if note is not None}
    return tuple(note for _, note in sorted(places.items()))


def _fitted(note: Note, shift: int, ticks: int) -> Note | None:
    """The note as far as it lies in a bar of so many ticks, or None."""
    start, end = max(0, note.onset + shift), min(ticks, note.end + shift)
    if end <= start:
        return None
    if (start, end) == (note.onset, note.end):
        return note
    return replace(note, onset=start, length=end - start)


def _reflowed(
    lesson: Lesson,
    section: int,
    start: int,
    count: int,
    meter: Meter,
    grouping: tuple[int, ...],
) -> Lesson:
    """The music of some bars in bars of another length; see the module's ``reflow``."""
    found = lesson.sections[section]
    old = found.bars.slice(start, start + count)
    music = Section(found.id, replace(found.head, times=1, cues=()), Bars.of(old))
    alone = Lesson(lesson.head, lesson.parts, (music,))
    clip = copy(alone, bars_span(alone, 0, 0, count))
    heads = _new_heads(found, start, old, meter, grouping)
    more = len(heads) - count

    old_starts = _starts([bar.head for bar in old])
    ruler = Ruler(Bars.of(empty_bar(0, head) for head in heads), 0)

    def place(at: Place) -> Place:
        if at.bar < start:
            return at
        if at.bar >= start + count:
            return Place(at.bar + more, at.tick)
        inside = min(at.tick, old[at.bar - start].head.ticks)
        there = ruler.place(old_starts[at.bar - start] + inside) or (len(heads), 0)
        return Place(start + there[0], there[1])

    for offset, bar in enumerate(old):
        for pause in bar.head.pauses:
            there = place(Place(start + offset, pause.tick))
            index, tick = there.bar - start, there.tick
            if index == len(heads):
                index, tick = index - 1, heads[-1].ticks
            pauses: tuple[Pause, ...] = (*heads[index].pauses, replace(pause, tick=tick))
            heads[index] = replace(heads[index], pauses=pauses)
    empty = [empty_bar(len(lesson.parts), head) for head in heads]
    head_now = cue_places.each(found.head, place, place)
    run = found.bars.splice(start, start + count, empty)
    after = with_section(lesson, section, replace(found, head=head_now, bars=run))
    after = paste(after, Spot(section, start, 0, 0, 1), clip)
    # Bars behind the change may be as they were, rests for one.
    return same_where_equal(lesson, settled(after, section))


def _starts(heads: list[BarHead]) -> list[int]:
    return [0, *accumulate(head.ticks for head in heads)]


def _new_heads(
    section: Section, start: int, old: tuple[Bar, ...], meter: Meter, grouping: tuple[int, ...]
) -> list[BarHead]:
    """Heads for the same music in another meter, its repeats and endings on the new bar lines."""
    starts = _starts([bar.head for bar in old])
    first = old[0].head
    plain = BarHead(meter=meter, grouping=grouping)
    pickup = first.pickup if first.pickup and first.pickup < meter.ticks else None
    rest = starts[-1] - (pickup or 0)
    heads = [replace(plain, pickup=pickup)] if pickup else []
    heads += [plain] * -(-rest // meter.ticks)
    new = {tick: index for index, tick in enumerate(_starts(heads))}
    where = Where(section.head.letter)
    for index, bar in enumerate(old):
        head, here = bar.head, replace(where, bar=start + index + 1)
        if not (head.repeat_open or head.repeat_close or head.passes):
            continue
        opens, closes = new.get(starts[index]), new.get(starts[index + 1])
        if head.repeat_open:
            if opens is None:
                raise refuse("reflow_repeat", here)
            heads[opens] = replace(heads[opens], repeat_open=True)
        if head.repeat_close:
            if closes is None:
                raise refuse("reflow_repeat", here)
            heads[closes - 1] = replace(heads[closes - 1], repeat_close=head.repeat_close)
    if any(bar.head.passes for bar in old):
        lines = _starts(heads)
        for at, head in enumerate(heads):
            first_in = bisect_right(starts, lines[at]) - 1
            last_in = bisect_left(starts, lines[at + 1]) - 1
            inside = {bar.head.passes for bar in old[first_in : last_in + 1]}
            if len(inside) > 1:
                raise refuse("reflow_repeat", replace(where, bar=start + first_in + 1))
            heads[at] = replace(head, passes=inside.pop())
    return heads
