"""Where things stand in one system: bars with their columns, staves with their lanes."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass

from msgspec import Struct

from chalkfret.model import Bar, Notes
from chalkfret.sheet.barshape import BarShape, Below
from chalkfret.sheet.display import Face, Glyph, Ink, Item, Line, Text
from chalkfret.sheet.lanes import Stack
from chalkfret.sheet.marks import Lane
from chalkfret.sheet.rhythm import Rhythm
from chalkfret.sheet.scheme import Scheme, Staff

STEM_GAP = 1.2  # from the staff's outer line to the stems, at normal print
STEM = 5.0
_BELOW_STEMS = 6.8
_TUPLET = 2.7
ROW = 2.75  # fingers, degrees
_BARE = 1.9  # below a staff without stems
_ABOVE = 1.7  # half a number and some air above the top line
_APART = 2.6  # between a staff's rows and the next staff
_APART_UNDER_SIGNS = 1.2  # ... where signs stand over that, which bring white space along
CUE_ROW = 5.2


@dataclass(frozen=True)
class SetBar:
    """A bar in its place: left and right bar line, and the x of each column (mm)."""

    index: int  # in the section
    bar: Bar
    shape: BarShape
    left: float
    right: float
    xs: tuple[float, ...]
    at: dict[int, float]  # x by the tick of a column

    def x(self, tick: int) -> float:
        """The x of a tick; between columns in proportion."""
        known = self.at.get(tick)
        return self._between(tick) if known is None else known

    def _between(self, tick: int) -> float:
        columns = self.shape.columns
        if not columns:
            start = self.left + self.shape.lead
            return start + (self.right - start) * min(1.0, tick / self.bar.head.ticks)
        at = bisect_right(columns, tick) - 1
        if at < 0:
            return self.xs[0]
        low, high = columns[at], self.bar.head.ticks
        x, after = self.xs[at], self.right
        if at + 1 < len(columns):
            high, after = columns[at + 1], self.xs[at + 1]
        return x + (after - x) * min(1.0, (tick - low) / (high - low)) if high > low else x


class StaffFrame(Struct, frozen=True):
    """A staff's place in its system: the y of its top line and of its lanes (mm).

    ``above`` has the baseline of each lane in use, ``below`` the y at which rows begin.
    """

    top: float
    bottom: float
    above: dict[Lane, float]
    cue_y: float  # the bottom of the lowest cue row
    tuplet_y: float
    finger_y: float
    degree_y: float
    end: float  # below everything that belongs to the staff


class Frame(Struct, frozen=True):
    """The vertical measures of a system."""

    staves: tuple[StaffFrame, ...]
    height: float


def frame_of(
    scheme: Scheme,
    stacks: tuple[tuple[Stack, float], ...],
    below: tuple[Below, ...],
    cue_rows: tuple[int, ...],
) -> Frame:
    """Stack the staves of a system, each with the lanes that stand over it."""
    scale = scheme.style.scale
    y = 0.0
    frames: list[StaffFrame] = []
    for staff, (lanes, highest), under, rows in zip(
        scheme.staves, stacks, below, cue_rows, strict=True
    ):
        if frames:
            y += (_APART_UNDER_SIGNS if rows or lanes else _APART) * scale
        cue_y = y + rows * CUE_ROW * scale
        floor = cue_y + highest * scale
        top = floor + _ABOVE * scale
        above = {lane: floor - base * scale for lane, base in lanes}
        bottom = top + scheme.height(staff)
        tuplet_y = bottom + (_BELOW_STEMS if under.stems else _BARE) * scale
        finger_y = tuplet_y + (_TUPLET * scale if under.tuplets else 0.0)
        degree_y = finger_y + ROW * scale * under.fingers
        end = degree_y + ROW * scale * under.degrees
        frames.append(StaffFrame(top, bottom, above, cue_y, tuplet_y, finger_y, degree_y, end))
        y = end
    return Frame(tuple(frames), y)


# Texts of one face, size and ink together, which painters draw in one go.
Texts = defaultdict[tuple[Face, float, Ink], list[Item]]


@dataclass
class Canvas:
    """One staff of one system, with what it takes to draw upon it."""

    scheme: Scheme
    staff: Staff
    frame: StaffFrame
    bars: tuple[SetBar, ...]
    index: int  # of the staff in the system
    left: float  # where the bars begin, behind the clef
    right: float
    items: list[Item]  # of the whole system, but its texts
    texts: Texts  # of the whole system

    def __post_init__(self) -> None:
        self.scale = self.scheme.style.scale
        self._first = self.frame.top - self.scheme.style.gap
        self._gap = self.scheme.style.gap

    def line_y(self, course: int) -> float:
        """The y of a string."""
        return self._first + course * self._gap

    def notes(self, at: SetBar) -> Notes:
        """The staff's notes in a bar."""
        return () if at.shape.simile else at.bar.notes[self.staff.part]

    def rhythms(self, at: SetBar) -> tuple[Rhythm, ...]:
        """The staff's rhythm in a bar."""
        return at.shape.rhythms[self.index]

    def line(self, x1: float, y1: float, x2: float, y2: float, width: float,
             ink: Ink = Ink.INK) -> None:  # fmt: skip
        """A straight stroke."""
        self.items.append(Line(x1, y1, x2, y2, width, ink))

    def sign(self, x: float, y: float, code: int, size: float) -> None:
        """A music sign, its left end at x."""
        self.items.append(Glyph(x, y, code, size))

    def words(
        self, x: float, y: float, text: str, size: float, face: Face = Face.REGULAR,
        ink: Ink = Ink.INK, tag: str = "", align: float = 0.0,
    ) -> float:  # fmt: skip
        """A text whose left end (align 0), middle (0.5) or right end (1) is at x; its width."""
        width = self.scheme.measurer.width(text, face, size)
        self.texts[face, size, ink].append(
            Text(x - align * width, y, text, size, width, face, ink, tag)
        )
        return width

    def dashes(self, x1: float, x2: float, y: float) -> None:
        """A dashed stroke along a lane."""
        step, length = 1.9 * self.scale, 1.1 * self.scale
        while x1 < x2:
            self.line(x1, y, min(x1 + length, x2), y, self.scheme.style.hair)
            x1 += step
