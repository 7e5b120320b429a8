"""The byte rules of Standard MIDI Files 1.0 (MIDI Manufacturers Association, RP-001), walked.

Sections cited: "Header Chunks" (length 6, format, ntrks, division), "Track Chunks" (variable-length
quantities of at most four bytes, 0FFFFFFF), "Meta-Events" (lengths and values), and the rule that
tempo, meter and key of a format 1 file stand in its first track. Data bytes of channel messages are
below 80 hex (MIDI 1.0 Detailed Specification, "Data Types").
"""

from __future__ import annotations

from dataclasses import dataclass
from struct import unpack

_LENGTHS = {0x80: 2, 0x90: 2, 0xA0: 2, 0xB0: 2, 0xC0: 1, 0xD0: 1, 0xE0: 2}
_FIXED_METAS = {0x00: 2, 0x20: 1, 0x2F: 0, 0x51: 3, 0x54: 5, 0x58: 4, 0x59: 2}
_FIRST_TRACK_ONLY = {0x51, 0x58, 0x59}
END_OF_TRACK, TEMPO, METER, KEY = 0x2F, 0x51, 0x58, 0x59


@dataclass
class RawEvent:
    tick: int
    status: int
    data: bytes
    meta: int | None = None


class BadMidiError(AssertionError):
    """A rule that the bytes break."""


def rule(good: bool, text: str) -> None:
    if not good:
        raise BadMidiError(text)


def walk(data: bytes) -> list[list[RawEvent]]:
    """All tracks of a file of format 1; raises BadMidiError with the rule that is broken."""
    rule(data[:4] == b"MThd", "a file begins with MThd")
    length, kind, count, division = unpack(">IHHH", data[4:14])
    rule(length == 6, "a header is six bytes long")
    rule(kind == 1, "format 1")
    rule(0 < division < 0x8000, "a division in ticks a quarter has bit 15 clear")
    place, tracks = 14, []
    while place < len(data):
        rule(data[place : place + 4] == b"MTrk", f"a track begins at {place}")
        (size,) = unpack(">I", data[place + 4 : place + 8])
        body = data[place + 8 : place + 8 + size]
        rule(len(body) == size, "a track is as long as it says")
        tracks.append(_track(body, first=not tracks))
        place += 8 + size
    rule(len(tracks) == count, "as many tracks as the header says")
    return tracks


def _quantity(body: bytes, place: int) -> tuple[int, int]:
    value = 0
    for index in range(4):
        byte = body[place + index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            rule(index == 0 or value >= 1 << 7 * index, "a quantity in as few bytes as can be")
            return value, place + index + 1
    raise BadMidiError("a variable-length quantity has at most four bytes")


def _track(body: bytes, *, first: bool) -> list[RawEvent]:
    events: list[RawEvent] = []
    place = tick = 0
    running: int | None = None
    while place < len(body):
        rule(not events or events[-1].meta != END_OF_TRACK, "nothing follows the end of a track")
        delta, place = _quantity(body, place)
        tick += delta
        status = body[place]
        if status == 0xFF:
            event, place = _meta(body, place, tick, first=first)
            running = None
        else:
            rule(status < 0xF0, "no system message stands in these files")
            if status < 0x80:
                rule(running is not None, "running status follows a channel message only")
                assert running is not None
                status = running
            else:
                place += 1
            running = status
            size = _LENGTHS[status & 0xF0]
            data = body[place : place + size]
            rule(len(data) == size and max(data) < 0x80, f"data bytes are below 80: {data.hex()}")
            event, place = RawEvent(tick, status, data), place + size
        events.append(event)
    rule(bool(events) and events[-1].meta == END_OF_TRACK, "a track ends with its end")
    return events


def _meta(body: bytes, place: int, tick: int, *, first: bool) -> tuple[RawEvent, int]:
    kind = body[place + 1]
    rule(kind < 0x80, "a meta type is below 80")
    size, place = _quantity(body, place + 2)
    data = body[place : place + size]
    rule(len(data) == size, "a meta event is as long as it says")
    rule(_FIXED_METAS.get(kind, size) == size, f"length of meta {kind:02x}")
    rule(first or kind not in _FIRST_TRACK_ONLY, "tempo, meter and key stand in the first track")
    if kind == TEMPO:
        rule(int.from_bytes(data) > 0, "a tempo takes time")
    if kind == METER:
        rule(data[0] > 0 and data[1] <= 6 and data[2] > 0 and data[3] == 8, f"meter {data.hex()}")
    if kind == KEY:
        sharps = data[0] - 256 if data[0] > 127 else data[0]
        rule(-7 <= sharps <= 7 and data[1] in (0, 1), f"key {data.hex()}")
    return RawEvent(tick, 0xFF, data, kind), place + size
