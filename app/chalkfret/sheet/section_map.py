"""The map of the sections: a strip as wide as each takes time, and a line for each."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from chalkfret.model import Bar, Meter, NoteNaming, Section, SectionHead
from chalkfret.sheet.display import Block, Face, Ink
from chalkfret.sheet.measure import Measurer
from chalkfret.sheet.pen import Pen
from chalkfret.sheet.prose import plain, set_text
from chalkfret.sheet.style import Style
from chalkfret.sheet.tempo_mark import tempo_mark, tempo_width
from chalkfret.timeline.clock import section_clock
from chalkfret.words.music import key_words, meter_words
from chalkfret.words.text import _

_STRIP = 5.0  # mm at normal print
_LEAST = 5.0  # width of the shortest section
_MOST = 24  # sections beyond this have no strip: its blocks would be too narrow for letters


class Stop(Struct, frozen=True):
    """A section on the map."""

    head: SectionHead
    meters: str
    seconds: float


def stops_of(sections: tuple[Section, ...]) -> tuple[Stop, ...]:
    """What the map says of each section; seconds without the silence behind it."""
    return tuple(
        Stop(section.head, _meters(section), _clock(section).length_s) for section in sections
    )


# The timeline forgets a section's clock with the section: an edit of notes alone must find the
# clock of the section as it was.
_clock = lru_cache(maxsize=1024)(section_clock)


def _meters(section: Section) -> str:
    meters = list(dict.fromkeys(meter_words(meter) for meter, _ in meters_of(section)))
    return ", ".join(meters[:3]) + (" …" if len(meters) > 3 else "")


Counted = tuple[Meter, tuple[int, ...]]  # a meter and the teacher's grouping of it


def meters_of(section: Section) -> tuple[Counted, ...]:
    """The meters of a section in order of appearance, with groupings that are not the usual."""
    return tuple(
        dict.fromkeys(meter for chunk in section.bars.chunks for meter in _chunk_meters(chunk))
    )


@lru_cache(maxsize=4096)
def _chunk_meters(chunk: tuple[Bar, ...]) -> tuple[Counted, ...]:
    return tuple(dict.fromkeys((bar.head.meter, bar.head.grouping) for bar in chunk))


@lru_cache(maxsize=64)
def strip_block(stops: tuple[Stop, ...], style: Style, measurer: Measurer) -> Block | None:
    """The strip: each section as wide as the time it takes."""
    if not 1 < len(stops) <= _MOST:
        return None
    pen = Pen(measurer)
    height, gap = _STRIP * style.words, 0.7
    room = style.text_width - gap * (len(stops) - 1) - _LEAST * len(stops)
    total = sum(stop.seconds for stop in stops) or 1.0
    x, size = 0.0, style.note
    for stop in stops:
        width = _LEAST + room * stop.seconds / total
        pen.box(x, 0.0, width, height, Ink.TINT)
        pen.rule(x, height, x + width, 0.5, Ink.INK)
        base = height / 2 + 0.33 * size
        pen.words(x + width / 2, base, stop.head.letter, size, Face.SEMIBOLD, tag="map", align=0.5)
        x += width + gap
    return pen.block(style.text_width, height + 0.3)


# Where the columns begin, as shares of the width: name, key, tempo, meter, times.
_NAME, _KEY, _TEMPO, _METER, _TIMES = 0.05, 0.36, 0.62, 0.775, 0.87


@lru_cache(maxsize=4096)
def stop_block(stop: Stop, naming: NoteNaming, style: Style, measurer: Measurer) -> Block:
    """One section's line on the map."""
    pen = Pen(measurer)
    size, head, width = style.body, stop.head, style.text_width
    pen.words(0.0, size, head.letter, size, Face.SEMIBOLD, tag="map")
    clock = f"{round(stop.seconds) // 60}:{round(stop.seconds) % 60:02d}"
    pen.words(width, size, clock, size, tag="map", align=1.0)
    key = "" if head.key is None else key_words(head.key, naming)
    name = head.name or _("Section {letter}").format(letter=head.letter)
    low = 0.0
    for text, face, start, stop_at in (
        (name, Face.SEMIBOLD, _NAME, _KEY),
        (key, Face.REGULAR, _KEY, _TEMPO),
        (stop.meters, Face.REGULAR, _METER, _TIMES),
        (f"×{head.times}" if head.times > 1 else "", Face.REGULAR, _TIMES, 0.93),
    ):
        room = (stop_at - start) * width - 3.0
        column = set_text(plain(text, face), room, size, measurer, tag="map")
        pen.text(column, start * width, 0.0)
        low = max(low, column.height)
    mark = min(
        size, size * ((_METER - _TEMPO) * width - 2.0) / tempo_width(measurer, head.tempo, size)
    )
    tempo_mark(pen, head.tempo, _TEMPO * width, size, mark)
    height = low + 0.3 * style.words
    pen.rule(0.0, height, width, 0.1)
    return pen.block(width, height + 0.3 * style.words)
