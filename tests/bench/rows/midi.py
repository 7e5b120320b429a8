"""Writing a long lesson as MIDI against mido building and saving the same messages."""

import io
import time

from mido import MidiFile, MidiTrack
from msgspec.structs import replace

from chalkfret.files.midi import midi_bytes
from chalkfret.model import Lesson, Tempo
from tests.bench.lessons import long_lesson

NAME = "MIDI of 50,000 messages / mido building and saving the same messages"
BUDGET = 1.5

_lesson = long_lesson(730)
_messages: list[list[tuple[type, dict]]] = []
_runs = 0


def prepare() -> None:
    written = MidiFile(file=io.BytesIO(midi_bytes(_lesson).data), charset="utf-8")
    _messages.extend([(type(each), each.dict()) for each in track] for track in written.tracks)
    assert sum(map(len, _messages)) >= 50_000


def measure() -> tuple[float, float]:
    lesson = _never_seen()
    began = time.perf_counter()
    midi_bytes(lesson)
    between = time.perf_counter()
    built = MidiFile(type=1, ticks_per_beat=5040, charset="utf-8")
    for track in _messages:
        built.tracks.append(MidiTrack(kind(**fields) for kind, fields in track))
    built.save(file=io.BytesIO())
    return between - began, time.perf_counter() - between


def _never_seen() -> Lesson:
    """The lesson a little faster each time, so that no clock or attack is remembered."""
    global _runs
    _runs += 1
    sections = [
        replace(each, head=replace(each.head, tempo=Tempo(each.head.tempo.start + _runs / 1000)))
        for each in _lesson.sections
    ]
    return replace(_lesson, sections=tuple(sections))
