"""The keys that write a bar after the model of an earlier one."""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.edits.models import groups, models
from chalkfret.edits.place import Spot
from chalkfret.model import Note, Sign
from tests.hand.lengths import length_keys
from tests.hand.state import Hand, Keys, Way, Ways, best
from tests.hand.strokes import Found, Task, fret_keys

Place = tuple[int, int]
_BESIDE = {"Up": "Shift", "Down": "Ctrl+Shift"}


def after_models(task: Task, ways: Ways, grids: dict[Place, tuple[int, ...]]) -> Ways:
    """All ways by an earlier bar; the hand is at the end of the bar then."""
    return best(found for hand, way in ways.items() for found in _by_models(task, hand, way, grids))


def _by_models(task: Task, hand: Hand, way: Way, grids: dict[Place, tuple[int, ...]]) -> Found:
    spot = Spot(task.section, task.bar, task.part, 0, 1)
    following = None if hand.model is None else (hand.model[0], hand.model[1] + 1)
    offered = models(task.lesson, spot, following)
    for key, by_hand in (("K", False), ("Z", True)):
        for number, model in enumerate(offered, 1):
            grid = hand.grid if task.others else grids.get(model, hand.grid)
            start: Keys = (key,) * number
            for keys, course, paces in _over(task, hand, model, by_hand, grid):
                keys = (*start, *keys)
                yield (
                    hand.after(keys, course=course, tick=task.head.ticks, paces=paces,
                               chord=None, follows=keys[-1] not in ("Return", "Right"),
                               model=model, grid=grid),
                    way.then(hand, keys),
                )  # fmt: skip


def _over(
    task: Task, hand: Hand, model: Place, by_hand: bool, grid: tuple[int, ...]
) -> Iterator[tuple[Keys, int, tuple[int | None, int | None]]]:
    """Keys, the string after them and the lengths in force: with the model as it is offered."""
    notes = task.lesson.sections[model[0]].bars[model[1]].notes[task.part]
    if any(note.has(Sign.TIE) for note in notes):
        return
    targets = _targets(notes, task.notes)
    if targets is None:
        return
    spot = Spot(model[0], model[1], task.part, 0, 1)
    asked = [
        [next(n for n in notes if (n.onset, n.course) == (one.onset, one.course)) for one in group]
        for group in groups(task.lesson, spot, hand=by_hand)
    ]
    current = {(n.onset, n.course): n for n in notes}
    keys: list[Keys] = []
    paces, last = hand.paces, hand.course
    for group in asked:
        wanted = [targets[n.onset, n.course] for n in group]
        step = _one(task, grid, current, group, wanted)
        if step is None:
            return
        for old, new in zip(group, wanted, strict=True):
            current.pop((old.onset, old.course))
            if new is not None:
                current[new.onset, new.course] = new
        new = wanted[0]
        if new is not None:
            last = new.course
            if new.length != group[0].length:
                paces = (new.length, paces[1]) if new.voice == 0 else (paces[0], new.length)
        keys.append(step)
    while keys and keys[-1] == ("Right",):
        keys.pop()
    begins = [group[0].onset for group in asked]
    whole = tuple(key for step in _by_beats(task, begins, keys) for key in step)
    if len(keys) == len(asked):
        yield whole, last, paces
    else:
        here = targets[asked[len(keys)][0].onset, asked[len(keys)][0].course]
        yield (*whole, "Return"), here.course if here else last, paces


def _by_beats(task: Task, begins: list[int], keys: list[Keys]) -> Iterator[Keys]:
    """The keys with notes that are kept passed by beats where that is shorter."""
    at = 0
    while at < len(keys):
        later = [start for start in task.head.beat_starts if start > begins[at]]
        on = next((i for i in range(at + 1, len(begins)) if later and begins[i] >= later[0]), 0)
        if on > at + 1 and on <= len(keys) and set(keys[at:on]) == {("Right",)}:
            yield ("Ctrl+Right",)
            at = on
        else:
            yield keys[at]
            at += 1


def _targets(
    notes: tuple[Note, ...], wanted: tuple[Note, ...]
) -> dict[tuple[int, int], Note | None] | None:
    """What each of the model's notes becomes (None: it goes); None where notes are missing."""
    found: dict[tuple[int, int], Note | None] = {}
    onsets = {(n.onset, n.voice) for n in notes}
    if not {(n.onset, n.voice) for n in wanted} <= onsets:
        return None
    for onset, voice in onsets:
        have = sorted((n for n in notes if (n.onset, n.voice) == (onset, voice)),
                      key=lambda n: -n.course)  # fmt: skip
        want = sorted((n for n in wanted if (n.onset, n.voice) == (onset, voice)),
                      key=lambda n: -n.course)  # fmt: skip
        if len(want) > len(have):
            return None
        kept = [n for n in have if any(n.course == w.course for w in want)]
        if len(kept) != len(want):
            kept = have[: len(want)]
        pairs = dict(zip(((n.onset, n.course) for n in kept), want, strict=True))
        for note in have:
            found[note.onset, note.course] = pairs.get((note.onset, note.course))
    return found


def _one(
    task: Task,
    grid: tuple[int, ...],
    current: dict[tuple[int, int], Note],
    group: list[Note],
    wanted: list[Note | None],
) -> Keys | None:
    """The keys for one group that is asked for; None where it cannot become what is wanted."""
    old, new = group[0], wanted[0]
    if any(n is None for n in wanted):
        return ("Del",) if not any(wanted) else None
    assert new is not None
    alike = {(n.course, n.fret) for n in wanted if n is not None}
    lengths = all(o.length == n.length for o, n in zip(group, wanted, strict=True) if n)
    if len(group) > 1 and (len(alike) > 1 or new.course != old.course or not lengths):
        return None
    keys: Keys = ()
    if new.course != old.course:
        taken = {course for onset, course in current if onset == old.onset}
        if new.course in taken or _meets(current, old, new.course, old.length):
            return None
        way = 1 if new.course > old.course else -1
        between = range(old.course + way, new.course + way, way)
        keys = ("Up" if way < 0 else "Down",) * sum(course not in taken for course in between)
    if new.fret == old.fret and new.length == old.length and not new.has(Sign.TIE):
        return (*keys, "Right")
    keys = (*keys, *fret_keys(new.fret))
    if len(keys) > 1 and new.fret < 10 and keys[-2] in _BESIDE:
        keys = (*keys[:-2], f"{_BESIDE[keys[-2]]}+{new.fret}")
    if new.length != old.length:
        more = length_keys(task.head, grid, new.onset, old.length, new.length)
        longest = max(old.length, new.length)
        if more is None or _meets(current, old, new.course, longest):
            return None
        if any(key.startswith("Alt+.") for key in more) and longest != new.length:
            return None
        keys = (*keys, *more)
    if new.has(Sign.TIE):
        keys = (*keys, "J")
    return keys


def _meets(current: dict[tuple[int, int], Note], old: Note, course: int, length: int) -> bool:
    """Whether a note of this length would meet another one on a string."""
    return any(
        n.course == course
        and (n.onset, n.course) != (old.onset, old.course)
        and n.onset < old.onset + length
        and n.end > old.onset
        for n in current.values()
    )
