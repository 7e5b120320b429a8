"""The bytes of a Standard MIDI File (Standard MIDI Files 1.0, RP-001), by mido's encoders.

Conventions
-----------
- A track is a list of ``Event``: MIDI tick, rank among those of one tick, and the encoded message.
- Texts are UTF-8. The standard asks for ASCII and allows other codes; names in ASCII are the same
  bytes either way, and a reader that takes the rest for Latin-1 shows odd letters but reads on.

Each message is made and checked by mido; equal ones are made once, because a lesson has a few
hundred different messages and tens of thousands of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from io import BytesIO
from operator import attrgetter
from struct import pack
from typing import Any, Final, NamedTuple

from chalkfret.model import QUARTER

LONGEST_DELTA: Final = 0x0FFFFFFF
_CHARSET: Final = "utf-8"

# Of one tick: what describes it, then what ends, what turns the pitch, and what begins.
META, OFF, CONTROL, ON = range(4)


class Event(NamedTuple):
    """One event of a track."""

    tick: int
    rank: int
    data: bytes


@lru_cache(maxsize=8192)
def message(kind: str, channel: int, **fields: int) -> bytes:
    """A channel message: ``message("note_on", 0, note=60, velocity=90)``."""
    from mido import Message

    return bytes(Message(kind, channel=channel, **fields).bytes())


@lru_cache(maxsize=8192)
def note_on(channel: int, note: int, velocity: int) -> bytes:
    """A note-on message."""
    return message("note_on", channel, note=note, velocity=velocity)


@lru_cache(maxsize=8192)
def note_off(channel: int, note: int) -> bytes:
    """A note-off message."""
    return message("note_off", channel, note=note, velocity=64)


def controller(channel: int, number: int, value: int) -> bytes:
    """A control change."""
    return message("control_change", channel, control=number, value=value)


def registered(channel: int, number: int, coarse: int, fine: int = 0) -> tuple[bytes, ...]:
    """A registered parameter (MIDI 1.0, RPN): chosen, set, and put away again."""
    values = ((101, 0), (100, number), (6, coarse), (38, fine), (101, 127), (100, 127))
    return tuple(controller(channel, *value) for value in values)


def meta(kind: str, **fields: Any) -> bytes:
    """A meta event: ``meta("marker", text="A")``."""
    from mido import MetaMessage
    from mido.midifiles.meta import meta_charset

    for name in fields.keys() & {"name", "text"}:
        fields[name] = fields[name].encode(_CHARSET, "replace").decode(_CHARSET)
    with meta_charset(_CHARSET):
        return bytes(MetaMessage(kind, **fields).bytes())


def file_bytes(tracks: Iterable[Iterable[Event]], end: int) -> bytes:
    """A file of format 1; every track ends at ``end``, or behind its last event."""
    from mido.midifiles.midifiles import write_chunk

    encoded = [_track(events, end) for events in tracks]
    out = BytesIO()
    write_chunk(out, b"MThd", pack(">HHH", 1, len(encoded), QUARTER))
    for data in encoded:
        write_chunk(out, b"MTrk", data)
    return out.getvalue()


def _track(events: Iterable[Event], end: int) -> bytes:
    out: list[bytes] = []
    now = 0
    for tick, _, data in sorted(events, key=attrgetter("tick", "rank")):
        if tick != now:
            out += _waited(tick - now)
            now = tick
        else:
            out.append(b"\0")
        out.append(data)
    out += _waited(max(0, end - now))
    out.append(meta("end_of_track"))
    return b"".join(out)


def _waited(ticks: int) -> list[bytes]:
    """The delta-time before an event; one too long for the standard is cut by empty texts."""
    out = []
    while ticks > LONGEST_DELTA:
        out += [delta(LONGEST_DELTA), meta("text", text="")]
        ticks -= LONGEST_DELTA
    return [*out, delta(ticks)]


@lru_cache(maxsize=8192)
def delta(ticks: int) -> bytes:
    """A delta-time as a variable-length quantity."""
    from mido.midifiles.meta import encode_variable_int

    return bytes(encode_variable_int(ticks))
