"""Where a lesson was changed: the place to show when a step is undone or redone.

Conventions
-----------
- ``here`` is where the cursor is: it stays wherever all that changed lies around it, as a name of
  its section or the signs of its bar do.
"""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.model import Bars, Lesson, Notes


def changed_place(before: Lesson, after: Lesson, here: Cursor) -> Cursor:
    """The place of ``after`` at which it differs first; ``here`` where no section does.

    A part that comes or goes leads to where it stands, at the cursor's time.
    """
    if [part.id for part in before.parts] != [part.id for part in after.parts]:
        return moves.kept(after, replace(here, part=_first_other_part(before, after), course=1))
    for index, section in enumerate(after.sections):
        old = before.sections[index] if index < len(before.sections) else None
        if old is section:
            continue
        at_start = moves.at(after, here, index, 0)
        if old is None or old.bars is section.bars or old.id != section.id:
            return here if here.section == index else at_start
        return _in_bars(after, replace(here, section=index, bar=0, tick=0), old.bars, here)
    if len(before.sections) > len(after.sections):
        return moves.at(after, here, len(after.sections) - 1, 0)
    return here


def _first_other_part(before: Lesson, after: Lesson) -> int:
    pairs = zip(before.parts, after.parts, strict=False)
    return next(
        (index for index, (one, two) in enumerate(pairs) if one.id != two.id),
        min(len(before.parts), len(after.parts)),
    )


def _in_bars(after: Lesson, start: Cursor, old: Bars, here: Cursor) -> Cursor:
    new = after.sections[start.section].bars
    same = 0
    while same < min(len(old), len(new)) and old[same] is new[same]:
        same += 1
    bar = min(same, len(new) - 1)
    if len(old) != len(new):
        return moves.at(after, start, start.section, bar)
    for part, (one, two) in enumerate(zip(old[bar].notes, new[bar].notes, strict=True)):
        if one is not two and one != two:
            onset, course = _first_difference(one, two)
            there = replace(start, bar=bar, tick=onset, part=part, course=course)
            return moves.kept(after, there)
    around = here.section == start.section and old[here.bar] is not new[here.bar]
    return here if around else moves.at(after, start, start.section, bar)


def _first_difference(old: Notes, new: Notes) -> tuple[int, int]:
    """Onset and course of the first note that only one of the two has."""
    either = set(old) ^ set(new)
    return min((note.onset, note.course) for note in either)
