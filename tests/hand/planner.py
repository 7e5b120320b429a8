"""Which keys a practised hand presses to write a lesson into an empty one.

Pure and deterministic: guitar after guitar, section after section, bar after bar, the cheapest
ways to each state of the hand are carried on (``state.strict`` is what is paid). A bar is written
note by note or after an earlier bar. Repeat signs and endings are put at the end of a section.

A hand that knows the riff could press these keys: every gesture is one of F1, and none says more
than the player has to know: fret, string, length, "as two bars before".
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from chalkfret.edits import repeats
from chalkfret.model import Lesson
from tests.hand.after_models import after_models
from tests.hand.fresh import fresh
from tests.hand.lengths import usual_grid
from tests.hand.lessons import stripped
from tests.hand.state import Hand, Way, Ways, best
from tests.hand.strokes import Task

Grids = dict[tuple[int, int], tuple[int, ...]]


@dataclass(frozen=True)
class Noted(Way):
    """A way that also knows how the bar behind it was cut."""

    place: tuple[int, int] = (0, 0)
    grid: tuple[int, ...] = ()


def plan(lesson: Lesson) -> list[str]:
    """The keys, from the cursor at the beginning of the empty lesson on."""
    target = stripped(lesson)
    grids: Grids = {}
    keys: list[str] = []
    hand = Hand()
    for part in range(len(lesson.parts)):
        if part:
            keys += ["Ctrl+Home", *("Ctrl+Down",) * part] if part == 1 else [
                "Ctrl+Home", "Ctrl+Down"]  # fmt: skip
            strings = len(lesson.parts[part].setup.courses)
            hand = replace(hand, course=min(hand.course, strings), tick=0,
                           chord=None, model=None, held=frozenset({"Ctrl"}))  # fmt: skip
        for section in range(len(lesson.sections)):
            if section:
                keys.append("PgDown")
            hand = replace(hand, tick=0, chord=None, follows=False, typed_here=False)
            way, hand = _section(target, section, part, hand, grids)
            keys += way.all_keys()
            if part == 0:
                signs = _signs(lesson, section)
                keys += signs
                if signs:
                    hand = replace(hand, chord=None, follows=False)
    return keys


def _section(target: Lesson, section: int, part: int, hand: Hand, grids: Grids) -> tuple[Way, Hand]:
    ways: Ways = {hand: Way(0, ())}
    count = len(target.sections[section].bars)
    for bar in range(count):
        last = bar + 1 == count if part else True
        task = Task(target, section, bar, part, last)
        usual = usual_grid(task.head)
        starts = []
        for one, way in ways.items():
            grid = grids.get((section, bar), usual)
            if part == 0 and bar:
                same = target.sections[section].bars[bar - 1].head.beats == task.head.beats
                grid = one.grid if same else usual
            starts.append((replace(one, tick=0, grid=grid), way))
        ways = _bar(task, best(starts), grids)
    end, way = min(ways.items(), key=lambda pair: pair[1].cost)
    walked: Way | None = way
    while walked is not None:
        if isinstance(walked, Noted):
            grids.setdefault(walked.place, walked.grid)
        walked = walked.before
    return way, end


def _bar(task: Task, ways: Ways, grids: Grids) -> Ways:
    if not task.notes:
        return best(_done(task, hand, way) for hand, way in ways.items())
    known = dict(grids)
    found = [_done(task, hand, way) for hand, way in fresh(task, ways).items()]
    for hand, way in ways.items():
        grids_here = known | _grids_of(way)
        found += [
            _done(task, after, on)
            for after, on in after_models(task, {hand: way}, grids_here).items()
        ]
        found += [_done(task, *one) for one in _bar_again(task, hand, way, grids_here)]
    return best(found)


def _grids_of(way: Way | None) -> Grids:
    found: Grids = {}
    while way is not None:
        if isinstance(way, Noted):
            found.setdefault(way.place, way.grid)
        way = way.before
    return found


def _bar_again(task: Task, hand: Hand, way: Way, grids: Grids) -> list[tuple[Hand, Way]]:
    """The bar just written, once more."""
    if task.notes != task.before or not task.bar or not (hand.follows or task.is_last):
        return []
    keys = ("Shift+E",)
    after = hand.after(keys, tick=task.head.ticks, chord=None, follows=True)
    return [(after, way.then(hand, keys))]


def _done(task: Task, hand: Hand, way: Way) -> tuple[Hand, Way]:
    """On to the bar line where the last note does not reach it."""
    keys: tuple[str, ...] = ()
    if hand.tick < task.head.ticks:
        keys = ("Return",)
    on = way.then(hand, keys)
    model = hand.model if _is_model_of(task, way) else None
    after = hand.after(keys, tick=0, model=model, forced=None)
    if keys:
        after = replace(after, chord=None, follows=False)
    return after, Noted(on.cost, on.keys, on.before, (task.section, task.bar), hand.grid)


def _is_model_of(task: Task, way: Way) -> bool:
    """Whether this bar was written after a model."""
    return bool(way.keys) and way.keys[0] in ("K", "Z")


def _signs(lesson: Lesson, section: int) -> list[str]:
    """Repeat signs and endings of a section, by the keys that a teacher would press."""
    bars = lesson.sections[section].bars
    now = stripped(lesson)
    keys: list[str] = []
    for repeat in repeats.repeats_of(bars):
        keys += ["PgUp", *("Ctrl+Right",) * repeat.first]
        keys += ["Shift+Ctrl+Right"] * (repeat.last - repeat.first)
        keys += ["Ctrl+R"] * (repeat.times - 1)
        count = repeat.last - repeat.first + 1
        now = repeats.set_repeat(now, section, repeat.first, count, repeat.times)
        here = repeat.last
        endings = [at for at in range(repeat.first, repeat.end + 1) if bars[at].head.passes]
        if endings:
            keys.append("Escape")
        for bar in endings:
            keys += ["Ctrl+Right" if bar > here else "Ctrl+Left"] * abs(bar - here)
            here = bar
            while now.sections[section].bars[bar].head.passes != bars[bar].head.passes:
                passes = repeats.next_ending(now.sections[section].bars, bar)
                now = repeats.set_passes(now, section, bar, 1, passes)
                keys.append("Ctrl+E")
    return keys
