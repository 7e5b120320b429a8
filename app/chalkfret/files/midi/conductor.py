"""The first track: title, tempo, meters, key signatures, section markers and cues.

Conventions
-----------
- A meter stands at its bar line. A bar that is longer or shorter in the file than its meter (a
  pickup, a pause) has the meter of what it is, where one exists; the next has its own again.
- The standard knows major and minor keys only: the nearest signature, and the key by its name as a
  text beside it.
- A section has one marker, where it begins; a cue one cue point, where it first sounds.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from chalkfret.files.midi.grid import Grid, SectionGrid, stop_ticks
from chalkfret.files.midi.smf import META, Event, meta
from chalkfret.files.midi.tempo_map import tempo_map
from chalkfret.model import QUARTER, BarHead, Cue, Fault, Key, Lesson, Meter, Where, fault
from chalkfret.theory.signature import signature
from chalkfret.timeline.clicks import bar_clicks

# From 7 flats to 7 sharps.
_MAJOR: Final = (
    "Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#",
)  # fmt: skip
_MINOR: Final = (
    "Abm", "Ebm", "Bbm", "Fm", "Cm", "Gm", "Dm", "Am", "Em", "Bm", "F#m", "C#m", "G#m", "D#m",
    "A#m",
)  # fmt: skip
_CLOCKS: Final = 24  # MIDI clocks a quarter
_UNITS: Final = (1, 2, 4, 8, 16, 32, 64)
_BYTE: Final = 255


def conductor(lesson: Lesson, grid: Grid, parts: frozenset[str]) -> tuple[list[Event], list[Fault]]:
    """The track's events, and what it could not carry. ``parts`` are the ids that are written."""
    events = [Event(0, META, meta("track_name", name=lesson.head.title))]
    remarks: list[Fault] = []
    for tick, tempo in tempo_map(grid):
        events.append(Event(tick, META, meta("set_tempo", tempo=tempo)))
    events += _meters(grid)
    for section in grid.sections:
        head = section.timed.section.head
        first = section.lines[0]
        title = " ".join(filter(None, (head.letter, head.name)))
        events.append(Event(first, META, meta("marker", text=title)))
        if head.key is not None:
            events += _key(first, head.key)
        for cue in head.cues:
            if cue.part is None or cue.part in parts:
                at = _cue_tick(cue, section)
                if at is None:
                    where = Where(section=head.letter, bar=cue.start.bar + 1)
                    remarks.append(fault("midi_cue_silent", where, label=cue.label))
                else:
                    text = _cue_text(cue, lesson)
                    events.append(Event(at, META, meta("cue_marker", text=text)))
    return events, remarks


def _key(tick: int, key: Key) -> list[Event]:
    text = Event(tick, META, meta("text", text=key_text(key)))
    if key.mode is None and not key.degrees:
        return [text]  # a tonic alone is neither major nor minor
    sharps, third = signature(key)
    name = (_MAJOR if third == "major" else _MINOR)[sharps + 7]
    return [Event(tick, META, meta("key_signature", key=name)), text]


def key_text(key: Key) -> str:
    """A key in words for a text event: ``E lydian``, ``A: 1 b3 4 5``, ``A``."""
    if key.degrees:
        return f"{key.tonic}: {' '.join(key.degrees)}"
    return key.tonic if key.mode is None else f"{key.tonic} {key.mode.value.replace('_', ' ')}"


def _cue_text(cue: Cue, lesson: Lesson) -> str:
    names = {part.id: part.name for part in lesson.parts}
    alone = cue.part is None or len(names) == 1
    return cue.label if alone else f"{cue.label} ({names[cue.part or '']})"


def _cue_tick(cue: Cue, section: SectionGrid) -> int | None:
    for played, (bar, _) in enumerate(section.timed.clock.bars):
        if bar == cue.start.bar:
            ticks = section.timed.clock.heads[played].ticks
            return section.onset(played, cue.start.tick) if cue.start.tick <= ticks else None
    return None


def _meters(grid: Grid) -> Iterator[Event]:
    """A time signature wherever the bars change."""
    first = next((head for one in grid.sections for head in one.timed.clock.heads), None)
    said: Meter | None = None
    if grid.lead and first is not None:
        said = first.meter
        yield _meter(0, said, _click_ticks(first, grid.sections[0]))
    for section in grid.sections:
        heads = section.timed.clock.heads
        for bar, head in enumerate(heads):
            start, end = section.lines[bar], section.lines[bar + 1]
            meter = _meter_of(end - start, head)
            if meter is None or meter != said:
                yield _meter(start, meter or head.meter, _click_ticks(head, section))
            said = meter
        silence = stop_ticks(section.silence_s)
        if silence and section is not grid.sections[-1]:
            said = None
            yield _meter(section.end, Meter(1, 4), QUARTER)


def _meter_of(ticks: int, head: BarHead) -> Meter | None:
    """The meter of a bar of so many ticks: its own, else one as near as can be, else None."""
    for unit in (one for one in _UNITS if one >= head.meter.unit):
        count, rest = divmod(ticks, 4 * QUARTER // unit)
        if not rest and 1 <= count <= _BYTE:
            return Meter(count, unit)
    return None


def _meter(tick: int, meter: Meter, click: int) -> Event:
    data = meta(
        "time_signature",
        numerator=meter.count,
        denominator=meter.unit,
        clocks_per_click=min(max(1, click * _CLOCKS // QUARTER), _BYTE),
        notated_32nd_notes_per_beat=8,
    )
    return Event(tick, META, data)


def _click_ticks(head: BarHead, section: SectionGrid) -> int:
    """Ticks between two clicks of a full bar."""
    full = BarHead(meter=head.meter, grouping=head.grouping)
    found = bar_clicks(full, section.timed.section.head.tempo.unit.ticks)
    return found[1][0] if len(found) > 1 else full.ticks
