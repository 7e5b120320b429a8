"""Which bars a section plays, in order: repeats, endings and the times of the section unrolled.

Conventions
-----------
- Repeated spans are those of ``model.repeats``.
- ``BarHead.passes`` names passes of the repeated span that the bar stands in, so a first ending is
  the first ending each time the section comes round; outside a span, passes of the section.
- ``pass_`` counts from 1 how often the music has come by, and tells every sounding of a bar apart:
  inside a span ``(section pass - 1) * times + pass of the span``, outside the section's pass.
- A bar whose ``passes`` exclude the current pass is skipped, and with it its closing sign.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from chalkfret.model import BarHead, Section
from chalkfret.model.repeats import Span, repeated_spans


class PlayedBar(NamedTuple):
    """One bar as it is played: its index in the section, and the pass it is played in."""

    bar: int
    pass_: int


def heads_of(section: Section) -> tuple[BarHead, ...]:
    """The heads of a section's bars."""
    return tuple([bar.head for bar in section.bars])


def played(section: Section) -> tuple[PlayedBar, ...]:
    """The bars of a section in the order in which they sound."""
    return unroll(heads_of(section), section.head.times)


@lru_cache(maxsize=64)
def unroll(heads: tuple[BarHead, ...], times: int) -> tuple[PlayedBar, ...]:
    """The bars with these heads, the whole played ``times`` times, in the order of sounding."""
    spans = repeated_spans(heads)
    return tuple(
        bar for section_pass in range(1, times + 1) for bar in _once(heads, spans, section_pass)
    )


def _once(
    heads: Sequence[BarHead], spans: tuple[Span, ...], section_pass: int
) -> Iterator[PlayedBar]:
    """The section played through once."""
    at = 0
    for span in (*spans, Span(len(heads), len(heads), 0)):
        for index in range(at, span.start):
            if _sounds(heads[index], section_pass):
                yield PlayedBar(index, section_pass)
        for inner in range(1, span.times + 1):
            before = (section_pass - 1) * span.times
            closed = yield from _through(heads, span, inner, before)
            if not closed:
                break
        at = span.stop


def _through(
    heads: Sequence[BarHead], span: Span, inner: int, before: int
) -> Generator[PlayedBar, None, bool]:
    """Pass ``inner`` of a span, ``before`` passes of earlier times through the section behind it.

    Returns whether a closing sign sent the player back.
    """
    for index in range(span.start, span.stop):
        if _sounds(heads[index], inner):
            yield PlayedBar(index, before + inner)
            if heads[index].repeat_close and inner < span.times:
                return True
    return False


def _sounds(head: BarHead, pass_: int) -> bool:
    return not head.passes or pass_ in head.passes
