"""A MIDI file as its reader hears it: mido's messages, in seconds by the file's own tempo map."""

from __future__ import annotations

import io
from bisect import bisect_right
from dataclasses import dataclass, field

from mido import MidiFile, MidiTrack, tick2second


@dataclass
class HeardNote:
    track: str
    channel: int
    number: int
    velocity: int
    on: int  # tick
    start_s: float
    bend: float  # semitones in force at the note-on, by the channel's range
    off: int = -1
    end_s: float = -1.0


@dataclass
class Heard:
    """What the file says. ``metas`` are those of the first track, with their ticks."""

    file: MidiFile
    tempos: list[tuple[int, int]] = field(default_factory=list)
    metas: list[tuple[int, object]] = field(default_factory=list)
    notes: list[HeardNote] = field(default_factory=list)
    bends: list[tuple[int, int, float]] = field(default_factory=list)  # tick, channel, semitones
    tracks: list[str] = field(default_factory=list)
    end: int = 0

    def seconds(self, tick: float) -> float:
        """Seconds of a tick: the sum of tempos that a reader makes."""
        place = bisect_right(self._ticks, tick) - 1
        at, tempo = self.tempos[place]
        return self._seconds[place] + tick2second(tick - at, self.file.ticks_per_beat, tempo)

    def finish(self) -> None:
        """Sum the tempo map up."""
        if not self.tempos or self.tempos[0][0]:
            self.tempos.insert(0, (0, 500_000))
        self._ticks = [tick for tick, _ in self.tempos]
        self._seconds = [0.0]
        for (tick, tempo), (after, _) in zip(self.tempos, self.tempos[1:], strict=False):
            gone = tick2second(after - tick, self.file.ticks_per_beat, tempo)
            self._seconds.append(self._seconds[-1] + gone)

    def texts(self, kind: str) -> list[tuple[int, str]]:
        """Ticks and texts of the first track's metas of a kind."""
        return [(tick, meta.text) for tick, meta in self.metas if meta.type == kind]

    def bar_lines(self) -> list[int]:
        """Ticks of all bar lines, as a reader draws them from the time signatures."""
        signs = [(t, m) for t, m in self.metas if m.type == "time_signature"]
        lines: list[int] = []
        for place, (tick, sign) in enumerate(signs):
            stop = signs[place + 1][0] if place + 1 < len(signs) else self.end
            bar = sign.numerator * 4 * self.file.ticks_per_beat // sign.denominator
            lines += range(tick, stop, bar)
        return lines


def heard(data: bytes) -> Heard:
    """Read a file."""
    file = MidiFile(file=io.BytesIO(data), charset="utf-8")
    out = Heard(file)
    for tick, message in _timed(file.tracks[0]):
        out.metas.append((tick, message))
        if message.type == "set_tempo":
            out.tempos.append((tick, message.tempo))
    out.finish()
    out.tracks = [track.name for track in file.tracks]
    events = [
        (tick, place, message)
        for place, track in enumerate(file.tracks)
        for tick, message in _timed(track)
    ]
    events.sort(key=lambda event: event[0])  # of one tick, track after track
    _play(out, events)
    out.notes.sort(key=lambda note: (note.on, note.channel, note.number))
    return out


def _timed(track: MidiTrack):
    tick = 0
    for message in track:
        tick += message.time
        yield tick, message


def _play(out: Heard, events) -> None:
    wheel: dict[int, int] = {}
    reach: dict[int, float] = {}
    chosen: dict[int, dict[int, int]] = {}
    sounding: dict[tuple[int, int], HeardNote] = {}
    for tick, place, message in events:
        out.end = max(out.end, tick)
        if message.type == "control_change":
            values = chosen.setdefault(message.channel, {})
            values[message.control] = message.value
            if message.control == 6 and values.get(101) == 0 and values.get(100) == 0:
                reach[message.channel] = message.value
        elif message.type == "pitchwheel":
            wheel[message.channel] = message.pitch
            turned = message.pitch / 8192 * reach.get(message.channel, 2)
            out.bends.append((tick, message.channel, turned))
        elif message.type == "note_on":
            key = (message.channel, message.note)
            assert key not in sounding, f"{key} begins again at {tick}"
            bend = wheel.get(message.channel, 0) / 8192 * reach.get(message.channel, 2)
            sounding[key] = HeardNote(
                out.tracks[place], *key, message.velocity, tick, out.seconds(tick), bend
            )
        elif message.type == "note_off":
            note = sounding.pop((message.channel, message.note))
            note.off, note.end_s = tick, out.seconds(tick)
            out.notes.append(note)
    assert not sounding, f"never end: {sounding}"
