"""The systems of a section: planned all at once, drawn one by one when their page is wanted."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache, reduce
from threading import Lock
from typing import Final

from msgspec import Struct

from chalkfret.model import Bar, BarHead, Cue, Section
from chalkfret.sheet.barshape import BarShape, Below, Degrees, bar_shape
from chalkfret.sheet.canvas import Canvas, Frame, SetBar, Texts, frame_of
from chalkfret.sheet.display import BarBox, Block, Face, Ink, Item, Line, Text
from chalkfret.sheet.draw_lanes import draw_lanes
from chalkfret.sheet.draw_numbers import clef_width, draw_numbers
from chalkfret.sheet.draw_rhythm import draw_rhythm
from chalkfret.sheet.draw_system import (
    CueFlag,
    cue_flags,
    draw_bar_lines,
    draw_cues,
    draw_endings,
    draw_left,
    draw_meter,
    draw_simile,
    name_width,
    string_width,
)
from chalkfret.sheet.lanes import stack
from chalkfret.sheet.scheme import Scheme
from chalkfret.sheet.springs import stretched
from chalkfret.sheet.systems import LAST_FULL, Breaker
from chalkfret.theory.names import bar_degrees
from chalkfret.theory.naming import degree_shown

_RAGGED: Final = 1.15  # how far a short last system is stretched
_breaker = Breaker()


# Of each bar: it shows its meter, it is a simile sign, its degrees where they are shown.
_Kind = tuple[bool, bool, tuple[Degrees, ...]]


class System(Struct, frozen=True):
    """One system: everything its drawing depends on, so that equal systems are drawn once."""

    section: str
    start: int  # index of its first bar in the section
    bars: tuple[Bar, ...]
    kinds: tuple[_Kind, ...]
    scheme: Scheme
    cues: tuple[Cue, ...]  # those that begin or end here
    full_names: bool
    closing: str  # "final", "double" or nothing
    before: BarHead | None
    following: Bar | None

    @property
    def left(self) -> float:
        """Where the bars begin, behind names and clef."""
        return left_width(self.scheme, self.full_names)

    @property
    def shapes(self) -> tuple[BarShape, ...]:
        """The shapes of its bars."""
        return tuple(
            bar_shape(bar, self.scheme, *kind)
            for bar, kind in zip(self.bars, self.kinds, strict=True)
        )


@lru_cache(maxsize=256)
def left_width(scheme: Scheme, full_names: bool) -> float:
    """From the left margin to the first bar."""
    names = name_width(scheme, full_names) + string_width(scheme)
    return names + clef_width(scheme.style.gap)


class SectionPlan(Struct, frozen=True, eq=False):
    """The systems of a section, in order, with their heights in mm."""

    section: Section
    systems: tuple[System, ...]
    heights: tuple[float, ...]


# The last plan of each section, by id and scheme: what an edit left alone is taken from it.
_plans: dict[tuple[str, Scheme, bool], SectionPlan] = {}
_PLANS_KEPT: Final = 2048
_lock = Lock()


def section_plan(section: Section, scheme: Scheme, final: bool) -> SectionPlan:
    """The systems of a section; ``final``: the lesson ends with it.

    The result depends on the arguments alone; a plan made before only saves the making.
    """
    key = (section.id, scheme, final)
    with _lock:
        before = _plans.get(key)
    if before is not None and (before.section is section or before.section == section):
        return before
    plan = _planned(section, scheme, final, before)
    with _lock:
        _plans.pop(key, None)
        _plans[key] = plan
        while len(_plans) > _PLANS_KEPT:
            del _plans[next(iter(_plans))]
    return plan


def _planned(
    section: Section, scheme: Scheme, final: bool, before: SectionPlan | None
) -> SectionPlan:
    bars = tuple(section.bars)
    kinds = _kinds(bars, scheme)
    shapes = [bar_shape(bar, scheme, *kind) for bar, kind in zip(bars, kinds, strict=True)]
    width = scheme.style.text_width
    cuts = _breaker.systems(
        (section.id, scheme),
        tuple([shape.width for shape in shapes]),
        width - left_width(scheme, True),
        width - left_width(scheme, False),
    )
    known: dict[tuple[int, int], tuple[System, float]] = {}
    if before is not None:
        known = {
            (system.start, system.start + len(system.bars)): (system, height)
            for system, height in zip(before.systems, before.heights, strict=True)
        }
    systems: list[System] = []
    heights: list[float] = []
    for start, stop in cuts:
        last = stop == len(bars)
        system = System(
            section=section.id,
            start=start,
            bars=bars[start:stop],
            kinds=kinds[start:stop],
            scheme=scheme,
            cues=_cues_in(section, start, stop) if section.head.cues else (),
            full_names=start == 0,
            closing=("final" if final else "double") if last else "",
            before=bars[start - 1].head if start else None,
            following=None if last else bars[stop],
        )
        same = known.get((start, stop))
        if same is not None and same[0] == system:
            system, height = same
        else:
            height = _frame(system).height
        systems.append(system)
        heights.append(height)
    return SectionPlan(section, tuple(systems), tuple(heights))


def _kinds(bars: tuple[Bar, ...], scheme: Scheme) -> tuple[_Kind, ...]:
    out: list[_Kind] = []
    before: Bar | None = None
    for bar, after in zip(bars, (*bars[1:], None), strict=True):
        head = bar.head
        meter = before is None or (head is not before.head and head.meter != before.head.meter)
        simile = head.simile and before is not None and _same(bar, before, scheme)
        shows = scheme.degrees is not None and not simile
        out.append((meter, simile, _degrees(before, bar, after, scheme) if shows else ()))
        before = bar
    return tuple(out)


@lru_cache(maxsize=16384)
def _degrees(
    before: Bar | None, bar: Bar, after: Bar | None, scheme: Scheme
) -> tuple[Degrees, ...]:
    """The degrees of a bar between its neighbours, with proper signs, staff by staff."""
    found = []
    for staff in scheme.staves:
        sides = (() if side is None else side.notes[staff.part] for side in (before, after))
        notes = (next(sides), bar.notes[staff.part], next(sides))
        named = bar_degrees(notes, staff.setup, scheme.degrees)
        found.append(tuple("" if one is None else degree_shown(one) for one in named))
    return tuple(found)


def _same(bar: Bar, before: Bar, scheme: Scheme) -> bool:
    """Whether a simile sign would tell the truth."""
    parts = [staff.part for staff in scheme.staves]
    return (
        bar.head.ticks == before.head.ticks
        and any(bar.notes[part] for part in parts)
        and all(bar.notes[part] == before.notes[part] for part in parts)
    )


def _cues_in(section: Section, start: int, stop: int) -> tuple[Cue, ...]:
    return tuple(
        cue
        for cue in section.head.cues
        if start <= cue.start.bar < stop or (cue.end is not None and start <= cue.end.bar < stop)
    )


@lru_cache(maxsize=1024)
def _frame(system: System) -> Frame:
    shapes = system.shapes
    rows: tuple[int, ...] = (0,) * len(system.scheme.staves)
    if system.cues:
        rows = tuple(
            max((flag.row for flag in flags), default=-1) + 1
            for flags in _flags(system, _set(system, shapes))
        )
    stacks = tuple(
        stack([(shape.claims[index], len(shape.columns)) for shape in shapes])
        for index in range(len(rows))
    )
    below = tuple(
        reduce(Below.joined, column) for column in zip(*(s.below for s in shapes), strict=True)
    )
    return _stacked(system.scheme, stacks, below, rows)


_stacked = lru_cache(maxsize=4096)(frame_of)


def _set(system: System, shapes: Sequence[BarShape]) -> tuple[SetBar, ...]:
    """The bars in their places along the line."""
    left = system.left
    room = system.scheme.style.text_width - left
    natural = sum(shape.width.natural for shape in shapes)
    if system.closing and natural < LAST_FULL * room:
        room = min(room, natural * _RAGGED)
    leads = sum(shape.lead for shape in shapes)
    ideal = [one for shape in shapes for one in shape.ideal]
    least = [one for shape in shapes for one in shape.least]
    # Where even the heads of bars do not fit, they shrink with everything else.
    shrink = min(1.0, 0.7 * room / leads)
    lengths = iter(stretched(ideal, least, room - leads * shrink))
    out: list[SetBar] = []
    x = left
    for at, (bar, shape) in enumerate(zip(system.bars, shapes, strict=True)):
        start, xs = x, []
        x += shape.lead * shrink
        for _ in shape.ideal:
            xs.append(x)
            x += next(lengths)
        at_tick = dict(zip(shape.columns, xs, strict=False))
        out.append(SetBar(system.start + at, bar, shape, start, x, tuple(xs), at_tick))
    return tuple(out)


def _flags(system: System, bars: tuple[SetBar, ...]) -> tuple[tuple[CueFlag, ...], ...]:
    """The cue flags over each staff; a cue for all parts stands over the first."""
    ids = [staff.id for staff in system.scheme.staves]
    return tuple(
        cue_flags(
            [cue for cue in system.cues if (cue.part or ids[0]) == ids[index]],
            bars,
            system.scheme,
        )
        for index in range(len(ids))
    )


@lru_cache(maxsize=1024)
def system_block(system: System) -> Block:
    """The drawn system."""
    shapes = system.shapes
    scheme, style = system.scheme, system.scheme.style
    frame = _frame(system)
    bars = _set(system, shapes)
    right = bars[-1].right
    staff_left = system.left - clef_width(style.gap)
    flags = _flags(system, bars) if system.cues else ((),) * len(scheme.staves)
    items: list[Item] = []
    texts: Texts = defaultdict(list)
    for index, (staff, place) in enumerate(zip(scheme.staves, frame.staves, strict=True)):
        canvas = Canvas(scheme, staff, place, bars, index, system.left, right, items, texts)
        draw_numbers(canvas, system.following)
        draw_left(canvas, staff_left, system.full_names)
        draw_bar_lines(canvas, system.closing)
        for at in bars:
            if at.shape.meter:
                draw_meter(canvas, at)
            if at.shape.simile:
                draw_simile(canvas, at)
        draw_rhythm(canvas)
        draw_lanes(canvas)
        draw_cues(canvas, flags[index])
        if index == 0:
            after = None if system.following is None else system.following.head
            draw_endings(canvas, system.before, after)
    items += _left_edge(system, frame, staff_left)
    for run in texts.values():
        items += run
    boxes = tuple(
        BarBox(
            system.section, at.index, at.left, 0.0, at.right - at.left, frame.height,
            tuple(
                (staff.part, place.top, style.gap, staff.courses)
                for staff, place in zip(scheme.staves, frame.staves, strict=True)
            ),
        )
        for at in bars
    )  # fmt: skip
    return Block(style.text_width, frame.height, tuple(items), boxes)


def _left_edge(system: System, frame: Frame, x: float) -> list[Item]:
    """The line that ties the staves together, and the number of the first bar."""
    style = system.scheme.style
    top, bottom = frame.staves[0].top, frame.staves[-1].bottom
    half = style.staff_line / 2
    items: list[Item] = [Line(x, top - half, x, bottom + half, style.thin_bar)]
    if len(frame.staves) > 1:
        bracket = x - string_width(system.scheme) - 0.7 * style.scale
        reach = 0.6 * style.scale
        items.append(Line(bracket, top - reach, bracket, bottom + reach, style.thick_bar * 0.8))
    text = str(system.start + 1)
    width = system.scheme.measurer.width(text, Face.ITALIC, style.small)
    y = top - 1.5 * style.scale
    items.append(Text(x, y, text, style.small, width, Face.ITALIC, Ink.SOFT, "bar"))
    return items
