"""A lesson as a Standard MIDI File: notes with their bends, the tempo map, markers and a click.

One way through: timeline and attacks -> ``grid`` (where they stand in the file) -> ``playing`` (how
each sounds) -> ``channels`` (who shares one) -> ``conductor`` and ``tracks`` (events) -> ``smf``
(bytes, by mido's encoders). The whole file is made in memory.
"""

from __future__ import annotations

from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from chalkfret.files.midi.channels import one_at_a_time, share_out
from chalkfret.files.midi.conductor import conductor
from chalkfret.files.midi.grid import SLOWEST, Grid, grid
from chalkfret.files.midi.playing import play
from chalkfret.files.midi.smf import Event, file_bytes
from chalkfret.files.midi.tracks import click_track, part_tracks
from chalkfret.files.trouble import CannotWrite
from chalkfret.model import Fault, Lesson, Section, Where, fault
from chalkfret.timeline.attacks import attacks
from chalkfret.timeline.clicks import count_in
from chalkfret.timeline.clock import section_clock, timeline
from chalkfret.timeline.tempo import quarters_a_minute


class MidiOptions(Struct, frozen=True):
    """What is written. ``sections`` and ``parts`` are ids, none named: all.

    A click without notes keeps the tempo map, markers and cues, to record against.
    """

    sections: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    speed: float = 1.0  # 0.3 to 2
    click: bool = True
    notes: bool = True
    count_in: int = 0  # bars, at the tempo of what follows; they click even without a click


class MidiResult(Struct, frozen=True):
    """The file's bytes, and what it could not carry."""

    data: bytes
    remarks: tuple[Fault, ...] = ()


PLAIN: Final = MidiOptions()


def midi_bytes(lesson: Lesson, options: MidiOptions = PLAIN) -> MidiResult:
    """The lesson as a MIDI file of format 1.

    Raises CannotWrite where no such section or part exists, and where the tempo times the speed
    falls below 4 quarters a minute, which the format cannot hold.
    """
    chosen = _chosen(lesson, options)
    for section in chosen.sections:
        _refuse_too_slow(section, options.speed)
    parts = frozenset(options.parts or (part.id for part in chosen.parts))
    time = timeline(chosen)
    counted = count_in(time, options.count_in)
    where = grid(time, counted, options.speed)
    first, remarks = conductor(chosen, where, parts)
    tracks = [first]
    if options.notes:
        written, lost = _parts(chosen, where, parts)
        tracks += written
        remarks += lost
    if options.click or options.count_in:
        tracks.append(click_track(where, counted, through=options.click))
    return MidiResult(file_bytes(tracks, where.end), tuple(remarks))


def _chosen(lesson: Lesson, options: MidiOptions) -> Lesson:
    """The lesson with the wished sections only."""
    known = {section.id for section in lesson.sections} | {part.id for part in lesson.parts}
    for wished in (*options.sections, *options.parts):
        if wished not in known:
            raise CannotWrite(fault("export_unknown", id=wished))
    if not options.sections:
        return lesson
    kept = tuple(section for section in lesson.sections if section.id in options.sections)
    return replace(lesson, sections=kept)


def _refuse_too_slow(section: Section, speed: float) -> None:
    curve = section_clock(section).tempo
    slowest = quarters_a_minute(min(curve.start, curve.end)) * speed
    if slowest < SLOWEST:
        raise CannotWrite(
            fault(
                "midi_too_slow",
                Where(section=section.head.letter),
                tempo=round(slowest, 2),
                least=SLOWEST,
            )
        )


def _parts(
    lesson: Lesson, where: Grid, parts: frozenset[str]
) -> tuple[list[list[Event]], list[Fault]]:
    played, lost = play(lesson, where, attacks(lesson), parts)
    channels, unbent = share_out(lesson, played)
    played, merged = one_at_a_time(lesson, played, channels)
    chosen = [(index, part) for index, part in enumerate(lesson.parts) if part.id in parts]
    return part_tracks(chosen, played, channels, where), [*lost, *unbent, *merged]
