"""Which bars the repeat signs of a section frame, and how many bars that makes in all.

Conventions
-----------
- A *repeated span* runs from a bar that opens a repeat to the bar that closes it, and on through
  the bars with ``passes`` right behind it (the later endings). A close without an open repeats
  from behind the span before it, or from the section's start.
- The times of a span are the most that one of its closing signs asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from chalkfret.model.bars import BarHead
from chalkfret.model.faults import Fault, Where, fault
from chalkfret.model.lesson import Lesson
from chalkfret.model.limits import PLAYED_BARS_MAX
from chalkfret.model.section import Section


class Span(NamedTuple):
    """A repeated span: bars from ``start`` up to, without, ``stop``, played ``times`` times."""

    start: int
    stop: int
    times: int


def repeated_spans(heads: Sequence[BarHead]) -> tuple[Span, ...]:
    """The repeated spans of a section, in order; they do not overlap."""
    spans: list[Span] = []
    opened: int | None = None
    behind = at = 0
    while at < len(heads):
        if heads[at].repeat_open:
            opened = at
        times = heads[at].repeat_close
        at += 1
        if not times:
            continue
        start = behind if opened is None else opened
        while at < len(heads) and heads[at].passes and not heads[at].repeat_open:
            times = max(times, heads[at].repeat_close)
            at += 1
        spans.append(Span(start, at, times))
        behind, opened = at, None
    return tuple(spans)


def too_long_played(lesson: Lesson) -> Iterator[Fault]:
    """The fault of a lesson whose repeats multiply beyond reason, at the section that does most.

    What is written out counts for nothing here: only what signs and times make of a few bars can
    be longer than anybody would write.
    """
    longest = [(_multiplied(section), section.head.letter) for section in lesson.sections]
    bars = sum(count for count, _ in longest)
    if bars > PLAYED_BARS_MAX:
        yield fault(
            "played_too_long", Where(section=max(longest)[1]), bars=bars, most=PLAYED_BARS_MAX
        )


def _multiplied(section: Section) -> int:
    """The most bars that a section with repeats can play: no ending is left out. 0 without any."""
    heads = [bar.head for chunk in section.bars.chunks for bar in chunk]
    times = section.head.times
    if times == 1 and not [head for head in heads if head.repeat_close]:  # quicker than any()
        return 0
    more = sum((span.stop - span.start) * (span.times - 1) for span in repeated_spans(heads))
    return (len(heads) + more) * times
