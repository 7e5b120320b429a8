"""Write a bar after the model of an earlier one, then say only what differs: frets and strings.

Conventions
-----------
- A *model* is an earlier bar of the same guitar that is as long; it gives rhythm, strings, voices
  and marks. From a tick on, the bar becomes as its model; what stands before the tick stays.
- Notes are asked for in *groups* in order of time, of a chord the lowest string first: each note
  by itself, or (the hand) all notes that the model frets alike on one string.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from chalkfret.edits import bars
from chalkfret.edits.draft import Draft, same_where_equal
from chalkfret.edits.faults import refuse
from chalkfret.edits.notes import move, note_at, set_fret
from chalkfret.edits.place import Spot, check_part, check_section
from chalkfret.model import Lesson, Notes, Where

MODELS_MAX: Final = 24  # models that are offered
_SEEN_MAX: Final = 512  # bars looked at: a key press must not read a whole book

Group = tuple[Spot, ...]


def models(
    lesson: Lesson, spot: Spot, first: tuple[int, int] | None = None
) -> list[tuple[int, int]]:
    """Section and bar of the earlier bars that differ from the spot's onset on, nearest first.

    The spot's bar may be the one behind the section's last.
    ``first`` is offered before all others where it is a model.
    """
    section, bar, part = spot.section, spot.bar, spot.part
    check_section(lesson, section)
    check_part(lesson, part)
    there = lesson.sections[section].bars
    if not 0 <= bar <= len(there):
        raise refuse("no_such_place", Where(lesson.sections[section].head.letter))
    # Behind the last bar: the bar that typing there adds.
    ticks = there[bar].head.ticks if bar < len(there) else there[bar - 1].head.meter.ticks
    found: dict[Notes, tuple[int, int]] = {}
    places = _before(lesson, section, bar)
    if first is not None and first < (section, bar):
        places = _chain(first, places)
    for seen, (s, b) in enumerate(places):
        if seen == _SEEN_MAX or len(found) == MODELS_MAX:
            break
        run = lesson.sections[s].bars
        if b >= len(run) or run[b].head.ticks != ticks:
            continue
        notes = tuple(note for note in run[b].notes[part] if note.onset >= spot.onset)
        if notes:
            found.setdefault(notes, (s, b))
    return list(found.values())


def _chain(first: tuple[int, int], rest: Iterator[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    yield first
    yield from rest


def _before(lesson: Lesson, section: int, bar: int) -> Iterator[tuple[int, int]]:
    for s in range(section, -1, -1):
        stop = bar if s == section else len(lesson.sections[s].bars)
        for b in range(stop - 1, -1, -1):
            yield s, b


def write_like(lesson: Lesson, spot: Spot, model: tuple[int, int]) -> Lesson:
    """Write the spot's bar and guitar from its onset on as the model is.

    An empty bar is cut into the model's steps.
    """
    section, bar, part = spot.section, spot.bar, spot.part
    source = lesson.sections[model[0]].bars[model[1]]
    target = lesson.sections[section].bars[bar]
    after = lesson
    if not any(target.notes) and target.head.beats == source.head.beats:
        after = bars.set_head(lesson, section, bar, steps=source.head.steps)
    draft = Draft(after)
    kept = tuple(note for note in target.notes[part] if note.onset < spot.onset)
    draft.put(section, bar, part, kept)
    for note in source.notes[part]:
        if note.onset >= spot.onset:
            draft.lay(section, bar, part, note)
    return same_where_equal(lesson, draft.done())


def groups(lesson: Lesson, spot: Spot, *, hand: bool) -> tuple[Group, ...]:
    """The notes of the spot's bar and guitar from its onset on, in the order they are asked for.

    With ``hand`` equal frets on a string are one group, where the first of them stands.
    """
    notes = lesson.sections[spot.section].bars[spot.bar].notes[spot.part]
    asked = sorted(
        (note for note in notes if note.onset >= spot.onset),
        key=lambda note: (note.onset, -note.course),
    )
    found: dict[tuple[int, ...], list[Spot]] = {}
    for note in asked:
        key = (note.course, note.fret) if hand else (note.course, note.onset)
        place = Spot(spot.section, spot.bar, spot.part, note.onset, note.course)
        found.setdefault(key, []).append(place)
    return tuple(map(tuple, found.values()))


def refret(lesson: Lesson, group: Group, fret: int) -> Lesson:
    """Give the notes that start at these spots a fret; their lengths and marks stay."""
    after = lesson
    for spot in group:
        after = set_fret(after, spot, fret, 1)
    return same_where_equal(lesson, after)


def to_string(lesson: Lesson, group: Group, way: int) -> tuple[Lesson, Group]:
    """Move the notes at these spots to the next string above (-1) or below (1), frets unchanged.

    Strings on which another note starts at any of the onsets are passed over, so that none is
    lost. Beyond the outer strings it is refused. Returns where the notes now are, too.
    """
    course, taken = group[0].course + way, _taken(lesson, group)
    while course in taken:
        course += way
    after, moved = lesson, []
    for spot in group:
        to = Spot(spot.section, spot.bar, spot.part, spot.onset, course)
        after = move(after, spot, to)
        moved.append(to)
    return after, tuple(moved)


def _taken(lesson: Lesson, group: Group) -> set[int]:
    """Strings on which notes start together with those of a group."""
    spot = group[0]
    onsets = {one.onset for one in group}
    notes = lesson.sections[spot.section].bars[spot.bar].notes[spot.part]
    return {note.course for note in notes if note.onset in onsets}


def still_there(lesson: Lesson, group: Group) -> bool:
    """Whether all notes of a group are where it says."""
    return all(
        spot.section < len(lesson.sections)
        and spot.part < len(lesson.parts)
        and spot.bar < len(lesson.sections[spot.section].bars)
        and note_at(lesson, spot) is not None
        for spot in group
    )
